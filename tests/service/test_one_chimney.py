"""One chimney, lettered from another corner or seen in a mirror, gets the same plan: the letters are the mason's, not the top's.

The form is set out from A and along AB, so the stone across from them is the less sure: the guard round it, and with it the cap,
may come out a step or two of its rounding apart. What the tapes say of the shape is the same to the last digit.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from crownwright.plan.job import Job
from crownwright.plan.model import Plan
from crownwright.plan.plan_job import plan_job
from crownwright.quantity.units import INCH
from crownwright.service.open_job import open_text
from crownwright.survey.adjust import adjust
from crownwright.survey.readings import AtCorner, Drop, Length, OnSide, Place, Readings

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
MIRRORED = {"A": "B", "B": "A", "C": "D", "D": "C", "a": "b", "b": "a", "c": "d", "d": "c"}
TURNED = {"A": "D", "B": "A", "C": "B", "D": "C", "a": "d", "b": "a", "c": "b", "d": "c"}


def read(name: str) -> Readings:
    opened = open_text((EXAMPLES / f"{name}.toml").read_text("utf-8"), name)
    assert opened.job is not None
    assert isinstance(opened.job.readings, Readings)
    return opened.job.readings


def relettered(readings: Readings, new: dict[str, str], sides: dict[str, float] | None = None) -> Readings:
    """The same readings under new letters; ``sides`` has the lengths of the sides where they are walked the other way round."""

    def point(name: str) -> str:
        return new[name] if name in new else name if name[-1] not in new else name[:-1] + new[name[-1]]

    def side(name: str) -> str:
        first, last = (new[letter] for letter in name)
        return last + first if sides else first + last

    def along(name: str, reads: Length) -> Length:
        return Length(sides[name] - reads.metres) if sides else reads

    def place(at: Place) -> Place:
        if isinstance(at, AtCorner):
            return AtCorner(new[at.corner])
        assert isinstance(at, OnSide)
        return OnSide(side(at.side), along(at.side, at.along), at.inward)

    def drop(one: Drop) -> Drop:
        return replace(one, place=place(one.place))

    return replace(
        readings,
        tapes=tuple(replace(tape, start=point(tape.start), end=point(tape.end)) for tape in readings.tapes),
        offsets=tuple(replace(one, side=side(one.side), along=along(one.side, one.along)) for one in readings.offsets),
        drops=tuple(map(drop, readings.drops)),
        flues=tuple(one if sides else replace(one, outside=one.outside[::-1]) for one in readings.flues),
    )


def plan(readings: Readings) -> Plan:
    return plan_job(Job("x", readings), cut_list=False)


def mirrored(readings: Readings) -> Readings:
    survey, _ = adjust(readings)
    assert survey is not None
    ends = zip(survey.corners, np.roll(survey.corners, -1, axis=0), strict=True)
    lengths = [float(np.linalg.norm(b - a)) for a, b in ends]
    return relettered(readings, MIRRORED, dict(zip(("AB", "BC", "CD", "DA"), lengths, strict=True)))


@pytest.mark.parametrize("name", ["stone-two-flues", "out-of-square", "brick-one-flue"])
def test_the_tapes_say_the_same_whichever_corner_is_called_a(name: str) -> None:
    one, _ = adjust(read(name))
    other, _ = adjust(relettered(read(name), TURNED))
    assert one is not None
    assert other is not None
    assert one.closure.statistic == pytest.approx(other.closure.statistic, rel=1e-6)
    assert one.outline.area.mean == pytest.approx(other.outline.area.mean, rel=1e-6)
    far = [float(np.linalg.norm(a - b)) for s in (one, other) for a in s.corners for b in s.corners]
    assert sorted(far[:16]) == pytest.approx(sorted(far[16:]), abs=1e-6)
    assert [s.w for s in one.checked if "size" not in s.name] == pytest.approx(
        [s.w for s in other.checked if "size" not in s.name], abs=1e-4
    )


@pytest.mark.parametrize("name", ["stone-two-flues", "out-of-square"])
@pytest.mark.parametrize("way", ["turned", "mirrored"])
def test_the_cap_is_the_same_within_its_rounding(name: str, way: str) -> None:
    readings = read(name)
    one, other = plan(readings), plan(relettered(readings, TURNED) if way == "turned" else mirrored(readings))
    assert one.cap is not None
    assert other.cap is not None
    assert one.concrete is not None
    assert other.concrete is not None
    sizes = [(cap.length, cap.width) for cap in (one.cap, other.cap)]
    assert sorted(sizes[0]) == pytest.approx(sorted(sizes[1]), abs=0.76 * INCH)  # three steps of a quarter inch
    assert one.cap.edge_board == other.cap.edge_board
    assert one.cap.soffit == pytest.approx(other.cap.soffit, abs=0.13 * INCH)  # a step of the levels
    both = [p.concrete.need.bags for p in (one, other) if p.concrete]
    assert abs(both[0].mean - both[1].mean) < 1.5 * max(b.sd for b in both)
    assert len(one.form.pieces if one.form else ()) == len(other.form.pieces if other.form else ())
