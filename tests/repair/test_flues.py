"""Flues: sizes by their measured inside, pieces from stock lengths, screens by free area."""

from __future__ import annotations

from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.repair.stacks import plan, repair, with_example

from crownwright.codes.astm_c315 import TYPICAL_LENGTH, liners
from crownwright.quantity.findings import Verdict
from crownwright.quantity.units import INCH
from crownwright.repair.flues import KERF, TOLERANCE, boards, nearest_liner
from crownwright.repair.record import FlueRepair


@pytest.mark.parametrize("name", list(liners()))
def test_each_liner_is_found_by_its_own_inside(name):
    own = liners()[name]
    found = nearest_liner(own.shape, (own.long, own.short), (own.inside_short, own.inside_long))
    assert found == own


def test_what_is_like_no_liner_is_none():
    assert nearest_liner("rectangular", (9.4 * INCH, 9.4 * INCH), (8.5 * INCH, 8.5 * INCH)) is None
    assert nearest_liner("round", (0.31, 0.31), None) is None or TOLERANCE > 0


@settings(deadline=None)
@given(st.lists(st.floats(1 * INCH, 60 * INCH), min_size=1, max_size=8))
def test_stock_covers_the_pieces_and_wastes_no_length(pieces):
    count = boards(pieces)
    assert count >= ceil(sum(pieces) / TYPICAL_LENGTH - 1e-9)
    assert count <= sum(ceil(piece / TYPICAL_LENGTH) for piece in pieces)


def test_pieces_share_a_length():
    assert boards([11 * INCH, 11 * INCH]) == 1
    assert boards([TYPICAL_LENGTH / 2] * 2) == 2  # the saw takes its part
    assert boards([TYPICAL_LENGTH / 2 - KERF] * 2) == 1


def test_a_screen_by_free_area():
    def shown(high):
        one = FlueRepair("F2", screen_pitch=0.5 * INCH, screen_wire=0.041 * INCH, screen_high=high * INCH)
        return {f.key: f for f in repair(with_example(flues=(one,))).findings}["repair.screen.F2"]

    assert shown(12).verdict is Verdict.OK
    assert shown(6).verdict is Verdict.SHORT
    # by hand: 13x13 outside, 52 in. round, 12 in. high, 0.843 open, over 11 1/4 x 11 1/8 in. inside
    assert shown(12).provided == pytest.approx(52 * 12 * 0.8427 / (11.25 * 11.125), rel=0.001)


def test_mesh_too_wide_for_sparks():
    one = FlueRepair("F2", screen_pitch=0.75 * INCH, screen_wire=0.041 * INCH, screen_high=12 * INCH)
    found = {f.key: f for f in repair(with_example(flues=(one,))).findings}
    assert found["repair.screen_mesh.F2"].verdict is Verdict.SHORT


def test_a_changed_top_tile_makes_up_for_what_the_cap_wants():
    works = {work.name: work for work in plan().repair.flues.flues}
    fits = {fit.name: fit for fit in plan().cap.flues}
    assert works["F1"].piece == pytest.approx(fits["F1"].extension + max(fits["F1"].cut_back, 8 * INCH))
    assert works["F2"].piece == pytest.approx(fits["F2"].extension + (fits["F2"].cut_back if fits["F2"].extension else 0.0))


def test_lengths_that_the_cap_buys_are_not_bought_again():
    lines = [line for line in plan().repair.materials if line.key == "flue liner"]
    by_cap = sum(fit.extension > 0 for fit in plan().cap.flues)
    pieces = sum(count for _, count in plan().repair.flues.lengths)
    assert sum(line.amount for line in lines) + by_cap == max(pieces, by_cap)


def test_heights_of_flues_that_serve_different_things():
    shown = {figure.key: figure for figure in plan().repair.figures}["repair.flue_heights"]
    tops = [term.value for term in shown.inputs]
    assert shown.value == pytest.approx(max(tops) - min(tops))
    extended = {flue.name: flue.top.mean for flue in plan().survey.flues}
    assert all(term.value >= extended[term.symbol] for term in shown.inputs)
