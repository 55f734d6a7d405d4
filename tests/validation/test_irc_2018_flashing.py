"""International Residential Code, R903.2.1 and R905.2.8.3: flashing where a roof meets a wall.

0.019 in. of metal (No. 26 galvanized sheet): read in a quotation of the 2000 edition. 4 in. up and 4 in. over: from memory.
"""

from __future__ import annotations

from crownwright.codes import irc_2018_flashing
from crownwright.codes.flashing_metals import metals
from crownwright.quantity.units import INCH


def test_limits(theirs):
    theirs("thickness of metal, at least", 0.019, irc_2018_flashing.THINNEST / INCH, unit="in.", tol=1e-12, place="R903.2.1")
    for what, ours in (("up the wall", irc_2018_flashing.STEP_HIGH), ("over the roof", irc_2018_flashing.STEP_WIDE)):
        theirs(f"step flashing {what}, at least", 4, ours / INCH, unit="in.", tol=1e-12, place="R905.2.8.3", grade="from memory")


def test_metals_but_stainless_steel_are_held_to_it():
    assert {m.least for m in metals().values() if "stainless" not in m.name} == {irc_2018_flashing.THINNEST}
