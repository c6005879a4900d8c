"""The sentence a call is refused with."""

import pytest

from labkit.errors import LabError


def refusal(call, *given, **named) -> str:
    """What ``call`` says when it refuses; the test fails when it does not."""
    with pytest.raises(LabError) as caught:
        call(*given, **named)
    return str(caught.value)
