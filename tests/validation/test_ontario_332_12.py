"""Ontario Regulation 332/12, article 9.21."""

from __future__ import annotations

import pytest

from crownwright.codes.cap_rules import rule


@pytest.mark.parametrize(
    ("name", "end", "millimetres"),
    [
        ("drip_from_wall", "at_least", 25),
        ("liner_proud", "at_least", 50),
        ("liner_proud", "at_most", 100),
        ("height_at_roof", "at_least", 900),
        ("height_above_near", "at_least", 600),
        ("height_reach", "at_least", 3000),
        ("brace_free_height", "at_most", 3600),
        ("brace_free_side", "at_least", 400),
        ("wythe_between_flues", "at_least", 70),
    ],
)
def test_rules(theirs, name, end, millimetres):
    one = rule("ontario_332_12", name)
    theirs(
        f"{one.says} ({end.replace('_', ' ')})", millimetres, 1000 * getattr(one, end), unit="mm", tol=1e-9, place=one.cite.clause
    )
