"""The bags as they are set aside for each lift, and how sure it is that they are enough."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from crownwright.concrete.count import short_chance
from crownwright.concrete.model import ConcretePlan
from crownwright.sheets.draw.layers import CAP, DIMENSION, NOTE, STRING
from crownwright.sheets.draw.shapes import Drawing, Hatch, Line, Polygon, Shape, Text

PAPER = 1000.0  # one metre of a chart is one millimetre on paper
WIDE, HIGH, GAP, ROW = 11.0, 15.0, 2.5, 8
BARS = 62.0
"""mm that a chance of one takes."""
FEW, MORE = 3, 2
"""Bags fewer and more than planned that the chances are shown for."""


def bags_chart(pour: ConcretePlan) -> Drawing:
    """Every bag, those of the first lift hatched as concrete and the wash as mortar; under them the chance of running short."""
    shapes: list[Shape] = [*_bags(pour)]
    foot = -((pour.count.bags - 1) // ROW + 1) * (HIGH + GAP) - 9.0
    shapes += _chances(pour, foot)
    lower, upper = pour.lifts
    says = f"{lower.planned} bags for the edge and drip, {upper.planned} for the wash; and how sure they and others are enough."
    return Drawing("bags", "The bags, and how sure they are enough", says, PAPER, "not to scale", tuple(shapes))


def _bags(pour: ConcretePlan) -> Iterator[Shape]:
    for n in range(pour.count.bags):
        x, y = (n % ROW) * (WIDE + GAP), -(n // ROW) * (HIGH + GAP)
        first = n < pour.lifts[0].planned
        outer = ((x, y), (x + WIDE, y), (x + WIDE, y - HIGH), (x, y - HIGH))
        lift = pour.lifts[0 if first else 1].name
        yield Polygon(CAP, outer, hatch=Hatch.CONCRETE if first else Hatch.MORTAR, fill="white", title=f"bag {n + 1}: {lift}")
        yield Text((x + WIDE / 2, y - HIGH / 2), str(n + 1), 4.0, "middle", 0.5, bold=True, clear=True)
    yield Text((0.0, 2.0), f"{pour.lifts[0].planned} edge and drip, then {pour.lifts[1].planned} wash", 3.6, bold=True)


def _chances(pour: ConcretePlan, top: float) -> Iterator[Shape]:
    counts = [n for n in range(pour.count.bags - FEW, pour.count.bags + MORE + 1) if n > 0]
    chances = short_chance(pour.need, np.array(counts, float))
    left = 27.0
    accepted = left + BARS * pour.count.risk
    yield Text((0.0, top + 2.5), "Chance of running short", 3.6, bold=True)
    for row, (n, chance) in enumerate(zip(counts, chances, strict=True)):
        y = top - 6.5 * row
        planned = n == pour.count.bags
        yield Text((left - 2.0, y - 2.5), f"{n} bags", 3.4, "end", 0.5, bold=planned)
        end = left + BARS * float(chance)
        box = ((left, y), (end, y), (end, y - 5.0), (left, y - 5.0))
        yield Polygon(DIMENSION, box, fill="black" if planned else "grey")
        beyond = max(end, accepted)
        yield Text((beyond + 1.5, y - 2.5), _percent(float(chance)), 3.4, rise=0.5, bold=planned, layer=NOTE)
    foot = top - 6.5 * len(counts)
    yield Line(DIMENSION, (left, top + 0.8), (left, foot))
    yield Line(STRING, (accepted, top + 0.8), (accepted, foot - 1.0))
    yield Text((accepted, foot - 1.8), f"you accept {_percent(pour.count.risk)}", 3.2, rise=1.0)


def _percent(chance: float) -> str:
    percent = 100 * chance
    return "under 0.1 %" if percent < 0.1 else f"{percent:.1f} %" if percent < 9.95 else f"{percent:.0f} %"
