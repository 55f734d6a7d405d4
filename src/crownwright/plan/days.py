"""plan_days: from a plan and a forecast to the days to pour, the cure, the mixing day and when the form may come
off. Pure.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from crownwright.cap.model import CapDesign
from crownwright.checks.job import Case, check_job, figures_job
from crownwright.checks.sensitivity import Sensitivity
from crownwright.checks.settle import settled
from crownwright.codes.aci_305r_2010 import mix_temperature
from crownwright.codes.cap_rules import RuleSet
from crownwright.concrete.batches import Site, plan_batches
from crownwright.concrete.early import saying
from crownwright.concrete.mixing import Conditions, MixingPlan, mixing_for
from crownwright.concrete.model import ConcretePlan
from crownwright.concrete.strip import StripRule, overhang_of, overhang_stress, strength_needed, strip_rule
from crownwright.concrete.temperature import bag_mix
from crownwright.cure.cure import cure_for
from crownwright.cure.inputs import CapInWeather, FollowsAir, MixInCure, hose
from crownwright.cure.model import CurePlan
from crownwright.cure.on_the_day import Revision
from crownwright.plan.card_figures import card_figures
from crownwright.plan.day_choices import DayChoices
from crownwright.plan.day_matters import strip_sensitivity
from crownwright.plan.model import Plan
from crownwright.plan.paper_figures import shares
from crownwright.plan.recheck import exchanged
from crownwright.plan.told import cure_in_units
from crownwright.quantity.findings import Finding
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import DAY, HOUR
from crownwright.quantity.working import Figure
from crownwright.survey.model import Survey
from crownwright.weather.hours import Hours

GROUND = {"B": "wooded or suburb", "C": "open", "D": "open"}
"""Kind of ground for the wind, by exposure category (ASCE 7); where none was told, suburb."""
STRIKING = 0.5
"""Hours to strike off the wash once the last bucket is up (common practice, no source)."""
ANY_WARMTH = 20.0
"""degC at which batches are walked where only their clock is wanted: the warmth moves the open time, not the clock."""
STONE = "limestone"
"""Stone whose kind is not told: between granite and sandstone in the table of thermal properties."""


@dataclass(frozen=True, slots=True)
class DaysPlan:
    """The days. ``mixing`` and ``strip`` are None where no hour of the forecast will do and none was chosen."""

    plan: Plan
    hours: Hours
    choices: DayChoices
    cure: CurePlan
    mixing: MixingPlan | None
    strip: StripRule | None
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]
    problems: tuple[Problem, ...]
    matters: tuple[Sensitivity, ...] = ()
    """For bags, weight, clamp and strip time: which input matters most."""


def plan_days(
    plan: Plan, hours: Hours, choices: DayChoices | None = None, rng: np.random.Generator | None = None
) -> DaysPlan | None:
    """Choose the days for a plan and follow its pour; None when the plan has no cap to pour.

    ``rng`` is chance for the ensemble of perturbed forecasts that says how sure each hour is; without it that is
    left out. The plan in the answer is the one given, its checks made again with the strength at stripping.
    """
    if plan.survey is None or plan.cap is None or plan.concrete is None:
        return None
    chosen = choices or plan.job.pour
    stress, _ = overhang_stress(overhang_of(plan.cap), chosen.stripping)
    needed, _ = strength_needed(stress, chosen.stripping.margin, frost=chosen.stripping.frost)
    cure_choices = replace(
        chosen.cure,
        crew_hours=max(chosen.cure.crew_hours, hours_of_work(plan.concrete, chosen.site)),
        care=replace(chosen.cure.care, strip_days=max(chosen.cure.care.strip_days, chosen.stripping.floor / DAY)),
        strip_strength=needed,
        strip_floor=chosen.stripping.floor,
        with_bed=bool(plan.form and plan.form.bed_volume.mean > 0),
    )
    cure = cure_for(cap_in_weather(plan.survey, plan.cap, plan), hours, mix_in_cure(plan.concrete, chosen), cure_choices, rng)
    cure = cure_in_units(cure, plan.job.units)
    if cure.course is None:
        return DaysPlan(plan, hours, chosen, cure, None, None, cure.findings, cure.figures, cure.problems)
    strip = strip_rule(overhang_of(plan.cap), cure.strength_at, chosen.stripping)
    mixing = mixing_for(plan.concrete, conditions(hours, cure, chosen), plan.cap.edge_thickness, _from(chosen.site, cure))
    checked = with_strength_at_strip(plan, strip, cure)
    when = _strip_matters(cure, strip, hours)
    parts = (cure, mixing, strip)
    return DaysPlan(
        plan=checked,
        hours=hours,
        choices=chosen,
        cure=cure,
        mixing=mixing,
        strip=strip,
        findings=tuple(f for part in parts for f in part.findings),
        figures=(
            *(f for part in parts for f in part.figures),
            *saying().figures,
            *card_figures(plan.concrete, mixing, cure, saying()),
            *(figure for one in when for figure in shares(one)),
        ),
        problems=cure.problems,
        matters=(*checked.matters, *when),
    )


def _strip_matters(cure: CurePlan, strip: StripRule, hours: Hours) -> tuple[Sensitivity, ...]:
    assert cure.pour is not None  # as in conditions
    ahead = (cure.pour.at.timestamp() - float(hours.utc[0].astype("datetime64[s]").astype(int))) / DAY
    found = strip_sensitivity(cure, strip, ahead)
    return () if found is None else (found,)


def as_revised(days: DaysPlan, revision: Revision) -> DaysPlan:
    """Return the days as the log of the pour day makes them: the cure's course and moments, and when the form may come off."""
    cure = replace(days.cure, struck=revision.struck, moments=revision.moments, course=revision.course)
    assert days.plan.cap is not None  # a pour was logged, so there is a cap
    strip = strip_rule(overhang_of(days.plan.cap), cure.strength_at, days.choices.stripping)
    return replace(days, cure=cure, strip=strip, figures=(*days.figures, *revision.figures))


def hours_of_work(pour: ConcretePlan, site: Site) -> float:
    """Return hours from the first water on cement to the wash struck off, by the batch clock.

    The clock does not hang on the weather, so it is walked before an hour is chosen.
    """
    batches = plan_batches(pour.lifts, pour.count, pour.bag, pour.mix, ANY_WARMTH, site)
    return (batches.done - site.start) / HOUR + STRIKING


def cap_in_weather(survey: Survey, cap: CapDesign, plan: Plan) -> CapInWeather:
    """Return the cap as the weather meets it. The middle is as thick as the concrete over the stone is on average."""
    around = plan.job.surroundings
    rim = max(cap.length * cap.width - survey.outline.area.mean, 0.0)
    held = sum(flue.size[0] * flue.size[1] for flue in survey.flues)
    over_stone = max(survey.outline.area.mean - held, 1e-3)
    middle = (cap.volume.all.mean - rim * cap.edge_thickness) / over_stone
    return CapInWeather(
        edge_thickness=cap.edge_thickness,
        middle_thickness=max(middle, cap.choices.cover_least),
        overhang=max(float(np.mean([side.least for side in cap.sides])), 0.0),
        length=cap.length,
        width=cap.width,
        ground=GROUND[around.exposure or "B"],
        masonry="brick" if survey.readings.masonry == "brick" else STONE,
        **({"height": around.top_height} if around.top_height else {}),
    )


def mix_in_cure(pour: ConcretePlan, choices: DayChoices) -> MixInCure:
    """Return the mix as the cure needs it: its temperature where bags and water are both told, else as it follows the air."""
    mix = pour.mix
    strength_sd = mix.strength.sd / mix.strength.mean
    made = MixInCure(mix.cement_content, mix.water_cement.mean, mix.strength.mean, strength_sd)
    if choices.bags is not None and choices.water is not None:
        return replace(made, temperature=_comes_out(pour, choices.bags, choices.water, choices.ice))
    return replace(made, follows=_follows(pour, choices))


def _comes_out(pour: ConcretePlan, bags: float, water: float, ice: float) -> float:
    """Temperature of the mix, degC, from those of the bags and the water and the ice in a bag's water, kg."""
    return mix_temperature(bag_mix(pour.bag, pour.mix.water, bags, water, portland=pour.mix.portland, ice=ice))


def _follows(pour: ConcretePlan, choices: DayChoices) -> FollowsAir:
    """How the mix follows the air where bags or water are not told: the balance of heat is linear in each temperature."""
    bags, water, ice = choices.bags or 0.0, choices.water or 0.0, choices.ice
    base = _comes_out(pour, bags, water, ice)
    of_air = _comes_out(pour, bags + 1.0, water, ice) - base if choices.bags is None else 0.0
    of_hose = _comes_out(pour, bags, water + 1.0, ice) - base if choices.water is None else 0.0
    return FollowsAir(base, of_air, of_hose)


def conditions(hours: Hours, cure: CurePlan, choices: DayChoices) -> Conditions:
    """Return what the thermometer will say at the first batch of the pour that was followed, and the day's highest."""
    assert cure.pour is not None  # a course was followed, so an hour was chosen
    start = np.datetime64(int(cure.pour.at.timestamp()), "s")
    k = int(np.clip(np.searchsorted(hours.utc, start, side="right") - 1, 0, len(hours.utc) - 1))
    air = float(hours.air[k])
    high = float(hours.air[k : k + 12].max())
    water = choices.water if choices.water is not None else float(hose(np.array(air)))
    return Conditions(choices.bags if choices.bags is not None else air, water, air, high, choices.ice)


def with_strength_at_strip(plan: Plan, strip: StripRule, cure: CurePlan) -> Plan:
    """Return the plan with its checks made again, now that the strength at stripping is known on its low side."""
    if strip.strip is None or plan.survey is None:
        return plan
    low = max(cure.strength_at(strip.strip).quantile(0.05), 0.0)
    job = replace(plan.job, checks=replace(plan.job.checks, strength_at_strip=low))
    before = Case(plan.survey, _rules(plan), job.surroundings, plan.cap, plan.form, plan.concrete, plan.job.checks)
    after = replace(before, choices=job.checks)
    old, new = settled((*_own(plan), *check_job(before))), settled((*_own(plan), *check_job(after)))
    return replace(
        plan,
        findings=exchanged(plan.findings, old, new),
        figures=exchanged(plan.figures, figures_job(before), figures_job(after)),
    )


def _own(plan: Plan) -> tuple[Finding, ...]:
    """What the cap itself has found, some of which the checks find too and tell as one."""
    return plan.cap.findings if plan.cap is not None else ()


def _rules(plan: Plan) -> RuleSet:
    return plan.job.rule_set()


def _from(site: Site, cure: CurePlan) -> Site:
    """The mixing clock starts at the hour chosen."""
    assert cure.pour is not None  # as in conditions
    at = cure.pour.at
    return replace(site, start=at.hour * HOUR + at.minute * 60.0)
