"""Taking the old cap off: how much there is of it, what it weighs, what that takes in hours and at the tip."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

import numpy as np

from crownwright.codes.unit_weights import Material, material
from crownwright.price.choices import OldCap
from crownwright.price.takeoff import Want
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.working import DERIVED, ENTERED, Figure, Term
from crownwright.survey.model import Survey

THICKNESS_SD = 0.20
"""Relative standard error of a thickness told before the cap is off: it is seen at the edge only (judgement)."""
SIDE_SD = 0.02
"""Relative standard error of an area of taped sides (judgement)."""


@dataclass(frozen=True, slots=True)
class Removal:
    """What comes off: ``volume`` m3 and ``mass`` kg with their spread; ``hauled`` kg that goes to the tip; the figures."""

    volume: Uncertain
    mass: Uncertain
    hauled: float
    figures: tuple[Figure, ...]


def removal_of(old: OldCap, survey: Survey | None) -> Removal | None:
    """Return what taking the old cap off comes to; None where neither the survey nor the mason tells its size.

    V = (L W - flues) t s, m = V rho; the flues' outsides are not cap. KeyError for a material that is not in the table.
    """
    area, inputs = _area(old, survey)
    if area <= 0 or old.thickness <= 0 or old.share <= 0:
        return None
    of, flues = material(old.material), _flues(survey)
    net = max(area - flues, 0.0)
    volume = Uncertain(net * old.thickness * old.share, net * old.thickness * old.share * hypot(THICKNESS_SD, SIDE_SD))
    rho_sd = max((of.high - of.low) / 4, 0.05 * of.usual)
    mass = Uncertain(volume.mean * of.usual, hypot(volume.sd * of.usual, volume.mean * rho_sd))
    figures = (_volume_figure(old, volume, inputs, flues), _mass_figure(old, of, volume, mass))
    return Removal(volume, mass, mass.mean if old.lower else 0.0, figures)


def removal_wants(removal: Removal) -> tuple[Want, ...]:
    """Return what the tip asks for: a haul, and the weight."""
    if removal.hauled <= 0:
        return ()
    why = "hauling the old cap off"
    return (
        Want("disposal", 1, "1", ("price.old_cap.haul",), why),
        Want("disposal weight", removal.hauled, "kg", ("price.old_cap.mass",), why),
    )


def removal_counts(removal: Removal) -> dict[str, tuple[float, str]]:
    """Return what the tasks of taking it off are counted by."""
    return {
        "old cap cubic metres": (removal.volume.mean, "price.old_cap.volume"),
        "old cap kg": (removal.hauled, "price.old_cap.mass"),
    }


def _area(old: OldCap, survey: Survey | None) -> tuple[float, tuple[Term, ...]]:
    if old.length is not None and old.width is not None:
        told = (Term("L", "its length", old.length, "m", ENTERED), Term("W", "its width", old.width, "m", ENTERED))
        return old.length * old.width, told
    if survey is None:
        return 0.0, ()
    area = survey.outline.area.mean
    return area, (Term("A", "the stone's own area, as surveyed", area, "m2"),)


def _flues(survey: Survey | None) -> float:
    return sum(_ring_area(flue.ring) for flue in survey.flues) if survey is not None else 0.0


def _ring_area(ring: object) -> float:
    """Area inside a ring of points, by the shoelace formula."""
    x, y = np.asarray(ring, float).T
    return float(abs(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2)


def _volume_figure(old: OldCap, volume: Uncertain, inputs: tuple[Term, ...], flues: float) -> Figure:
    terms = (
        *inputs,
        Term("F", "flues standing in it", flues, "m2"),
        Term("t", "its thickness", old.thickness, "m", ENTERED),
        Term("s", "share taken off", old.share, "1", ENTERED),
    )
    formula = "(L W - F) t s" if len(inputs) == 2 else "(A - F) t s"
    holds = f"thickness is seen at the edge only: give or take {THICKNESS_SD:.0%} until it is off (judgement)"
    return Figure(
        "price.old_cap.volume", "old cap to take off", volume.mean, "m3", formula, terms, DERIVED, holds, spread=volume.sd
    )


def _mass_figure(old: OldCap, of: Material, volume: Uncertain, mass: Uncertain) -> Figure:
    terms = (Term("V", "old cap to take off", volume.mean, "m3"), Term("rho", old.material, of.usual, "kg/m3", of.cite))
    return Figure("price.old_cap.mass", "weight of the old cap", mass.mean, "kg", "V rho", terms, DERIVED, spread=mass.sd)
