"""Every way a tape is spoken or typed, and back: parse(print(x)) == x."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crownwright.quantity.lengths import Bare, Reading, Style, finest_step, parse_length, print_length
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import INCH

BARE: tuple[Bare, ...] = ("in", "ft", "mm", "cm", "m")


def inches(text: str, bare: Bare = "in") -> Fraction:
    read = parse_length(text, bare)
    assert isinstance(read, Reading), read
    assert read.typed == text
    return Fraction(read.metres / INCH).limit_denominator(6400)


@pytest.mark.parametrize(
    "typed",
    [
        "4' 3 1/2\"",
        "4'3 1/2\"",
        "4'-3 1/2\"",
        "4’ 3 ½”",
        "4′ 3½″",
        "4' 3½''",
        "4' 3\" 1/2",
        "4-3-1/2",
        "4–3–1⁄2",
        "4 ft 3 1/2 in",
        "4 ft. 3-1/2 in.",
        "4ft 3.5in",
        "4 feet, 3 and a half inches",
        "four foot three and a half",
        "51 1/2",
        "51-1/2",
        '51 1/2"',
        "51½",
        "51¹⁄₂",
        "51.5in",
        "51,5 in",
        "51.5",
        "+51 1/2",
        "fifty-one and a half",
        "51 4 8ths",
        "51 and four eighths",
        "５１ 1/2",
        "51 1/2.",
    ],
)
def test_fifty_one_and_a_half_inches_however_it_is_typed(typed: str) -> None:
    assert inches(typed) == Fraction(103, 2)


@pytest.mark.parametrize(
    ("typed", "bare", "metres"),
    [
        ("1310 mm", "in", 1.31),
        ("131 cm", "in", 1.31),
        ("1.31 m", "in", 1.31),
        ("1,31 m", "in", 1.31),
        ("1 m 31 cm", "in", 1.31),
        ("1 m 310 mm", "in", 1.31),
        ("1 310 mm", "in", 1.31),
        ("1310", "mm", 1.31),
        ("131", "cm", 1.31),
        ("131,0", "cm", 1.31),
        ("1.31", "m", 1.31),
        ("1,310.5 mm", "in", 1.3105),
        ("0,125 m", "in", 0.125),
        ("51 1/2 cm", "cm", 0.515),
        ("−12 mm", "cm", -0.012),
    ],
)
def test_metric(typed: str, bare: Bare, metres: float) -> None:
    read = parse_length(typed, bare)
    assert isinstance(read, Reading)
    assert read.metres == metres


@pytest.mark.parametrize(
    ("typed", "bare", "says", "remedy"),
    [
        ("", "in", "no number", "leave the line out"),
        ("?", "in", "no number", "leave the line out"),
        ("4 3 1/2", "in", "may be feet and inches", "4-3-1/2"),
        ("4 3", "in", "may be feet and inches", "4-3-1/2"),
        ("4-14", "in", "twelve inches or more", "Carry"),
        ("4.5' 3\"", "in", "part of a foot", "whole feet"),
        ("1,310", "mm", "thousands or decimals", "1310"),
        ("51 3/7", "in", "not a fraction of a tape", "sixteenth"),
        ("1/0", "in", "not a fraction of a tape", "sixteenth"),
        ("51 9/8", "in", "one or more", "1 1/8"),
        ("51.5 1/2", "in", "decimal and a fraction", "51.5"),
        ("51 5/8 heavy", "in", "does not say how much", "sixteenth"),
        ("4 ft 31 cm", "in", "mixes metric", "one of them"),
        ("51 1/2", "cm", "fraction but no unit", "Add in"),
        ("4-3-1/2", "mm", "no unit", "mm"),
        ("fifty ells", "in", "“ells”", "51 1/2"),
        ("m²", "m", "“²”", "1.31"),
        ("3e2", "in", "“e”", "51 1/2"),
        ("inf", "in", "“inf”", "51 1/2"),
        ("nan", "in", "“nan”", "51 1/2"),
        ("99999", "in", "m long", "decimal point"),
        ("9" * 5000, "in", "5000 letters", "51 1/2"),
        ("1.2.3", "in", "not a number", "51 1/2"),
        ("in", "in", "no number", "51 1/2"),
        ("2 m 1310 mm", "mm", "more than a metre", "one unit"),
    ],
)
def test_what_cannot_be_read_says_what_is_wrong_and_what_to_type(typed: str, bare: Bare, says: str, remedy: str) -> None:
    problem = parse_length(typed, bare, "tape AB")
    assert isinstance(problem, Problem)
    assert problem.where == "tape AB"
    assert says in problem.what
    assert typed[:20] in problem.what
    assert remedy in problem.remedy


@given(
    st.integers(-16 * 12 * 100, 16 * 12 * 100), st.sampled_from(["feet", "inches", "in."]), st.booleans(), st.sampled_from(BARE)
)
def test_every_sixteenth_comes_back_exactly(n: int, style: Style, signed: bool, bare: Bare) -> None:
    x = n / 16 * INCH
    read = parse_length(print_length(x, style, signed=signed), bare)
    assert isinstance(read, Reading), read
    assert read.metres == x


@given(st.integers(-100_000, 100_000), st.sampled_from(["mm", "cm", "m"]), st.booleans(), st.sampled_from(BARE))
def test_every_millimetre_comes_back_exactly(n: int, style: Style, signed: bool, bare: Bare) -> None:
    x = n / 1000
    read = parse_length(print_length(x, style, signed=signed), bare)
    assert isinstance(read, Reading), read
    assert read.metres == x


@given(st.floats(-100, 100), st.sampled_from([1, 2, 4, 8, 16]))
def test_printing_rounds_to_the_nearest_division(x: float, finest: int) -> None:
    read = parse_length(print_length(x, finest=finest), "in")
    assert isinstance(read, Reading)
    assert abs(read.metres - x) <= INCH / finest / 2 * (1 + 1e-9) + 1e-12


def test_halves_round_away_from_zero() -> None:
    assert [print_length(x * INCH, finest=1) for x in (0.5, 1.5, -0.5, -0.4)] == ['1"', '2"', '-1"', '0"']


TAPE_TALK = st.text(alphabet="0123456789 /.,'\"-+½⅜′″−⁄ftincmhedalqursx²٣\u00a0", max_size=30)


@given(st.one_of(st.text(max_size=100), TAPE_TALK), st.sampled_from(BARE))
def test_no_text_at_all_raises(text: str, bare: Bare) -> None:
    read = parse_length(text, bare)
    if isinstance(read, Reading):
        assert abs(read.metres) <= 1000
        assert read.step > 0
    else:
        assert read.what
        assert read.remedy


@pytest.mark.parametrize(
    ("typed", "step"),
    [
        ("51", 1.0),
        ("51 3/8", 0.125),
        ("4' 3 1/16", 0.0625),
        ("51.50", 0.01),
        ("4'", 12.0),
        ("131 cm", 1 / 2.54),
        ("131.0 cm", 0.1 / 2.54),
    ],
)
def test_step_is_the_finest_division_written(typed: str, step: float) -> None:
    read = parse_length(typed, "in")
    assert isinstance(read, Reading)
    assert read.step / INCH == pytest.approx(step, rel=1e-12)  # float noise of one multiplication


def test_the_finest_step_of_a_set_is_its_readers() -> None:
    reads = [parse_length(t, "in") for t in ("51", "37 1/2", "44 3/8")]
    assert finest_step(r for r in reads if isinstance(r, Reading)) == INCH / 8
    assert finest_step([]) is None
