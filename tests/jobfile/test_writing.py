"""A job written and read again is the same job."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import BaseModel

from crownwright.cap.choices import CapChoices
from crownwright.concrete.choices import ConcreteChoices
from crownwright.form.choices import FormChoices, Stock
from crownwright.plan.job import Job
from crownwright.quantity.findings import Waiver
from crownwright.quantity.lengths import Bare, Reading, parse_length
from crownwright.service.jobfile import model, parse_job, write_job
from crownwright.survey.readings import (
    AtCorner,
    ByTies,
    Drop,
    Flue,
    HigherThing,
    Length,
    Offset,
    OnSide,
    QuickReadings,
    Readings,
    Surroundings,
    Tape,
)

METRES = st.one_of(
    st.integers(1, 1600).map(lambda n: n / 16 * 0.0254), st.integers(1, 3000).map(lambda n: n / 1000), st.floats(1e-6, 20)
)
SIGNED = st.one_of(METRES, METRES.map(lambda m: -m), st.just(0.0))
WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=20).map(str.strip)
NAMES = WORDS.filter(bool)


def typed_length(text: str, bare: Bare) -> Length:
    read = parse_length(text, bare)
    assert isinstance(read, Reading)
    return Length(read.metres, text)


def lengths(bare: Bare, positive: bool = True) -> st.SearchStrategy[Length]:
    typed = ["51 1/2 in", "4' 3 1/2\"", "1310 mm", "1,31 m", "51,5 cm", "12", "12.50"] + (
        [] if positive else ["-3/4 in", "+ 2", "0"]
    )
    known = st.sampled_from(typed).map(lambda text: typed_length(text, bare))
    return st.builds(lambda length, sd: replace(length, sd=sd), known, st.one_of(st.none(), METRES))


def read(bare: Bare) -> st.SearchStrategy[Readings]:
    far, near = lengths(bare), lengths(bare, positive=False)
    pairs = st.sampled_from([("A", "B"), ("B", "A"), ("B", "D"), ("A", "F1a"), ("F2", "C")])
    place = st.one_of(
        st.builds(AtCorner, st.sampled_from("ABCD")),
        st.builds(OnSide, st.sampled_from(["AB", "DA"]), near, near),
        st.builds(OnSide, st.just("CD"), near),
        st.builds(ByTies, st.just("A"), far, st.just("F1c"), far),
    )
    flues = (
        Flue(
            "F1",
            "rectangular",
            (typed_length("13 in", bare), typed_length("8 1/2 in", bare)),
            Length(0.2032, "8 in"),
            serves="oil boiler",
        ),
        Flue(
            "F2",
            "round",
            (Length(0.254, "10 in"),),
            Length(-0.0254, "-1 in"),
            inside=(Length(0.2032, "8 in"),),
            nominal="round 8",
        ),
    )
    return st.builds(
        Readings,
        st.just(("A", "B", "C", "D")),
        st.sampled_from(["rubble stone", "squared stone", "brick"]),
        st.lists(st.builds(lambda ab, reads: Tape(*ab, reads), pairs, far), max_size=6).map(tuple),
        st.lists(st.builds(Offset, st.sampled_from(["AB", "BC"]), near, near, st.booleans()), max_size=3).map(tuple),
        st.lists(st.builds(Drop, place, near, st.sampled_from([None, "highest", "lowest edge"])), max_size=5).map(tuple),
        st.just(flues),
    )


def quick(bare: Bare) -> st.SearchStrategy[QuickReadings]:
    flue = st.builds(lambda top: Flue("F1", "round", (Length(0.254, "10 in"),), top), lengths(bare))
    return st.builds(
        QuickReadings,
        lengths(bare),
        lengths(bare),
        st.lists(flue, max_size=1).map(tuple),
        st.just("brick"),
        st.sampled_from(["wild", "ordinary"]),
    )


SMALL = st.one_of(st.integers(1, 120).map(lambda n: n / 16 * 0.0254), st.integers(7, 150).map(lambda n: n / 1000))
LARGE = st.one_of(st.integers(192, 1600).map(lambda n: n / 16 * 0.0254), st.floats(0.4, 9.0))
CAPS = st.builds(
    CapChoices,
    overhang_least=SMALL,
    length=st.one_of(st.none(), LARGE),
    turn=st.one_of(st.none(), st.floats(1e-6, 0.3)),
    soffit_drop=st.one_of(st.none(), SMALL, SMALL.map(lambda m: -m)),
    sure=st.floats(0.7, 0.999),
    liner_warming=st.floats(10, 1000),
    slope_least=st.floats(0.01, 1.0),
    edge_board=st.sampled_from([None, "2x4", "2x6"]),
    joint_waived=st.one_of(st.none(), st.builds(Waiver, NAMES, NAMES)),
    base=st.sampled_from(["bonded", "slip sheet"]),
    density=st.floats(1500, 2600),
)
BOARDS = st.sampled_from(["2x4", "2x6", "quarter-round 3/4", "quarter-round 1"])
FORMS = st.builds(
    FormChoices,
    stock=st.lists(st.builds(Stock, BOARDS, LARGE, st.just("12.50"), st.integers(0, 9)), max_size=3).map(tuple),
    kerf=st.sampled_from([0.003175, 0.0025, 0.0]),
    straps=st.one_of(st.none(), st.integers(1, 5)),
    solve_seconds=st.floats(0.5, 60),
)
SITES = st.builds(
    Surroundings,
    roof_pitch=st.one_of(st.none(), st.floats(0.01, 1.2)),
    ridge_away=st.one_of(st.none(), METRES),
    roof_below_string=st.one_of(st.none(), SIGNED),
    higher=st.lists(st.builds(HigherThing, WORDS, METRES, SIGNED), max_size=2).map(tuple),
    latitude=st.one_of(st.none(), st.floats(-90, 90, allow_subnormal=False)),
    exposure=st.sampled_from([None, "B", "C"]),
    wind_speed=st.one_of(st.none(), st.floats(1, 90)),
    ground_snow=st.one_of(st.none(), st.floats(1, 9000)),
)


@st.composite
def jobs(draw: Any) -> Job:
    bare: Bare = draw(st.sampled_from(["in", "ft", "mm", "cm", "m"]))
    return Job(
        title=draw(NAMES),
        readings=draw(st.one_of(read(bare), quick(bare))),
        units="us" if bare in ("in", "ft") else "metric",
        customer=draw(WORDS),
        notes=draw(st.text(st.characters(exclude_categories=["Cs"]), max_size=50)).replace("\r\n", "\n"),
        read_on=draw(st.sampled_from(["", "2026-05-03"])),
        overrides=draw(st.sampled_from([(), (("overhang", 0.0762),), (("slope", 0.2), ("slenderness", 8.0))])),
        surroundings=draw(SITES),
        cap=draw(CAPS),
        form=draw(FORMS),
        concrete=draw(st.builds(ConcreteChoices, risk=st.floats(0.001, 0.5), portland=st.floats(1e-3, 9))),
    )


@given(jobs())
@settings(max_examples=60, deadline=None)  # a whole job each: enough of them to see every kind of part several times
def test_a_job_comes_back_the_same(job: Job) -> None:
    text = write_job(job)
    again, problems = parse_job(text)
    assert problems == ()
    assert again == job


def test_what_was_never_typed_is_written_so_that_it_reads_back_exactly() -> None:
    tapes = tuple(Tape("A", "B", Length(m)) for m in (1.3081, 1.234567890123, 0.1 + 0.2, 1e-5))
    again, problems = parse_job(write_job(Job("x", Readings(("A", "B", "C"), "brick", tapes))))
    assert problems == ()
    assert again is not None
    assert isinstance(again.readings, Readings)
    assert [t.reads.metres for t in again.readings.tapes] == [t.reads.metres for t in tapes]


def test_usual_choices_are_left_out() -> None:
    text = write_job(Job("Barn", QuickReadings(Length(1.0, "1 m"), Length(1.0, "1 m"), (), "brick")))
    assert text == 'title = "Barn"\n\n[quick]\nlength = "1 m"\nwidth = "1 m"\nmasonry = "brick"\n'


@pytest.mark.parametrize(
    ("table", "filled", "apart"),
    [
        (model.JobFile, Job, {"bare_numbers", "quick"}),
        (model.ReadingsTable, Readings, set()),
        (model.QuickTable, QuickReadings, set()),
        (model.TapeLine, Tape, set()),
        (model.OffsetLine, Offset, set()),
        (model.FlueLine, Flue, set()),
        (model.HigherLine, HigherThing, set()),
        (model.SurroundingsTable, Surroundings, set()),
        (model.CapTable, CapChoices, set()),
        (model.WaiverTable, Waiver, set()),
        (model.FormTable, FormChoices, set()),
        (model.StockLine, Stock, set()),
        (model.ConcreteTable, ConcreteChoices, set()),
    ],
)
def test_the_file_and_the_python_model_have_the_same_names(table: type[BaseModel], filled: type, apart: set[str]) -> None:
    assert set(table.model_fields) - apart == {field.name for field in fields(filled)}
