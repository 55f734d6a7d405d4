"""What each kind of screw is: what it joins, gauge and length, from where it is driven, and what it is there for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from crownwright.codes.ps_20 import board
from crownwright.form.frame import SMALL, Frame
from crownwright.form.hanging import GAUGE, LONG
from crownwright.quantity.units import INCH

SHELF = (2.0, 2.5, 3.0, 3.5, 4.0, 5.0, 6.0)
"""Lengths on the shelf, in."""


@dataclass(frozen=True, slots=True)
class ScrewKind:
    """One kind: see `ScrewLine`, whose fields these are."""

    joint: str
    gauge: int
    length: float
    driven: Literal["from outside", "from below", "from inside"]
    greased: bool
    why: str


def screw_kinds(frame: Frame) -> dict[str, ScrewKind]:
    """Every kind by its place, in the order of building."""
    wall, soffit, small = frame.wall.thickness, board(frame.soffits[0].section).thickness, SMALL.thickness
    out = max((s.sticks_out for s, n in zip(frame.soffits, frame.kickers, strict=True) if n), default=0.0)
    moulding = frame.cap.drip.size if frame.cap.drip else 0.0
    return {
        "block": _outside("lap leg to the edge of the butt leg", 3 * INCH, "holds the L"),
        "on block": _outside(
            "up through the block's face into the soffit board", 2.5 * INCH, "keeps the board in place; it bears"
        ),
        "joint cleat": _below(
            "cleat to both soffit boards", 8, _whole(small + soffit * 2 / 3), "holds the butt level and closed"
        ),
        "wall foot": _below(
            "soffit board into the sidewall's bottom edge", 8, _whole(2 * soffit), "holds the thrust, in side grain"
        ),
        "wall corner": _outside(
            "sidewall into the end of the next", _whole(2 * wall), "keeps it closed; in end grain, holds no pull"
        ),
        "corner cleat": ScrewKind(  # a No. 10 would not bite the six diameters that the code asks of one pushed sideways
            "horn and wall to the cleat", 8, _whole(wall + small * 2 / 3), "from outside", True, "holds the corner, in side grain"
        ),
        "quarter-round": _below("soffit board into the moulding", 6, _floor(soffit + 0.75 * moulding), "lets the moulding go"),
        "mitre": ScrewKind(
            "first and last moulding at their mitre",
            6,
            _floor(soffit + 0.75 * moulding),
            "from inside",
            False,
            "keeps the first moulding up when its board goes; stays in",
        ),
        "kicker": _outside("kicker to soffit board's edge and wall", _whole(small + out + INCH), "holds the middle of the wall"),
        "rail": _outside("rail to the blocks", 3 * INCH, "carries the soffit board between the blocks"),
        "hang line": ScrewKind(
            "left standing out of the sidewall for its hang line",
            GAUGE,
            LONG,
            "from outside",
            False,
            "holds the form up while it comes off",
        ),
    }


def _outside(joint: str, length: float, why: str) -> ScrewKind:
    return ScrewKind(joint, 10, length, "from outside", joint.startswith(("sidewall", "horn")), why)


def _below(joint: str, gauge: int, length: float, why: str) -> ScrewKind:
    return ScrewKind(joint, gauge, length, "from below", True, why)


def _whole(least: float) -> float:
    return next(x for x in SHELF if x * INCH >= least - 1e-9) * INCH


def _floor(most: float) -> float:
    """Longest screw on the shelf that does not come through."""
    shelf = (1.0, 1.25, 1.5, 1.75, *SHELF)
    return max((x for x in shelf if x * INCH <= most + 1e-9), default=1.0) * INCH
