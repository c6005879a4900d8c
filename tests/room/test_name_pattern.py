"""What the pattern of a file's name may be: one rule for the room file, for making and for reading names."""

import pytest

from labkit.room.name_pattern import name_template
from tests.geometry.refused import refusal


def test_fixed_text_stands_before_each_field_and_behind_the_last():
    assert name_template("print_{sheet}_{owner} by_{title}!") == [
        ("print_", "sheet"),
        ("_", "owner"),
        (" by_", "title"),
        ("!", ""),
    ]


@pytest.mark.parametrize(
    ("pattern", "told"),
    [
        ("{owner}_{title}", "must have {sheet} once"),
        ("{owner}_{title}_{title}", "must have {title} once"),
        ("", "must have {owner} once"),
        ("{owner", "has a brace without its partner"),
        ("{who}_{title}_{sheet}", "has {who}, which nobody can fill in"),
        ("{owner!r}_{title}_{sheet}", "has {owner}, which nobody can fill in"),
        *(
            (f"{{owner}}_{{title}}{sign}_{{sheet}}", f"has {sign!r}, which does not belong in")
            for sign in '/\\:?*|<>".\t\0\u0301'
        ),
        *(
            (pattern, "needs an underscore between its parts, and no space or hyphen at its ends")
            for pattern in (
                "{owner}-{title}_{sheet}",
                "{owner}{title}_{sheet}",
                "{owner}_{title}by{sheet}",
                "-{owner}_{title}_{sheet}",
                "{owner}_{title}_{sheet} ",
                " {owner}_{title}_{sheet}",
            )
        ),
    ],
)
def test_what_cannot_be_used_is_refused_in_one_sentence(pattern, told):
    assert refusal(name_template, pattern).startswith(f"the name pattern “{pattern}” {told}")
    assert refusal(name_template, pattern, "“name_pattern”").startswith(f"“name_pattern” {told}")
