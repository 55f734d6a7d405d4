"""All the checks of a whole job: the demo chimney through survey, cap, form and pour."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from crownwright.cap.design import design_cap
from crownwright.checks.boards import boards_of, check_boards
from crownwright.checks.choices import Appliance, CheckChoices, People
from crownwright.checks.job import Case, check_job, figures_job, what_matters
from crownwright.checks.screws import check_screws, holds
from crownwright.checks.strip import check_strip, order_of, part_of, strip_model
from crownwright.checks.strip_model import Fastener, FormModel
from crownwright.checks.strip_order import strip_order
from crownwright.codes.cap_rules import rule_set
from crownwright.concrete.pour import pour_for
from crownwright.form.build import build_form
from crownwright.quantity.findings import Verdict
from crownwright.quantity.units import FOOT, INCH, LBF, PSI
from crownwright.service.open_job import open_demo
from crownwright.sources.bibliography import spell
from crownwright.survey.adjust import adjust


@pytest.fixture(scope="module")
def case() -> Case:
    job = open_demo().job
    survey, _ = adjust(job.readings)
    cap = design_cap(survey, job.cap)
    form = build_form(survey, cap, job.form, cut_list=False)
    pour = pour_for(cap, job.concrete, form.bed_volume)
    fireplace = Appliance("F1", opening=(36 * INCH, 29 * INCH), hearth_to_top=25 * FOOT)
    choices = CheckChoices(appliances=(fireplace,), seismic="B", rain_cap=12 * INCH)
    return Case(survey, rule_set(job.code_set), job.surroundings, cap, form, pour, choices)


def test_every_group_is_there(case):
    groups = {one.key.split(".")[0] for one in check_job(case)}
    assert groups == {"code", "stack", "flue", "strength", "heat", "form", "people"}


def test_every_finding_has_a_source_a_subject_and_something_to_do_where_it_is_not_met(case):
    for one in check_job(case):
        assert spell(one.cite)
        assert one.rule
        assert one.subject
        assert one.action or one.verdict is Verdict.OK
        words = f"{one.rule} {one.subject} {one.action}".lower()
        assert "safe" not in words


def test_no_number_is_ever_not_a_number(case):
    for one in check_job(case):
        assert one.provided is None or np.isfinite(one.provided)
        assert one.verdict is not Verdict.SHORT or one.short_by > 0 or one.provided is None
    assert all(np.isfinite(one.value) for one in figures_job(case))


def test_every_figure_has_formula_inputs_source_and_a_key_of_its_own(case):
    figures = figures_job(case)
    keys = [one.key for one in figures]
    assert len(set(keys)) == len(keys)
    for one in figures:
        assert one.formula
        assert one.inputs
        assert one.label
        assert spell(one.cite)


def test_outside_its_range_a_formula_gives_its_figure_and_says_so(case):
    figures = {one.key: one for one in figures_job(case)}
    assert figures["checks.lifting.bucket.index"].extrapolated
    assert not figures["checks.lifting.bag.index"].extrapolated
    assert figures["checks.heat.F1.gas"].extrapolated  # an open fire, which the method leaves out
    squat = replace(case, around=replace(case.around, roof_below_string=0.2, roof_below_string_low=0.2))
    wind = next(one for one in figures_job(squat) if one.key == "checks.stack.wind")
    assert wind.extrapolated
    assert wind.holds


def test_what_matters_most_is_ranked_for_bags_weight_and_clamp(case):
    found = {one.key: one for one in what_matters(case)}
    assert set(found) == {"concrete.bags", "concrete.weight", "checks.clamp.dry"}
    assert found["concrete.bags"].value == pytest.approx(case.concrete.need.bags.mean, rel=0.01)
    assert found["concrete.bags"].sd == pytest.approx(case.concrete.need.bags.sd, rel=0.05)
    assert all(sum(pull.share for pull in one.pulls) == pytest.approx(1.0) for one in found.values())


def test_snow_not_told_is_an_open_question(case):
    bare = replace(case, around=replace(case.around, ground_snow=None))
    assert "strength.snow" in {one.key for one in check_job(bare)}


def test_same_case_same_findings(case):
    assert check_job(case) == check_job(case)


def test_it_goes_on_with_whatever_there_is(case):
    bare = Case(case.survey, case.rules)
    assert {one.key.split(".")[0] for one in check_job(bare)} == {"code", "stack", "people"}
    assert figures_job(bare)
    no_form = replace(case, form=None, concrete=None)
    assert not any(one.key.startswith("form.") for one in check_job(no_form))


def test_the_form_as_designed_comes_off_and_so_do_the_parts_in_a_masons_order(case):
    """Hung by its walls: what lies under them first, from below, then the walls; nothing falls on the way."""
    order = order_of(case.survey, case.cap, case.form)
    assert order.comes_off
    assert order.falls == order.loose == ()
    first = {name: k for k, step in enumerate(order.steps) for name in step.parts}
    kinds = {part_of(piece): piece.part for piece in case.form.pieces}
    turn = {kind: [k for name, k in first.items() if kinds[name] == kind] for kind in kinds.values()}
    assert max(turn["corner block"]) < min(turn["soffit board"])
    assert max(turn["soffit board"]) < min(turn["sidewall"])
    straps = next(k for k, step in enumerate(order.steps) if any(name.startswith("strap") for name in step.draw))
    lines = [k for k, step in enumerate(order.steps) if any(name.startswith("hang line") for name in step.draw)]
    assert straps < min(lines)


def test_without_its_lines_the_form_falls_when_the_straps_go(case):
    bare = replace(case.form, hanging=replace(case.form.hanging, lines=()))
    order = order_of(case.survey, case.cap, bare)
    assert order.comes_off
    assert order.falls
    held = next(one for one in check_strip(order) if one.key == "form.strip.held")
    assert held.verdict is Verdict.SHORT


def test_without_the_screw_in_the_mitre_the_first_moulding_falls_with_its_board(case):
    bare = replace(case.form, screws=tuple(one for one in case.form.screws if one.place != "mitre"))
    order = order_of(case.survey, case.cap, bare)
    first = next(piece.name for piece in case.form.pieces if piece.part == "quarter-round")
    assert first in order.falls


def test_a_screw_of_the_real_form_driven_into_the_stone_from_above_is_named(case):
    model = strip_model(case.survey, case.cap, case.form)
    board = next(piece for piece in case.form.pieces if piece.part == "soffit board")
    spot = np.asarray(board.footprint).mean(axis=0)
    bad = Fastener("forgotten", (board.name, "stone"), (float(spot[0]), float(spot[1]), case.cap.soffit), (0.0, 0.0, -1.0))
    order = strip_order(FormModel(model.parts, (*model.fasteners, bad), model.concrete, model.stone))
    assert order.move == ("forgotten",)


def test_boards_and_screws_of_the_form_as_designed_hold(case):
    assert {one.verdict for one in check_boards(case.form, case.cap, "SPF No.1/No.2")} == {Verdict.OK}
    assert {one.verdict for one in check_screws(case.form, case.cap, holds(case.form, "SPF No.1/No.2"))} == {Verdict.OK}
    assert len(boards_of(case.form, case.cap)) >= 2 * len(case.form.sides)


def test_screws_pulled_out_of_end_grain_count_for_nothing(case):
    for mine in holds(case.form, "SPF No.1/No.2").values():
        for hold in mine:
            assert (hold.force == 0) == (hold.how == "end grain, pulled")


def test_a_corner_cleat_is_worth_what_holds_it_by_hand(case):
    """No. 8 by 2 1/2 in. through 1 1/2 in. bite 1 in., over six diameters (0.98) and under ten (1.64): 78.4 lb (mode IV, SPF) by
    1/1.64, seven days 1.25, wet 0.7 is 41.8 lb sideways. The cleat stands outside one wall, which pushes it: its screws into the
    horn count, sideways. The other wall pulls on it by the horn: 82 lb/in. x 1 in. x 0.875 is 71.8 lb a screw, but the cleat
    holds to its neighbour by 41.8, so 41.8 counts.
    """
    found = [hold for mine in holds(case.form, "SPF No.1/No.2").values() for hold in mine if hold.screw.place == "corner cleat"]
    assert len(found) == 4 * len(case.form.sides)
    for hold in found:
        assert hold.force / LBF == pytest.approx(41.8, abs=0.1)


def test_a_cleat_without_its_horn_holds_nothing(case):
    kept = tuple(one for one in case.form.screws if not (one.place == "corner cleat" and one.joins[0].startswith("sidewall")))
    bare = replace(case.form, screws=kept)
    found = [hold for mine in holds(bare, "SPF No.1/No.2").values() for hold in mine if hold.screw.place == "corner cleat"]
    assert sum(hold.force for hold in found) == 0.0


def test_walls_left_with_end_grain_alone_are_short(case):
    """Take the cleats, kickers and foot screws away: what is left holds each wall at one end only, by its end grain."""
    kept = tuple(one for one in case.form.screws if one.place == "wall corner")
    bare = replace(case.form, screws=kept)
    assert Verdict.SHORT in {one.verdict for one in check_screws(bare, case.cap, holds(bare, "SPF No.1/No.2"))}


def test_strength_at_strip_and_a_leaning_person_move_the_verdicts(case):
    weak = replace(case, choices=replace(case.choices, strength_at_strip=100 * PSI))
    found = {one.key: one.verdict for one in check_job(weak)}
    assert found["strength.bending.stone.strip"] is Verdict.SHORT
    crowd = replace(case, choices=replace(case.choices, people=People(edge_load=20000.0)))
    dry = {one.key: one.provided for one in check_job(crowd)}["form.clamp.dry"]
    assert dry < {one.key: one.provided for one in check_job(case)}["form.clamp.dry"]
