"""Patching a cap in place of casting it anew: holes cut square and filled, cracks routed and sealed, by what the record measures.

Volume of a patch: across x across x depth (it is cut square). Rates and the rout are judgement; no source is known.
"""

from __future__ import annotations

from dataclasses import dataclass

from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import HOUR, INCH
from crownwright.quantity.working import PRACTICE, Figure
from crownwright.repair.condition import Judged
from crownwright.repair.model import Material, RepairPlan, Task
from crownwright.repair.mortar import USUAL_BAG, Bag, order_mortar
from crownwright.repair.tell import figure, plus, times

MEASURE_SD = 0.2
"""Relative standard error of a hole's or crack's size as told (a judgement)."""
ROUT = 0.25 * INCH
"""Width and depth to which a crack is routed (common practice, no source)."""
PATCH_EACH, PATCH_RATE = 0.5, 6.0
"""Hours for each patch, and for each square metre of it: cut square, cleaned, primed, filled (a judgement)."""
CRACK_RATE = 0.5
"""Hours for each metre of crack routed, cleaned and sealed (a judgement)."""
RATE_SD = 0.4
WASTE = 0.15
PATCHES, CRACKS = ("cap spall", "popouts"), ("cap crack", "plastic shrinkage crack")


@dataclass(frozen=True, slots=True)
class Patching:
    """What mending the cap comes to: lines for the price, as of a repair plan; ``lacks`` what the record would have to tell;
    ``uncured`` what was found of the cap that no patch cures.
    """

    lacks: tuple[str, ...]
    materials: tuple[Material, ...] = ()
    tasks: tuple[Task, ...] = ()
    figures: tuple[Figure, ...] = ()
    uncured: tuple[str, ...] = ()


def patching(repair: RepairPlan, bag: Bag = USUAL_BAG) -> Patching | None:
    """Return the patching of the cap that the record calls for; None where it calls for none."""
    called = [one for one in repair.condition.calling("patch", "seal", "recast") if one.kind.place == "cap"]
    if not called:
        return None
    holes = [one for one in called if one.kind.name == "cap spall" and one.seen.measure is not None and one.seen.over is not None]
    cracks = [one for one in called if one.kind.name in CRACKS and one.seen.over is not None]
    done = {one.number for one in (*holes, *cracks)}
    open_ = [one for one in called if one.number not in done]
    lacks = tuple(f"{one.where}, {one.kind.name}: {_lack(one)}" for one in open_ if one.kind.name in (*PATCHES, *CRACKS))
    uncured = tuple(dict.fromkeys(one.kind.name for one in open_ if one.kind.name not in (*PATCHES, *CRACKS)))
    made = [part for part in (_holes(holes, bag), _cracks(cracks)) if part is not None]
    return Patching(
        lacks,
        tuple(line for part in made for line in part.materials),
        tuple(line for part in made for line in part.tasks),
        tuple(line for part in made for line in part.figures),
        uncured,
    )


def _lack(one: Judged) -> str:
    return "how deep, how far across or how many was not told" if one.kind.name in PATCHES else "its length was not told"


def _holes(holes: list[Judged], bag: Bag) -> Patching | None:
    sizes = [(one, one.seen.over.metres, one.seen.measure.metres) for one in holes if one.seen.over and one.seen.measure]
    if not sizes:
        return None
    area = plus(*(times(Uncertain(a, MEASURE_SD * a), a) for _, a, _ in sizes))
    volume = plus(*(times(Uncertain(a, MEASURE_SD * a), a, Uncertain(d, MEASURE_SD * d)) for _, a, d in sizes))
    terms = tuple(
        term for one, a, d in sizes
        for term in (("a", f"{one.where}, across", a, "m"), ("d", f"{one.where}, deep", d, "m"))
    )  # fmt: skip
    hours = times(plus(Uncertain(PATCH_EACH * len(sizes)), times(area, PATCH_RATE)), Uncertain(1.0, RATE_SD))
    order = order_mortar("repair.patching", "patches of the cap", "N", volume, WASTE, bag)
    figures = (
        figure("repair.patching.volume", "patches of the cap", volume, "m3", "sum of a a d", *terms),
        figure("repair.patching.hours", "hours cutting out and filling them", times(hours, HOUR), "s", "n e + A r",
               ("n", "patches", float(len(sizes)), "1"), ("e", "each, h", PATCH_EACH, "1"), ("A", "their area", area.mean, "m2"),
               ("r", "a square metre, h", PATCH_RATE, "1"), cite=PRACTICE),
        *order.figures,
    )  # fmt: skip
    task = Task("patch", "cut the holes in the cap square and fill them", area.mean, "m2", "repair.patching.volume", hours)
    return Patching((), order.materials, (task,), figures)


def _cracks(cracks: list[Judged]) -> Patching | None:
    lengths = [(one, one.seen.over.metres) for one in cracks if one.seen.over is not None]
    if not lengths:
        return None
    length = plus(*(Uncertain(run, MEASURE_SD * run) for _, run in lengths))
    sealant = length.mean * ROUT**2 / (1 - WASTE)
    terms = tuple(("l", f"{one.where}, {one.kind.name}", run, "m") for one, run in lengths)
    hours = times(length, Uncertain(CRACK_RATE, RATE_SD * CRACK_RATE))
    whole = ("L", "length of the cracks", length.mean, "m")
    figures = (
        figure("repair.patching.cracks", "cracks of the cap to seal", length, "m", "sum of their lengths", *terms),
        figure("repair.patching.sealant", "sealant in them", sealant, "m3", "L r r / (1 - w)", whole,
               ("r", "routed wide and deep", ROUT, "m"), ("w", "share lost", WASTE, "1"), cite=PRACTICE),
        figure("repair.patching.crack_hours", "hours routing and sealing them", times(hours, HOUR), "s", "L h", whole,
               ("h", "a metre, h", CRACK_RATE, "1"), cite=PRACTICE),
    )  # fmt: skip
    line = Material("sealant, heat", "sealant", sealant, "m3", "repair.patching.sealant", "cracks of the cap", 0.2 * sealant)
    task = Task("seal cracks", "rout and seal the cracks of the cap", length.mean, "m", "repair.patching.cracks", hours)
    return Patching((), (line,), (task,), figures)
