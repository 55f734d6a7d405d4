"""What is told of the drip: whether groove, setback and lip have room in the overhang, and what would make room."""

from __future__ import annotations

import numpy as np

from crownwright.cap.choices import CapChoices
from crownwright.cap.tell.worked import Worked
from crownwright.cap.words import say, say_at_least
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.units import INCH
from crownwright.quantity.working import DERIVED, PRACTICE, Cite, Figure, Term

MOULDINGS = tuple(x * INCH for x in (0.25, 0.375, 0.5, 0.625, 0.75, 1.0))
"""Legs of quarter-round on the rack (from memory; mills differ)."""
SETBACK = Cite("astm_c1283", "8.2")
_ADD = "Nail a quarter-round to the soffit boards: without a drip the water runs back along the soffit to the wall."


def findings(worked: Worked) -> tuple[Finding, ...]:
    """Side by side, the setback left when the lip and the groove have their room."""
    drip, choices = worked.drip, worked.choices
    if drip is None:
        subject = "underside of the overhang"
        return (
            compare("cap.drip", "a drip under the overhang", SETBACK, subject, 0.0, at_least=INCH / 4, unit="m", action=_ADD),
        )
    rule = "proudest stone to the drip groove, with the lip kept outside it"
    groove = f"groove {say(drip.size)} wide, lip {say(drip.lip)}"
    return tuple(
        compare(
            f"cap.drip.{side.name}",
            rule,
            SETBACK,
            f"side {side.name}, {groove}",
            setback,
            at_least=choices.drip_setback,
            unit="m",
            action=_cure(side.sure, choices),
        )
        for side, setback in zip(worked.fit.sides, drip.setback, strict=True)
    )


def _cure(sure: float, choices: CapChoices) -> str:
    short = choices.drip_setback + choices.drip_size + choices.drip_lip - sure
    room = sure - choices.drip_setback - choices.drip_lip
    fits = [size for size in MOULDINGS if size <= room + 1e-9]
    smaller = f"or take a {say(fits[-1])} quarter-round" if fits else "no quarter-round is small enough"
    return f"Widen the overhang on this side by {say_at_least(max(short, 0.0))}, {smaller}."


def figures(worked: Worked) -> tuple[Figure, ...]:
    """The overhang it needs, its setback, length and volume."""
    drip, choices = worked.drip, worked.choices
    if drip is None:
        return ()
    length = float(np.linalg.norm(np.roll(drip.line, -1, axis=0) - drip.line, axis=1).sum())
    lip = Term("lip", "concrete outside the groove", drip.lip, "m", PRACTICE)
    leg = Term("r", "leg of the quarter-round", drip.size, "m", PRACTICE)
    setback = Term("setback", "proudest stone to the groove", choices.drip_setback, "m", SETBACK)
    needs = choices.drip_setback + drip.size + drip.lip
    disc = "pi r^2 / 4 x path of the quarter disc's centre of gravity (4 r / 3 pi from its flat)"
    return (
        Figure("cap.drip.needs", "overhang that the drip needs", needs, "m", "setback + r + lip", (setback, leg, lip), DERIVED),
        Figure(
            "cap.drip.setback",
            "proudest stone to the groove, least of the sides",
            min(drip.setback),
            "m",
            "overhang - r - lip",
            (Term("overhang", "overhang kept, least of the sides", min(s.sure for s in worked.fit.sides), "m"), leg, lip),
        ),
        Figure(
            "cap.drip.length", "quarter-round in place, on its centre line", length, "m", "sum of the sides, mitred", (leg, lip)
        ),
        Figure(
            "cap.drip.volume",
            "concrete that the groove saves",
            worked.parts.drip,
            "m3",
            disc,
            (leg,),
            holds="flat side inward, mitred corners",
        ),
    )
