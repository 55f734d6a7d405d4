"""Water repellent on the faces: how much, of what kind, when; and what it will not cure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from crownwright.quantity.findings import Finding, Verdict, compare
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import DAY, FT2, GALLON, INCH, celsius
from crownwright.quantity.working import PRACTICE, Cite, Figure
from crownwright.repair.choices import RepellentChoices
from crownwright.repair.model import After, Material, Task
from crownwright.repair.tell import figure, times

BIA = Cite("bia_tn6a_2008", "summary of recommendations")
WARM = Cite("mc_repellents", "rule of thumb on temperature")
COLDEST, HOTTEST = celsius(50.0), celsius(90.0)
"""degC of the air: 50 to 90 F, a rule of thumb (Masonry Construction)."""
PERMEABILITY = 0.98
"""Least permeability of a breathable coating, as BIA Technical Notes 6A tells it for ASTM E96."""
BRIDGED = 0.02 * INCH
"""Widest crack that a penetrant may still keep water out of, m (from memory of the same notes; treat as a guide)."""
COVERAGE = {"brick": (100.0, 25.0), "soft brick": (75.0, 20.0), "stone": (125.0, 40.0)}
"""ft2 a gallon for all coats together, and its spread: common practice, no source; the label of what is bought goes before it."""
RATE = 0.08
"""People-hours a m2, masking and rinsing counted in (a judgement, spread 40 %)."""

NOT_CURED = (
    "a leaking cap, wash or flue joint",
    "open joints, loose units, cracks wider than about 0.02 in.",
    "flashing that has failed, or is missing, and a missing cricket",
    "water that condenses inside a flue",
    "masonry that is wet from below or behind; salts must be found out and dried first",
)
"""What a repellent does not cure (Technical Notes 6A: correct what lets water in before coating)."""


@dataclass(frozen=True, slots=True)
class Repellent:
    """How much goes on what: ``area`` of the faces m2, ``volume`` to buy m3."""

    choices: RepellentChoices
    area: Uncertain
    volume: Uncertain
    materials: tuple[Material, ...]
    tasks: tuple[Task, ...]
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]
    will_not_cure: tuple[str, ...] = NOT_CURED


def plan_repellent(
    perimeter: Uncertain,
    height: float,
    surface: str,
    choices: RepellentChoices,
    *,
    widest_crack: float | None = None,
    wet: bool = False,
) -> Repellent:
    """Plan a repellent for faces ``perimeter`` round and ``height`` high (m); ``surface`` one of `COVERAGE`.

    ``widest_crack`` found in the faces, m; ``wet`` when salts or damp were found on them. KeyError for an unknown surface.
    """
    area = times(perimeter, height)
    cover = _coverage(surface, choices)
    volume = times(area, 1 + choices.waste, Uncertain(1 / cover.mean, cover.sd / cover.mean**2))
    work = Uncertain(RATE * area.mean, 0.4 * RATE * area.mean)
    cures = choices.after_days * DAY
    why = "the mortar cures and dries: alkali and water spoil a repellent"
    after = tuple(After(task, cures, why, PRACTICE) for task in ("rebuild", "repoint", "replace units"))
    flashed = After("counterflash", DAY, "sealant sticks to bare masonry only", PRACTICE)
    key = "repair.repellent."
    buy = Material(
        "water repellent", f"breathable {choices.kind}", volume.mean, "m3", key + "volume", "the faces above the roof", volume.sd
    )
    task = Task(
        "repellent", "put on the water repellent", area.mean, "m2", key + "area", work, "helper",
        after=(*after, flashed), coldest=COLDEST, hottest=HOTTEST,
    )  # fmt: skip
    figures = tuple(_figures(perimeter, height, area, cover, volume, choices))
    return Repellent(choices, area, volume, (buy,), (task,), tuple(_findings(choices, widest_crack, wet)), figures)


def _coverage(surface: str, choices: RepellentChoices) -> Uncertain:
    """m2 a m3."""
    if surface not in COVERAGE:
        raise KeyError(f"no surface {surface!r}; there are: {', '.join(COVERAGE)}")
    if choices.coverage is not None:
        return Uncertain(choices.coverage)
    mean, sd = COVERAGE[surface]
    return Uncertain(mean * FT2 / GALLON, sd * FT2 / GALLON)


def _findings(choices: RepellentChoices, crack: float | None, wet: bool) -> Iterator[Finding]:
    key = "repair.repellent."
    act = "Take one that breathes: what goes in behind must be able to dry out"
    if choices.kind == "film":
        yield Finding(key + "kind", "breathable coatings only", BIA, "a film on the faces", Verdict.SHORT, act)
    else:
        rule, subject = "permeability to water vapour", "the repellent, by its label"
        read = act if choices.permeability is not None else "Read it on the label (ASTM E96)"
        yield compare(key + "kind", rule, BIA, subject, choices.permeability, at_least=PERMEABILITY, action=read)
    if crack is not None:
        fill = "Rout and fill it first: no repellent bridges it"
        memory = Cite("bia_tn6a_2008", "cracks", "from memory")
        yield compare(
            key + "crack",
            "widest crack a repellent may go over",
            memory,
            "cracks in the faces",
            crack,
            at_most=BRIDGED,
            unit="m",
            action=fill,
        )
    if wet:
        dry = "Find what lets the water in and mend it, let the faces dry, brush the salts off dry; then ask again"
        yield Finding(key + "dry", "nothing lets water in, faces dry", BIA, "salts or damp on the faces", Verdict.SHORT, dry)


def _figures(
    perimeter: Uncertain, height: float, area: Uncertain, cover: Uncertain, volume: Uncertain, choices: RepellentChoices
) -> Iterator[Figure]:
    key = "repair.repellent."
    sides = ("U", "round the stack", perimeter.mean, "m"), ("h", "height of the faces above the roof", height, "m")
    yield figure(key + "area", "faces to treat", area, "m2", "U h", *sides)
    label = Cite("entered", standing="entered") if choices.coverage is not None else PRACTICE
    shown = (
        ("A", "faces", area.mean, "m2"),
        ("w", "lost", choices.waste, "1"),
        ("c", "coverage, m2 a m3", cover.mean, "1", label),
    )
    yield figure(key + "volume", "water repellent", volume, "m3", "A (1 + w) / c", *shown, cite=label)
