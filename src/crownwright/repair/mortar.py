"""Mortar for repair: its type from the wall's hardness and exposure, and what goes into it."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from crownwright.codes.astm_c270 import BAG, LIME_BAG, Batch, batch, bulk, grid, mortar_types
from crownwright.codes.nps_pb2 import suggested, table
from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import FT3
from crownwright.quantity.working import Cite, Figure
from crownwright.repair.model import Material
from crownwright.repair.record import Exposure, Hardness
from crownwright.repair.tell import figure, times

BAGGED = ("S", "N")
"""Types that are sold in bags, ready mixed dry (common practice)."""


@dataclass(frozen=True, slots=True)
class Bag:
    """A bag of mortar ready mixed: its ``name`` as sold and what it makes, m3, with its spread."""

    name: str
    yields: Uncertain


USUAL_BAG = Bag("80 lb", Uncertain(0.69 * FT3, 0.02 * FT3))
"""0.65 to 0.73 ft3 printed, and by absolute volumes."""
BAG_CITE = Cite("mortar_labels")
YIELD_SD = 0.10
"""Relative spread of a yield by absolute volumes (from memory: about ten per cent either way)."""
RISK = 0.02
"""Chance accepted of running short of mortar, as with the concrete."""
STRAIGHT_LIME = 3.0
"""Parts of sand to one of hydrated lime in mortar without cement, by volume (common practice)."""
MORTAR_OVER_SAND = 0.9
"""Mortar over the sand in it, by volume."""
USUAL = "N"
_STRONGEST_FIRST = ("M", "S", "N", "O", "K", "L")


@dataclass(frozen=True, slots=True)
class MortarChoice:
    """The type taken, what the brief suggests (None where hardness is not told), why, and the findings on it."""

    name: str
    suggested: str | None
    why: str
    findings: tuple[Finding, ...]


def choose_mortar(where: str, fixed: str, hardness: Hardness | None, exposure: Exposure) -> MortarChoice:
    """Choose the mortar: fixed by hand, else by the preservation brief, else type N; ``where`` begins the findings' keys.

    The brief wants mortar softer than the units; the standard's guide keeps type O from masonry that freezes wet. On a soft stack
    that is severely exposed they disagree, and both are told.
    """
    fixed = fixed if fixed in _STRONGEST_FIRST else ""  # the check tells of an unknown type
    wanted = None if hardness is None else suggested(hardness, exposure)
    name = fixed or wanted or USUAL
    why = "fixed by hand" if fixed else f"{hardness} units, {exposure} exposure" if wanted else "hardness of the units not told"
    found: list[Finding] = []
    brief, guide = table("exposures").cite, grid("selection").cite
    subject = f"mortar type {name}"
    if wanted is None:
        act = "Scratch a unit with a steel nail where it does not show, and tell hard, medium or soft"
        found.append(Finding(f"{where}.hardness", "mortar no harder than the units", brief, subject, Verdict.CANNOT_TELL, act))
    elif _harder(name, wanted):
        act = f"Take type {wanted}: mortar harder than the stone makes the stone the joint that gives, and its face bursts"
        found.append(Finding(f"{where}.hard", "mortar no harder than the units", brief, subject, Verdict.SHORT, act))
    else:
        found.append(Finding(f"{where}.hard", "mortar no harder than the units", brief, subject, Verdict.OK))
    if _harder("N", name) and exposure != "sheltered":
        act = "Keep it under the cap's drip and off level faces, or take type N and accept that it is harder than the brief wants"
        rule = "type O or softer only where masonry is not frozen while wet"
        found.append(Finding(f"{where}.frost", rule, guide, subject, Verdict.CANNOT_TELL, act))
    return MortarChoice(name, wanted, why, tuple(found))


def choose_laying_mortar(where: str, fixed: str, hardness: Hardness | None) -> MortarChoice:
    """Choose the mortar that courses at the top of a stack are laid in: fixed by hand, else what the standard's guide names for a
    parapet (N), which stands as open to weather. Where the brief would have it softer, both are told.
    """
    guide, fixed = grid("selection"), fixed if fixed in _STRONGEST_FIRST else ""
    name = fixed or str(guide.cell("parapet", "recommended"))
    why = "fixed by hand" if fixed else "as for a parapet"
    wanted = None if hardness is None else suggested(hardness, "severe")
    subject, rule = f"mortar type {name}", "mortar to lay courses that freeze wet"
    if _harder("N", name):
        act = f"Take type {USUAL}, or keep type {name} off the top courses"
        return MortarChoice(name, wanted, why, (Finding(f"{where}.frost", rule, guide.cite, subject, Verdict.SHORT, act),))
    found = [Finding(f"{where}.frost", rule, guide.cite, subject, Verdict.OK)]
    if wanted is not None and _harder(name, wanted):
        act = (
            f"The brief would lay such units in type {wanted}: ask who looks after old buildings there, or keep hard units on top"
        )
        brief = table("exposures").cite
        found.append(Finding(f"{where}.hard", "mortar no harder than the units", brief, subject, Verdict.CANNOT_TELL, act))
    return MortarChoice(name, wanted, why, tuple(found))


def _harder(one: str, other: str) -> bool:
    return _STRONGEST_FIRST.index(one) < _STRONGEST_FIRST.index(other)


def mix_of(name: str) -> tuple[float, float] | None:
    """Parts of lime and of sand to one of cement, by volume; None for lime and sand without cement."""
    if name == "L":
        return None
    kind = mortar_types()[name]
    return kind.lime, kind.sand


@dataclass(frozen=True, slots=True)
class Order:
    """What is bought for a volume of mortar: ``bags`` ready mixed (0 where mixed on site), or ``cement`` kg, ``lime`` kg and
    ``sand`` m3; for the stated risk of running short.
    """

    name: str
    volume: Uncertain
    bags: int
    cement: float
    lime: float
    sand: float
    figures: tuple[Figure, ...]
    materials: tuple[Material, ...]


def order_mortar(key: str, label: str, name: str, volume: Uncertain, waste: float, bag: Bag = USUAL_BAG) -> Order:
    """Return what to buy for so much mortar in place (m3), ``waste`` the share lost of what is mixed.

    N and S come in bags; O, K and straight lime are mixed on site from cement, hydrated lime and sand. Figures hang under
    ``key``.
    """
    mixed = times(volume, 1 / (1 - waste))
    lost = ("w", "share lost", waste, "1")
    shown = figure(
        f"{key}.mixed", f"{label}: mortar to mix", mixed, "m3", "V/(1 - w)", ("V", "in place", volume.mean, "m3"), lost
    )
    made = _bagged(key, label, name, mixed, bag) if name in BAGGED else _on_site(key, label, name, mixed)
    return Order(name, volume, *made[:4], (shown, *made[4]), made[5])


_Made = tuple[int, float, float, float, tuple[Figure, ...], tuple[Material, ...]]


def _bagged(key: str, label: str, name: str, mixed: Uncertain, bag: Bag) -> _Made:
    need = times(mixed, Uncertain(1 / bag.yields.mean, bag.yields.sd / bag.yields.mean**2))
    bags = ceil(need.quantile(1 - RISK) - 1e-9)
    terms = (("V", "mortar to mix", mixed.mean, "m3"), ("y", f"made by a bag of {bag.name}", bag.yields.mean, "m3", BAG_CITE))
    risk = ("r", "chance accepted of running short", RISK, "1")
    figures = (
        figure(f"{key}.bags_needed", f"{label}: bags that will go in", need, "1", "V/y", *terms),
        figure(
            f"{key}.bags",
            f"{label}: bags of {bag.name}, type {name}, to buy",
            float(bags),
            "1",
            "whole bags, short once in 1/r",
            risk,
        ),
    )
    what = f"bag of mortar, {bag.name}, type {name}"
    line = Material(f"mortar {bag.name}", what, float(bags), "1", f"{key}.bags", label, need.sd)
    return bags, 0.0, 0.0, 0.0, figures, (line,)


def _on_site(key: str, label: str, name: str, mixed: Uncertain) -> _Made:
    need = Uncertain(mixed.mean, (mixed.sd**2 + (YIELD_SD * mixed.mean) ** 2) ** 0.5)
    volume = need.quantile(1 - RISK)
    mix = mix_of(name)
    if mix is None:
        sand = volume / MORTAR_OVER_SAND
        return _lines(key, label, name, 0.0, sand / STRAIGHT_LIME * bulk("hydrated lime"), sand, volume, None)
    made = batch(*mix)
    count = volume / made.volume
    return _lines(key, label, name, count * BAG, count * made.lime, count * made.sand, volume, made)


def _lines(key: str, label: str, name: str, cement: float, lime: float, sand: float, volume: float, made: Batch | None) -> _Made:
    terms: list[tuple[str, str, float | str, str]] = [("V", "mortar to mix, with its risk", volume, "m3")]
    formula = "sand = V/0.9, lime a third of it" if made is None else "V over what a bag of cement makes, by absolute volumes"
    if made is not None:
        terms.append(("y", f"made by a 94 lb bag of cement, type {name}", made.volume, "m3"))
    source = grid("proportions").cite
    figures = [
        figure(f"{key}.{part}", f"{label}: {says}", amount, unit, formula, *terms, cite=source)
        for part, says, amount, unit in (
            ("cement", "portland cement", cement, "kg"),
            ("lime", "hydrated lime", lime, "kg"),
            ("sand", "mortar sand, damp and loose", sand, "m3"),
        )
        if amount > 0
    ]
    rows = (
        ("portland", f"portland cement for type {name}", cement, "kg", "cement"),
        ("hydrated lime", f"hydrated lime for type {name}", lime, "kg", "lime"),
        ("mortar sand", f"sand for type {name}", sand, "m3", "sand"),
    )
    lines = tuple(
        Material(own, what, amount, unit, f"{key}.{part}", label, YIELD_SD * amount)
        for own, what, amount, unit, part in rows
        if amount > 0
    )
    return 0, cement, lime, sand, tuple(figures), lines


def lime_bags(lime: float) -> int:
    """Whole 50 lb bags of hydrated lime, by mass in kg.

    >>> from crownwright.quantity.units import LB
    >>> lime_bags(60 * LB)
    2
    """
    return ceil(lime / LIME_BAG - 1e-9)
