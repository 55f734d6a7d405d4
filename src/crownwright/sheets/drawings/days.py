"""The days to pour, hour by hour, and one pour through its cure: charts drawn like everything else, black on white."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime

import numpy as np
from numpy.typing import NDArray

from crownwright.cure.model import Course, CurePlan
from crownwright.cure.window import Window
from crownwright.plan.job import Units
from crownwright.quantity.units import DAY, PSI, fahrenheit
from crownwright.sheets.draw.layers import CAP, DIMENSION, NOTE, READING, STONE, STRING, Layer
from crownwright.sheets.draw.shapes import Drawing, Line, Polygon, Polyline, Shape, Text

PAPER = 1000.0  # one metre of a chart is one millimetre on paper
CELL_WIDE, CELL_HIGH = 6.2, 8.2
Floats = NDArray[np.float64]


def window_chart(cure: CurePlan) -> Drawing:
    """Every hour of the forecast, a row a day: an open box will do, a grey one with a letter will not, the best are numbered."""
    days = sorted({w.at.date() for w in cure.windows})
    letters = _letters(cure.windows)
    best = {cure.windows[i].at: n for n, i in enumerate(cure.best[:3], 1)}
    shapes: list[Shape] = [*_hours_row()]
    for row, day in enumerate(days):
        shapes += _day_row(day, row, [w for w in cure.windows if w.at.date() == day], letters, best)
    shapes += _legend(letters, -(len(days) + 1) * CELL_HIGH)
    says = f"{sum(w.ok for w in cure.windows)} of {len(cure.windows)} hours will do for the first batch."
    return Drawing("days", "Hours to begin the pour", says, PAPER, "not to scale", tuple(shapes))


def _letters(windows: Sequence[Window]) -> dict[str, str]:
    """A letter for each first reason an hour is refused, the commonest first."""
    counts: dict[str, int] = {}
    for window in windows:
        for reason in window.refused[:1]:
            counts[reason.rule] = counts.get(reason.rule, 0) + 1
    return {rule: chr(ord("a") + k) for k, rule in enumerate(sorted(counts, key=lambda r: (-counts[r], r)))}


def _hours_row() -> Iterator[Shape]:
    for hour in range(0, 24, 3):
        yield Text((hour * CELL_WIDE, 1.6), f"{hour:02d}", 3.0, layer=NOTE)


def _day_row(
    day: date, row: int, windows: Sequence[Window], letters: dict[str, str], best: dict[datetime, int]
) -> Iterator[Shape]:
    top = -row * CELL_HIGH
    yield Text((-2.0, top - CELL_HIGH / 2), f"{day:%a} {day.day} {day:%b}", 3.2, "end", 0.5, bold=True)
    for window in windows:
        x = window.at.hour * CELL_WIDE
        box = ((x, top), (x + CELL_WIDE, top), (x + CELL_WIDE, top - CELL_HIGH), (x, top - CELL_HIGH))
        middle = (x + CELL_WIDE / 2, top - CELL_HIGH / 2)
        if window.ok:
            number = best.get(window.at)
            yield Polygon(STONE, box, fill="white", title=f"{window.at:%a %H:%M} will do")
            yield Text(middle, str(number) if number else "•", 4.6 if number else 3.4, "middle", 0.5, bold=True)
        else:
            rule = window.refused[0].rule
            yield Polygon(DIMENSION, box, fill="grey", title=f"{window.at:%a %H:%M}: {rule}")
            yield Text(middle, letters[rule], 2.8, "middle", 0.5)


def _legend(letters: dict[str, str], top: float) -> Iterator[Shape]:
    yield Text((0, top), "Open box: will do for the first batch; 1, 2, 3 are the best. Grey: will not, the letter says why.", 3.2)
    for k, (rule, letter) in enumerate(letters.items()):
        yield Text((0, top - 5.2 * (k + 1)), f"{letter}   {rule}", 3.2)


WIDE, HIGH = 150.0, 46.0


def cure_chart(cure: CurePlan, units: Units) -> Drawing:
    """Temperature of air and concrete, and strength with its band, against days since the wash was struck off.

    ValueError when no pour was followed.
    """
    course = cure.course
    if course is None:
        raise ValueError("no pour was followed, so there is nothing to chart")
    days = course.age / DAY
    heat = _temperatures(course, units)
    strong = [line / (PSI if units == "us" else 1e6) for line in (course.low, course.typical, course.high)]
    shapes: list[Shape] = []
    low, high = min(float(v.min()) for _, v in heat), max(float(v.max()) for _, v in heat)
    upper = _Panel(0.0, days, _round_out(low, high, 10.0), "°F" if units == "us" else "°C")
    shapes += upper.frame("Temperature")
    styles = (STRING, CAP, READING)
    for (_, line), layer in zip(heat, styles, strict=True):
        shapes += upper.curve(line, layer)
    shapes += upper.names(heat)
    step = 1000.0 if units == "us" else 5.0
    lower = _Panel(-(HIGH + 16.0), days, _round_out(0.0, float(strong[2].max()), step), "psi" if units == "us" else "MPa", step)
    shapes += lower.frame("Strength of the youngest concrete at the edge")
    for line, layer in zip(strong, (DIMENSION, CAP, DIMENSION), strict=True):
        shapes += lower.curve(line, layer)
    shapes += lower.names(list(zip(("low side", "typical", "high side"), strong, strict=True)))
    needed = cure.choices.strip_strength / (PSI if units == "us" else 1e6)
    shapes += lower.level(needed, f"strip at {needed:,.0f} psi" if units == "us" else f"strip at {needed:.1f} MPa")
    says = "Air, top and coldest concrete; strength on the low side, typical and high."
    return Drawing("cure", "One pour through its cure", says, PAPER, "not to scale", tuple(shapes))


def _temperatures(course: Course, units: Units) -> list[tuple[str, Floats]]:
    lines = (("air", course.air), ("top", course.top_middle), ("coldest", course.coldest))
    return [(name, np.array([fahrenheit(float(t)) for t in line]) if units == "us" else line) for name, line in lines]


def _round_out(low: float, high: float, step: float) -> tuple[float, float]:
    return step * np.floor(low / step), step * np.ceil(high / step)


class _Panel:
    """A frame with days along its foot and one scale up its side; ``top`` is where its head stands."""

    def __init__(self, top: float, days: Floats, span: tuple[float, float], unit: str, step: float = 10.0) -> None:
        self.top, self.days, self.span, self.unit, self.step = top, days, span, unit, step

    def at(self, day: float, value: float) -> tuple[float, float]:
        """Where a value stands on the paper."""
        low, high = self.span
        return WIDE * day / float(self.days[-1]), self.top - HIGH + HIGH * (value - low) / (high - low)

    def frame(self, title: str) -> Iterator[Shape]:
        """Edge, marks and title."""
        foot = self.top - HIGH
        yield Polyline(DIMENSION, ((0, self.top), (WIDE, self.top), (WIDE, foot), (0, foot)), closed=True)
        yield Text((0, self.top + 1.8), f"{title}, {self.unit}", 3.6, bold=True)
        for day in range(int(self.days[-1]) + 1):
            x, _ = self.at(day, self.span[0])
            yield Line(DIMENSION, (x, foot), (x, foot - 1.2))
            yield Text((x, foot - 1.8), f"day {day}" if day else "0", 3.0, "middle", 1.0)
        for value in np.arange(self.span[0], self.span[1] + self.step / 2, self.step):
            _, y = self.at(0, float(value))
            yield Line(DIMENSION, (0, y), (-1.2, y))
            yield Text((-2.0, y), f"{value:,.0f}", 3.0, "end", 0.5)

    def curve(self, values: Floats, layer: Layer) -> Iterator[Shape]:
        """One line; every fourth step of the heat balance is enough on paper."""
        yield Polyline(layer, tuple(self.at(float(d), float(v)) for d, v in zip(self.days[::4], values[::4], strict=True)))

    def names(self, lines: Sequence[tuple[str, Floats]]) -> Iterator[Shape]:
        """Names at the lines' right ends, pushed apart so that each can be read."""
        last = -np.inf
        for name, values in sorted(lines, key=lambda line: float(line[1][-1])):
            last = max(self.at(0, float(values[-1]))[1], last + 4.2)
            yield Text((WIDE + 1.5, last), name, 3.0, rise=0.5)

    def level(self, value: float, name: str) -> Iterator[Shape]:
        """A level that has to be reached."""
        (_, y) = self.at(0, value)
        yield Line(STRING, (0, y), (WIDE, y))
        yield Text((WIDE - 1.5, y), name, 3.0, "end", shift=(0.0, 0.8), clear=True)
