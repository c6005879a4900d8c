"""Where modules may be imported from: never the folder a program is started in, where hand-ins may lie.

``python -m`` puts that folder in front of all others, and so does an empty entry of PYTHONPATH.
"""

import os
import sys

_HOME = os.path.dirname(
    os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
)
"""The folder in which this package lies."""


def trusted_path() -> list[str]:
    """``sys.path`` without the current folder, and without entries that change with it.

    Where the package itself lies there, that folder comes last, behind all that is installed.
    """
    here = os.path.realpath(os.curdir)
    kept = [each for each in sys.path if os.path.isabs(each) and os.path.realpath(each) != here]
    return kept if _HOME in kept else [*kept, _HOME]
