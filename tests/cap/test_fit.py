"""The rectangle: its minimum kept at the guard, as even as it can be, square to the eye where that costs nothing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.cap.conftest import make_survey, random_survey

from crownwright.cap.choices import CapChoices
from crownwright.cap.fit import fit
from crownwright.cap.reach import reach, stone_of
from crownwright.geometry.hull import frame
from crownwright.quantity.units import INCH
from crownwright.survey.model import Survey

FREE = CapChoices(round_to=0.0)


def exact(survey: Survey) -> Survey:
    """The same survey with its guard drawn through the face itself."""
    return replace(survey, outline=replace(survey.outline, guard=survey.outline.face))


def test_a_true_rectangle_gets_the_overhang_wanted_all_round() -> None:
    found = fit(exact(make_survey()), FREE)
    assert (found.length, found.width) == (pytest.approx(48 * INCH), pytest.approx(38 * INCH))
    assert all(side.least == pytest.approx(4 * INCH) and side.most == pytest.approx(4 * INCH) for side in found.sides)
    assert found.turn == pytest.approx(0.0, abs=1e-9)
    assert np.allclose(found.corners / INCH, [(-4, -4), (44, -4), (44, 34), (-4, 34)])


@given(st.integers(0, 10**6))
def test_the_guard_never_comes_nearer_than_the_minimum(seed: int) -> None:
    survey = random_survey(np.random.default_rng(seed))
    found = fit(survey, CapChoices())
    local = (survey.outline.guard - found.corners[0]) @ frame(found.turn).T
    clear = np.concatenate([local, [found.length, found.width] - local]).min()
    assert clear >= 3 * INCH - 1e-9
    assert min(side.sure for side in found.sides) == pytest.approx(clear, abs=1e-9)


@given(st.integers(0, 10**6))
def test_no_turn_found_by_trying_them_all_is_more_even(seed: int) -> None:
    survey = random_survey(np.random.default_rng(seed))
    found = fit(survey, FREE)
    guard, recess = reach(stone_of(survey), found.turn + np.linspace(-0.3, 0.3, 6001))
    span = guard - recess
    over = np.maximum(3 * INCH, 4 * INCH - span / 2)
    stray = np.maximum(np.abs(over - 4 * INCH), np.abs(over + span - 4 * INCH)).max(1)
    assert found.evenest <= stray.min() + 2e-5  # the sweep's own step moves the ends of a 6 ft side by 0.1 mm
    assert found.uneven <= found.evenest + FREE.square_within + 1e-9


@given(st.integers(0, 10**6))
def test_sizes_come_to_the_step_and_no_larger_than_they_must(seed: int) -> None:
    found = fit(random_survey(np.random.default_rng(seed)), CapChoices())
    for size, shortest in ((found.length, found.shortest[0]), (found.width, found.shortest[1])):
        assert size / (INCH / 4) == pytest.approx(round(size / (INCH / 4)), abs=1e-6)
        assert size >= shortest - 1e-9


def test_a_lump_on_one_side_moves_the_cap_towards_it() -> None:
    lumps = np.zeros((4, 12))
    lumps[1, 6] = 1.0  # an inch proud in the middle of BC
    found = fit(exact(make_survey(lumps=lumps)), replace(FREE, turn=0.0))
    assert found.corners[1, 0] == pytest.approx(44.5 * INCH)  # 3 1/2 over the lump, 4 1/2 beside it
    assert found.sides[1].least == pytest.approx(3.5 * INCH)
    assert found.sides[1].most == pytest.approx(4.5 * INCH)


def test_a_side_that_runs_in_and_out_by_more_than_the_band_keeps_the_minimum() -> None:
    lumps = np.zeros((4, 12))
    lumps[1, 6] = 3.0
    side = fit(exact(make_survey(lumps=lumps)), replace(FREE, turn=0.0)).sides[1]
    assert side.least == pytest.approx(3 * INCH)
    assert side.most == pytest.approx(6 * INCH)


def test_it_stands_square_to_the_longest_side_when_that_costs_nothing() -> None:
    # CD leans by half a degree: the evenest turn is between, the longest side costs under 1/16 in.
    found = fit(exact(make_survey([(0, 0), (60, 0), (60, 30.05), (0, 30)])), FREE)
    assert found.square_to.startswith("the longest side")
    assert found.uneven - found.evenest <= INCH / 16


def test_it_does_not_stand_square_where_that_costs_evenness() -> None:
    found = fit(exact(make_survey([(0, 0), (60, 0), (60, 33), (0, 30)])), FREE)
    assert found.square_to in {"", "the mean of AB and CD"}
    assert found.turn == pytest.approx(0.025, abs=0.004)  # between AB (0) and CD (3 in 60)


@pytest.mark.parametrize(("length", "width"), [(50.0, None), (None, 41.0), (52.5, 44.0)])
def test_sizes_set_by_hand_stand_and_the_rest_is_solved(length: float | None, width: float | None) -> None:
    choices = CapChoices(length=length and length * INCH, width=width and width * INCH)
    found = fit(make_survey(), choices)
    if length:
        assert found.length == length * INCH
        assert found.sides[1].sure == pytest.approx(found.sides[3].sure, abs=1e-6)
    if width:
        assert found.width == width * INCH


def test_a_length_set_too_short_shares_the_shortage() -> None:
    found = fit(exact(make_survey()), CapChoices(length=44 * INCH))
    assert found.sides[1].sure == pytest.approx(2 * INCH)
    assert found.sides[3].sure == pytest.approx(2 * INCH)
    assert found.shortest[0] == pytest.approx(46 * INCH)


def test_a_turn_set_by_hand_stands() -> None:
    found = fit(make_survey(), CapChoices(turn=0.1))
    assert found.turn == 0.1
    assert min(side.sure for side in found.sides) >= 3 * INCH - 1e-9


@given(st.integers(0, 10**6), st.floats(-3.1, 3.1), st.floats(-5, 5), st.floats(-5, 5))
def test_turning_and_moving_the_survey_turns_and_moves_the_cap(seed: int, turn: float, x: float, y: float) -> None:
    from tests.cap.conftest import moved

    survey = random_survey(np.random.default_rng(seed))
    here, there = fit(survey, CapChoices()), fit(moved(survey, turn, (x, y)), CapChoices())
    assert (there.length, there.width) == (pytest.approx(here.length), pytest.approx(here.width))
    # the finest sweep is a thousandth of a degree, which moves the far corner of a 7 ft cap by 0.04 mm
    assert np.allclose(there.corners, here.corners @ frame(turn) + [x, y], atol=1e-4)


@pytest.mark.parametrize("count", [3, 5, 6])
def test_any_number_of_corners_is_covered(count: int, a_survey: Callable[..., Survey]) -> None:
    angle = np.arange(count) * 2 * np.pi / count
    ring = 25 * np.column_stack([np.cos(angle), np.sin(angle)])
    survey = a_survey(ring - ring[0])
    found = fit(survey, CapChoices())
    local = (survey.outline.face - found.corners[0]) @ frame(found.turn).T
    assert min(local.min(), (np.array([found.length, found.width]) - local).min()) >= 3 * INCH - 1e-9
