"""The pour from a cap: counts, lifts, weights, mortar, and figures that open to sources that exist."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from crownwright.cap.model import CapDesign
from crownwright.concrete.choices import ConcreteChoices
from crownwright.concrete.pour import pour_for
from crownwright.quantity.findings import Verdict
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import FT3, LB, QUART
from crownwright.sources.bibliography import spell

Build = Callable[..., CapDesign]
PLAIN = ConcreteChoices()


def test_a_cap_of_average_size_takes_six_to_ten_eighty_pound_bags(cap: Build) -> None:
    """Common practice, no source: an average cap takes 6 to 10 eighty-pound bags; one about 4 by 3 1/2 ft took seven."""
    for cubic_feet in (3.3, 4.2, 5.0):
        assert 6 <= pour_for(cap(cubic_feet), PLAIN).count.bags <= 10


def test_lifts_share_the_bags_and_the_volume(cap: Build) -> None:
    plan = pour_for(cap(4.2, lower=0.65), PLAIN)
    lower, upper = plan.lifts
    assert lower.planned + upper.planned == plan.count.bags
    assert lower.bags + upper.bags == pytest.approx(plan.need.bags.mean)
    assert lower.planned >= lower.bags
    assert lower.water > plan.bag.water_usual > upper.water >= plan.bag.water_low
    assert lower.volume + upper.volume == pytest.approx(4.2 * FT3)


def test_all_in_one_lift_leaves_none_for_the_other(cap: Build) -> None:
    lower, upper = pour_for(cap(lower=1.0), PLAIN).lifts
    assert upper.bags == 0.0
    assert lower.planned + upper.planned == pour_for(cap(lower=1.0), PLAIN).count.bags


def test_weight_is_volume_by_density_and_dries_lighter(cap: Build) -> None:
    plan = pour_for(cap(3.5), PLAIN)
    assert 140 < plan.weight.mean / LB / 3.5 < 150  # lb/ft3, the usual range of fresh normal concrete
    assert 0.93 < plan.weight_dry.mean / plan.weight.mean < 1.0
    assert plan.weight.mean / LB == pytest.approx(500, abs=25)  # common practice: a cap of about 3 1/2 ft3 weighs about 500 lb


def test_portland_stretches_the_bag_and_is_counted(cap: Build) -> None:
    plain, rich = pour_for(cap(), PLAIN), pour_for(cap(), replace(PLAIN, portland=2 * LB))
    assert rich.need.per_bag - plain.need.per_bag == pytest.approx(2 * 0.00509 * FT3, rel=0.30)  # its own water comes on top
    assert rich.portland == pytest.approx(2 * LB * rich.need.bags.mean)
    assert rich.mix.water_cement.mean < plain.mix.water_cement.mean


def test_too_much_portland_is_a_finding_with_the_amount(cap: Build) -> None:
    plan = pour_for(cap(), replace(PLAIN, portland=12 * LB))
    finding = next(f for f in plan.findings if f.key == "concrete.portland")
    assert finding.verdict is Verdict.SHORT
    assert finding.short_by == pytest.approx(12 * LB - plan.enrichment.most)


def test_water_off_the_label_is_a_finding(cap: Build) -> None:
    plan = pour_for(cap(), replace(PLAIN, water=5 * QUART))
    finding = next(f for f in plan.findings if f.key == "concrete.water")
    assert finding.verdict is Verdict.SHORT
    assert finding.short_by == pytest.approx(1 * QUART)


def test_a_plain_bag_cannot_give_the_air_that_f2_asks(cap: Build) -> None:
    plan = pour_for(cap(), PLAIN)
    verdicts = {f.key: f.verdict for f in plan.findings}
    assert verdicts["concrete.exposure.air"] is Verdict.SHORT
    assert verdicts["concrete.exposure.strength.2019"] is Verdict.SHORT
    assert verdicts["concrete.exposure.strength.ibc"] is Verdict.OK
    labelled = pour_for(cap(), replace(PLAIN, air_entrained=True))
    assert next(f for f in labelled.findings if f.key == "concrete.exposure.air").verdict is Verdict.CANNOT_TELL


def test_no_bed_no_mortar_and_a_bed_has_its_own_count(cap: Build) -> None:
    assert pour_for(cap(), PLAIN).mortar is None
    bed = pour_for(cap(), PLAIN, Uncertain(1.0 * FT3, 0.2 * FT3)).mortar
    assert bed is not None
    assert bed.bags == 3  # 1.0 / 0.9 waste / 0.69 = 1.6 bags, a fifth of spread: two would run short once in seven
    assert bed.chance_short <= 0.02 < bed.one_fewer


def test_the_box_rule_is_shown_beside(cap: Build) -> None:
    assert pour_for(cap(box=4.5), PLAIN).box_rule_bags == 9  # 4.5 / 0.60 = 7.5 -> 8, and one spare


@pytest.mark.parametrize("name", ["80 lb", "60 lb", "50 lb", "40 lb", "25 kg", "20 kg"])
def test_every_bag_makes_a_plan_whose_figures_open_to_a_source(cap: Build, name: str) -> None:
    plan = pour_for(cap(), replace(PLAIN, bag=name), Uncertain(0.01, 0.002))
    keys = [figure.key for figure in plan.figures]
    assert len(set(keys)) == len(keys)
    for figure in plan.figures:
        assert spell(figure.cite)
        assert all(spell(term.cite) for term in figure.inputs if term.cite)
    assert all(spell(finding.cite) for finding in plan.findings)


def test_an_unknown_bag_lists_those_there_are(cap: Build) -> None:
    with pytest.raises(KeyError, match="80 lb"):
        pour_for(cap(), replace(PLAIN, bag="90 lb"))
