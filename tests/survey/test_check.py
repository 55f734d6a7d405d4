"""Every fault in the readings is a problem with its place and a remedy, and all come at once."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.quantity.units import INCH
from crownwright.survey import adjust
from crownwright.survey.check import check
from crownwright.survey.names import names_of
from crownwright.survey.readings import (
    AtCorner,
    ByTies,
    Drop,
    Flue,
    Length,
    Offset,
    OnSide,
    QuickReadings,
    Readings,
    Tape,
)


def inches(x: float, sd: float | None = None) -> Length:
    return Length(x * INCH, f"{x:g} in", sd)


def tape(a: str, b: str, x: float) -> Tape:
    return Tape(a, b, inches(x))


PROUD = Offset("AB", inches(5), inches(1), True)
HUMP = Drop(AtCorner("A"), inches(2), "highest")
FAULTS: list[tuple[dict[str, object], str, str]] = [
    ({"tapes": (tape("A", "E", 20),)}, "unknown point E", "A, B, C, D"),
    ({"tapes": (tape("A", "F1", 20),)}, "F1 is not a point of flue F1", "F1a, F1b, F1c, F1d"),
    ({"tapes": (tape("A", "A", 20),)}, "starts and ends at A", "two points"),
    ({"tapes": (tape("A", "B", 0),)}, "reads 0 in: a length must be more than nothing", "leave it out"),
    ({"tapes": (tape("A", "B", -48),)}, "reads -48 in", "Read it again"),
    ({"tapes": (Tape("A", "B", Length(float("nan"), "??")),)}, "no length", "Read it again"),
    ({"tapes": (Tape("A", "B", Length(float("inf"))),)}, "no length", "Read it again"),
    ({"tapes": (tape("A", "B", 4800),)}, "longer than any top", "wrong unit"),
    ({"tapes": (Tape("A", "B", inches(48, 0.0)),)}, "spread must be more than nothing", "Leave the spread out"),
    ({"tapes": (tape("A", "B", 20), tape("B", "C", 20), tape("A", "C", 48))}, "longer than", "Read AC, AB and BC again"),
    ({"offsets": (Offset("AC", inches(5), inches(1)),)}, "no side AC", "AB, BC, CD, DA"),
    ({"offsets": (Offset("BA", inches(5), inches(1)),)}, "called AB", "measure along it from A"),
    ({"offsets": (Offset("AB", inches(-9), inches(1)),)}, "beyond the side's end", "first corner of AB"),
    ({"offsets": (Offset("AB", inches(5), inches(20)),)}, "more than 12 in.", "string to the face"),
    ({"offsets": (PROUD, replace(PROUD, along=inches(9)))}, "2 are marked", "only the proudest"),
    ({"offsets": (PROUD, Offset("AB", inches(9), inches(2)))}, "further out than the proudest", "Look along AB"),
    ({"drops": (Drop(AtCorner("X"), inches(2)),)}, "no corner X", "A, B, C, D"),
    ({"drops": (Drop(OnSide("ZZ", inches(3)), inches(2)),)}, "no side ZZ", "AB, BC, CD, DA"),
    ({"drops": (Drop(ByTies("A", inches(9), "A", inches(9)), inches(2)),)}, "both its tapes start at A", "two different points"),
    ({"drops": (Drop(ByTies("A", inches(9), "Q", inches(9)), inches(2)),)}, "unknown point Q", "A, B, C, D"),
    ({"drops": (Drop(AtCorner("A"), inches(99)),)}, "more than 48 in.", "down to the stone"),
    ({"drops": (Drop(AtCorner("A"), inches(2), "lowest edge"),)}, "belongs to a side", "along which side"),
    ({"drops": (HUMP, replace(HUMP, place=AtCorner("B")))}, "2 are marked the highest", "only the highest"),
    ({"drops": (HUMP, Drop(AtCorner("B"), inches(-1)))}, "stands higher than the highest", "along the string"),
    ({"flues": (Flue("F1", "rectangular", (inches(13),), inches(8)),)}, "has 1 outside size", "a-b and along b-c"),
    ({"flues": (Flue("F1", "round", (inches(13), inches(13)), inches(8)),)}, "has 2 outside size", "outside diameter"),
    ({"flues": (Flue("F1", "rectangular", (inches(13),) * 2, inches(8), (inches(13),) * 2),)}, "not smaller", "Measure both"),
    ({"flues": (Flue("A", "round", (inches(13),), inches(8)),)}, "name of a corner too", "F1, F2"),
    ({"flues": (Flue("F1", "round", (inches(13),), inches(8)),) * 2}, "2 flues are called F1", "its own name"),
    ({"corners": ("A", "B")}, "2 corner(s) named", "walking round"),
    ({"corners": ("A", "B", "A", "D")}, "2 corners are called A", "its own name"),
    ({"corners": ("A", "", "C", "D")}, "no name", "letter"),
]  # fmt: skip


@pytest.mark.parametrize(("change", "what", "remedy"), FAULTS, ids=[f[1][:40] for f in FAULTS])
def test_each_fault_is_told_with_its_remedy(quad, change: dict[str, object], what: str, remedy: str) -> None:
    readings = replace(quad.readings(), **change)  # type: ignore[arg-type]
    found = check(readings, names_of(readings))
    assert any(what in p.what and remedy in p.remedy for p in found), found


def test_all_faults_at_once(quad) -> None:
    """Everything above that can stand in one job: as many problems as faults, and no survey."""
    changes: dict[str, list[object]] = {"tapes": [], "offsets": [], "drops": []}
    for change, _, _ in FAULTS:
        for key, values in change.items():
            if key in changes:
                changes[key] += list(values)  # type: ignore[call-overload]
    readings = replace(quad.readings(), **{k: tuple(v) for k, v in changes.items()})
    survey, problems = adjust(readings)
    assert survey is None
    missing = [
        what for change, what, _ in FAULTS if set(change) <= set(changes) and not any(what[:12] in p.what for p in problems)
    ]
    # these speak of all offsets or drops together, and say more than two here
    assert set(missing) <= {"2 are marked", "2 are marked the highest", "stands higher than the highest"}, missing
    assert all(p.where and p.what and p.remedy for p in problems)


def test_a_broken_triangle_is_told_and_the_slip_named(quad) -> None:
    """AC a foot and a half too long is no triangle; the tapes still say which it is."""
    tapes = tuple(
        replace(t, reads=Length(t.reads.metres + 36 * INCH)) if (t.start, t.end) == ("A", "C") else t for t in quad.all_tapes()
    )
    survey, problems = adjust(quad.readings(tapes))
    assert any("longer than" in p.what for p in problems)
    assert survey is not None
    assert any(s.name == "tape AC" for s in survey.suspects)


def test_places_off_the_top_and_on_a_flue_are_left_out(whole) -> None:
    strange = (
        Drop(OnSide("AB", inches(22), inches(18)), inches(2)),
        Drop(OnSide("AB", inches(60)), inches(2)),
        Drop(OnSide("AB", inches(20), inches(60)), inches(2)),
        Drop(ByTies("A", inches(5), "C", inches(5)), inches(2)),
        Drop(ByTies("A", inches(33), "C", inches(33)), inches(2)),
    )
    survey, problems = adjust(replace(whole, drops=(*whole.drops, *strange)))
    assert survey is not None
    told = {p.where: p.what for p in problems}
    first = len(whole.drops)
    for k, what in enumerate(("on flue F1", "beyond the side's end", "off the top", "do not meet", "mirror images")):
        assert what in told[f"drops[{first + k}]"]
    plain, _ = adjust(whole)
    assert plain is not None
    assert survey.surface.highest == plain.surface.highest


def test_flues_that_cannot_stand_there(make_top, shapes) -> None:
    off = make_top(shapes["quad"], {"F1": (47.0, 18.0, 0.0, 13.0, 13.0)})
    _, problems = adjust(off.readings())
    assert any(p.where == "flue F1" and "outside the stone" in p.what for p in problems)
    into = make_top(shapes["quad"], {"F1": (18.0, 18.0, 0.0, 13.0, 13.0), "F2": (26.0, 18.0, 0.0, 13.0, 13.0)})
    _, problems = adjust(into.readings())
    assert any(p.where == "flues F1, F2" and "into each other" in p.what for p in problems)


def test_quick_survey_faults() -> None:
    flue = Flue("F1", "rectangular", (inches(60), inches(13)), inches(8))
    survey, problems = adjust(QuickReadings(inches(48), inches(-3), (flue,), "brick"))
    assert survey is None
    assert any("width" in p.what for p in problems)
    survey, problems = adjust(QuickReadings(inches(48), inches(36), (flue,), "brick"))
    assert survey is None
    assert any("do not fit" in p.what for p in problems)


lengths = st.builds(Length, st.floats(allow_nan=True, allow_infinity=True), st.just("x"), st.none() | st.floats())
points = st.sampled_from(["A", "B", "C", "D", "F1", "F1a", "F1c", "F2", "", "AB"])
places = st.one_of(
    st.builds(AtCorner, points),
    st.builds(OnSide, st.sampled_from(["AB", "BA", "CD", "DA", "x"]), lengths, lengths),
    st.builds(ByTies, points, lengths, points, lengths),
)
jobs = st.builds(
    Readings,
    st.lists(points, max_size=5).map(tuple),
    st.just("rubble stone"),
    st.lists(st.builds(Tape, points, points, lengths), max_size=8).map(tuple),
    st.lists(st.builds(Offset, st.sampled_from(["AB", "CB", "DA"]), lengths, lengths, st.booleans()), max_size=3).map(tuple),
    st.lists(st.builds(Drop, places, lengths, st.sampled_from([None, "highest", "lowest edge"])), max_size=3).map(tuple),
    st.lists(
        st.builds(Flue, points, st.sampled_from(["rectangular", "round"]), st.lists(lengths, max_size=3).map(tuple), lengths),
        max_size=2,
    ).map(tuple),
)


@given(jobs)
@settings(max_examples=150, deadline=None)
def test_no_readings_make_it_fall_over(readings: Readings) -> None:
    survey, problems = adjust(readings)
    assert survey is not None or any(p.stops for p in problems)
