"""Soffit, edge, fall and flues, solved together: worked sections, and what happens when they do not agree."""

from __future__ import annotations

from dataclasses import replace
from math import atan, tan
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.cap.conftest import Bed, flue, make_survey

from crownwright.cap.choices import CapChoices
from crownwright.cap.design import design_cap
from crownwright.cap.model import CapDesign
from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import INCH
from crownwright.survey.model import Survey

FLAT = Bed(wave=0.0, sd=0.01 * INCH, highest=Uncertain(-1.5 * INCH, 0.01 * INCH))


def top(height: float = 14, **changes: Any) -> Survey:
    """A 40 by 30 in. top, flat 2 in. under the string, with one 13x13 flue whose top stands ``height`` in. over the string."""
    return make_survey(flues=[flue(top=height)], bed=replace(FLAT, **changes))


def find(cap: CapDesign, key: str) -> Finding:
    return next(finding for finding in cap.findings if finding.key == key)


def test_the_soffit_laps_the_lowest_edge_at_its_spread_by_a_quarter_down_to_the_next_eighth() -> None:
    cap = design_cap(top(), CapChoices())
    # lowest edge -2.6 +/- 0.1: at 99.5 % -2.8576, a quarter inch lapped -3.1076, the next eighth down -3.125
    assert cap.soffit / INCH == pytest.approx(-3.125)


def test_the_shallowest_board_that_covers_the_hump_is_taken() -> None:
    low, high = (design_cap(top(24, highest=Uncertain(h * INCH, 0.05 * INCH), sd=2 * INCH), CapChoices()) for h in (-1.2, 0.4))
    assert (low.edge_board, low.edge_thickness / INCH) == ("2x4", pytest.approx(3.5))
    assert (high.edge_board, high.edge_thickness / INCH) == ("2x6", pytest.approx(5.5))
    assert high.edge == pytest.approx(high.soffit + 5.5 * INCH)


def test_cover_is_told_at_its_spread() -> None:
    cap = design_cap(top(24, highest=Uncertain(-1.0 * INCH, 0.3 * INCH), sd=2 * INCH), CapChoices())
    cover = find(cap, "cap.cover")
    assert cover.provided == pytest.approx(cap.cover_least.mean - 2.5758 * 0.3 * INCH, rel=1e-4)
    assert cover.verdict is Verdict.OK


def test_a_hump_that_no_board_covers_is_a_finding_with_the_amount_and_the_cure() -> None:
    cap = design_cap(top(30, highest=Uncertain(6 * INCH, 0.05 * INCH), sd=4 * INCH), CapChoices())
    cover = find(cap, "cap.cover")
    assert cap.edge_board == "2x8"
    assert cover.verdict is Verdict.SHORT
    assert cover.short_by > 0
    assert "Dress the highest hump down" in cover.action
    assert "2x10" in cover.action or "2x12" in cover.action


def test_height_enough_gives_three_inches_to_the_foot() -> None:
    cap = design_cap(top(24), CapChoices())
    crest = cap.crest - cap.edge
    assert tan(cap.least_slope) == pytest.approx(0.25, abs=0.02)
    assert crest / (INCH / 8) == pytest.approx(round(crest / (INCH / 8)), abs=1e-6)  # a whole number of eighths


def test_a_flue_of_middling_height_eases_the_wash_and_stays_proud_as_wanted() -> None:
    cap = design_cap(top(8.2), CapChoices())
    assert CapChoices().slope_least < cap.least_slope < atan(0.25) - 0.005
    assert cap.flues[0].extension == 0
    assert cap.flues[0].proud.mean / INCH == pytest.approx(4.0)
    assert find(cap, "cap.proud.F1").verdict is Verdict.OK
    assert "extend F1" in find(cap, "cap.fall_wanted").action


def test_between_four_and_two_inches_proud_the_wash_keeps_its_least_fall() -> None:
    cap = design_cap(top(7.0), CapChoices())
    assert cap.least_slope == pytest.approx(CapChoices().slope_least, abs=2e-3)
    assert 2 * INCH < cap.flues[0].proud.mean < 4 * INCH
    assert cap.flues[0].extension == 0


def test_too_short_a_flue_is_extended_and_both_ways_out_are_told() -> None:
    cap = design_cap(top(3.5), CapChoices())
    fit = cap.flues[0]
    assert fit.proud.mean == pytest.approx(4 * INCH)
    assert fit.extension == pytest.approx(fit.meets_high + 4 * INCH - 3.5 * INCH)
    assert fit.extension_joint is not None
    assert fit.extension_joint <= fit.meets_low - 1 * INCH + 1e-9  # buried
    assert fit.cut_back == pytest.approx(3.5 * INCH - fit.extension_joint)
    told = find(cap, "cap.extension.F1")
    assert told.verdict is Verdict.SHORT
    assert told.provided == pytest.approx(3.5 * INCH - fit.meets_high)
    assert "set on a piece" in told.action
    assert "to the foot (57 mm per m) is possible" in told.action
    assert find(cap, "cap.proud.F1").verdict is Verdict.OK


def test_a_flue_under_the_stone_is_a_finding_of_its_own() -> None:
    cap = design_cap(top(-4.0), CapChoices())
    assert find(cap, "cap.extension_joint.F1").verdict is Verdict.SHORT


def test_a_flue_too_tall_is_told_by_how_much() -> None:
    cap = design_cap(top(30), CapChoices())
    proud = find(cap, "cap.proud.F1")
    assert proud.verdict is Verdict.SHORT
    assert proud.short_by == pytest.approx(cap.flues[0].proud.mean - 4 * INCH)


def test_a_short_flue_is_extended_and_does_not_flatten_the_wash_for_the_tall_one() -> None:
    flues = [flue("F1", (20, 18), top=3), flue("F2", (40, 18), top=16)]
    cap = design_cap(make_survey([(0, 0), (60, 0), (60, 36), (0, 36)], flues, FLAT), CapChoices())
    assert [f.extension > 0 for f in cap.flues] == [True, False]
    assert tan(cap.least_slope) == pytest.approx(0.25, abs=0.01)
    assert cap.sheds


@pytest.mark.parametrize("board", ["2x4", "2x8", "2x12"])
def test_a_board_set_by_hand_stands(board: str) -> None:
    assert design_cap(top(24), CapChoices(edge_board=board)).edge_board == board


def test_a_thickness_set_by_hand_stands_and_names_the_board_it_is_ripped_from() -> None:
    cap = design_cap(top(24), CapChoices(edge_thickness=4.25 * INCH))
    assert cap.edge_thickness == 4.25 * INCH
    assert cap.edge_board == "2x6"


def test_a_soffit_set_by_hand_above_the_stone_s_edge_is_a_finding() -> None:
    cap = design_cap(top(24), CapChoices(soffit_drop=2 * INCH))
    soffit = find(cap, "cap.soffit")
    assert cap.soffit == -2 * INCH
    assert soffit.verdict is Verdict.SHORT
    assert soffit.short_by / INCH == pytest.approx(0.8576, abs=1e-3)


@given(st.floats(-6, 24), st.floats(-1.8, 4))
def test_flues_stand_proud_or_are_made_to(height: float, hump: float) -> None:
    choices = CapChoices()
    cap = design_cap(top(height, highest=Uncertain(hump * INCH, 0.1 * INCH), sd=2 * INCH), choices)
    fit = cap.flues[0]
    assert fit.proud.quantile(1 - choices.sure) >= choices.proud_least - 1e-6
    assert cap.least_slope >= choices.slope_least
    assert fit.extension >= 0
    assert cap.sheds


@given(st.floats(4, 20))
def test_a_taller_flue_never_gives_a_flatter_wash(height: float) -> None:
    lower, higher = (design_cap(top(h), CapChoices(edge_board="2x4", level_step=0.0)) for h in (height, height + 1))
    if lower.flues[0].extension == 0:
        assert higher.least_slope >= lower.least_slope - 1e-9


def test_a_flue_extended_for_the_humps_sake_does_not_flatten_the_wash() -> None:
    """The fall that leaves the flue proud leaves the hump bare: once it is extended, the wash gets the fall wanted."""
    lower, higher = (
        design_cap(top(8.1, highest=Uncertain(hump * INCH, 0.05 * INCH), sd=2 * INCH), CapChoices(edge_board="2x6"))
        for hump in (1.1, 1.2)
    )
    assert lower.flues[0].extension == 0
    cap = higher
    assert cap.flues[0].extension > 0
    assert tan(cap.least_slope) == pytest.approx(0.25, abs=0.01)
    assert find(cap, "cap.cover").verdict is Verdict.OK
