"""NFPA 211 (2019), Chimneys, Fireplaces, Vents, and Solid Fuel-Burning Appliances: levels of inspection."""

from __future__ import annotations

import pytest

from crownwright.codes.nfpa_211_levels import ASKS, level

ONE = {"faces": "from the ground", "flue inside": "close to", "appliance": "close to"}
TWO = {
    "cap": "close to", "faces": "by hand", "flue tops": "close to", "flue inside": "by camera", "appliance": "by hand",
    "attic": "close to", "crawl space": "not there", "basement": "close to",
}  # fmt: skip


@pytest.mark.parametrize(
    ("says", "looked", "reached"),
    [
        ("nothing", {}, 0),
        (
            "a mason's visit to the top: part of level 2, no whole level",
            {"cap": "by hand", "faces": "by hand", "flue tops": "by hand"},
            0,
        ),
        ("outside, flue and appliance", ONE, 1),
        ("with attic, basement and a camera in the flue", TWO, 2),
        ("the same without the camera", {**TWO, "flue inside": "close to"}, 1),
        ("the same with concealed parts opened", {**TWO, "concealed parts": "opened up"}, 3),
        ("concealed parts opened, but nothing else", {"concealed parts": "opened up"}, 0),
    ],
)
def test_level_reached(theirs, says, looked, reached):
    theirs(says, reached, level(looked).reached, tol=0, place="levels of inspection")


def test_each_level_takes_in_the_one_before():
    for left_out in ASKS[2]:
        less = {part: how for part, how in TWO.items() if part != left_out}
        assert level(less).reached < 2
        assert left_out in level(less).wants or level(less).reached == 0
