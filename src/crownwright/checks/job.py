"""All the checks of one job, and the figures they compare. Pure: what is not known is left as an open question."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from crownwright.cap.model import CapDesign, FlueFit
from crownwright.checks.boards import check_boards, figures_boards
from crownwright.checks.cap_details import check_cap
from crownwright.checks.cap_hold import check_cap_hold, figures_cap_hold
from crownwright.checks.cap_strength import EdgeLoad, check_overhang_strength, figures_overhang
from crownwright.checks.choices import Appliance, CheckChoices
from crownwright.checks.clamp import check_clamp, figures_clamp
from crownwright.checks.flue_heat import check_flue_heat, figures_flue_heat, heat_of
from crownwright.checks.flues import check_flue_size, check_openings, figures_flue
from crownwright.checks.form_case import FormCase
from crownwright.checks.height import check_height_above_roof, figures_height
from crownwright.checks.movement import check_movement, figures_movement
from crownwright.checks.people import check_people, figures_people
from crownwright.checks.screws import check_screws, figures_screws
from crownwright.checks.sensitivity import Sensitivity, bags_sensitivity, clamp_sensitivity, weight_sensitivity
from crownwright.checks.stack import check_stack, figures_stack, stack_of
from crownwright.checks.stack_shape import check_cricket, check_seismic, check_slenderness, check_wythes, figures_stack_shape
from crownwright.checks.strip import check_strip
from crownwright.checks.tell import open_question
from crownwright.codes.cap_rules import RuleSet
from crownwright.concrete.model import ConcretePlan
from crownwright.form.model import FormDesign
from crownwright.quantity.findings import Finding
from crownwright.quantity.working import Cite, Figure
from crownwright.survey.model import PlacedFlue, Survey
from crownwright.survey.readings import Surroundings


@dataclass(frozen=True)
class Case:
    """What there is to check: a survey, and as much of cap, form and pour as could be planned; the roof, the rules, the rest.

    ``worked`` is what was worked out of this very form before, if it was. It keeps what both findings and figures ask of it, so
    it is frozen but not slotted.
    """

    survey: Survey
    rules: RuleSet
    around: Surroundings = field(default_factory=Surroundings)
    cap: CapDesign | None = None
    form: FormDesign | None = None
    concrete: ConcretePlan | None = None
    choices: CheckChoices = field(default_factory=CheckChoices)
    worked: FormCase | None = None

    @property
    def strength(self) -> float | None:
        """Strength at 28 days, Pa: as told, or the mix's less two standard errors."""
        if self.choices.strength_28 is not None or self.concrete is None:
            return self.choices.strength_28
        mix = self.concrete.mix.strength
        return max(mix.mean - 2 * mix.sd, 0.0)

    @property
    def load(self) -> EdgeLoad:
        """Snow and a person on the overhang; no snow where none was told (the finding on the site says so)."""
        return EdgeLoad(self.around.ground_snow or 0.0, self.choices.people.edge_load)

    @property
    def bag_mass(self) -> float | None:
        """Mass of one bag, kg."""
        return None if self.concrete is None else self.concrete.bag.mass

    @cached_property
    def stands(self) -> FormCase | None:
        """The form on its chimney; None without a form."""
        if self.worked is not None or self.cap is None or self.form is None:
            return self.worked
        return FormCase(self.survey, self.cap, self.form, self.choices.people.edge_load, self.choices.wood)

    def appliance(self, flue: PlacedFlue) -> Appliance | None:
        """What a flue serves, where it was told."""
        return next((one for one in self.choices.appliances if one.flue == flue.name), None)


SNOW = Cite("asce_7_2016", "7.2, ground snow loads")


def check_job(case: Case) -> tuple[Finding, ...]:
    """Return every finding on a job, in the order of the job: chimney, cap, form, people."""
    return (*_chimney(case), *_cap(case), *_form(case), *_people(case))


def figures_job(case: Case) -> tuple[Figure, ...]:
    """Return every figure that the checks compare, with its working, in the same order."""
    flues, around = case.survey.flues, case.around
    stack = stack_of(case.survey, around, case.choices.stack_material, case.cap)
    found = [*figures_height(around, case.rules), *figures_stack_shape(flues, around)]
    found += [one for flue in flues if (told := case.appliance(flue)) for one in figures_flue(flue, told)]
    found += figures_stack(stack) if stack else ()
    if case.cap is not None:
        found += figures_overhang(case.cap, case.load, case.strength)
        found += figures_movement(case.cap, case.strength) if case.strength else ()
        found += figures_cap_hold(case.cap, stack.pressure) if stack else ()
        found += [one for flue, _ in _fitted(case, case.cap) for one in _heat_figures(case, case.cap, flue)]
    if (stands := case.stands) is not None:
        found += figures_clamp(stands.clamp, case.choices.strap)
        found += figures_boards(stands.form, stands.cap, stands.wood)
        found += figures_screws(stands.form, stands.cap, stands.held)
    return (*found, *figures_people(around, case.choices.people, case.bag_mass))


def what_matters(case: Case) -> tuple[Sensitivity, ...]:
    """Return, for the numbers a mason acts on (bags, weight, clamp), which input matters most."""
    found = [] if case.concrete is None else [bags_sensitivity(case.concrete), weight_sensitivity(case.concrete)]
    if case.stands is not None:
        found.append(clamp_sensitivity(case.stands.clamp, case.choices.strap))
    return tuple(found)


def _chimney(case: Case) -> tuple[Finding, ...]:
    flues, around, rules, choices = case.survey.flues, case.around, case.rules, case.choices
    sized = (one for flue in flues if (told := case.appliance(flue)) for one in check_flue_size(flue, told))
    return (
        *check_height_above_roof(flues, around, rules),
        *check_slenderness(flues, around, rules),
        *check_wythes(flues, rules),
        *check_cricket(around, rules),
        *check_seismic(choices.seismic, around.stack_least_width),
        *sized,
        *check_openings(flues, rules, choices.rain_cap, choices.arrestor),
        *check_stack(stack_of(case.survey, around, choices.stack_material, case.cap)),
    )


def _cap(case: Case) -> tuple[Finding, ...]:
    if case.cap is None:
        return ()
    stack = stack_of(case.survey, case.around, case.choices.stack_material, case.cap)
    heat = (one for flue, fit in _fitted(case, case.cap) for one in _heat(case, case.cap, flue, fit))
    return (
        *check_cap(case.cap, case.rules),
        *_snow(case.around),
        *check_overhang_strength(case.cap, case.load, case.strength, case.choices.strength_at_strip),
        *check_movement(case.cap, case.strength),
        *check_cap_hold(case.cap, stack.pressure if stack else None),
        *heat,
    )


def _snow(around: Surroundings) -> tuple[Finding, ...]:
    """Nothing where the ground snow was told; else an open question, because the overhang was then worked out without any."""
    if around.ground_snow is not None:
        return ()
    act = "Ask the building department for the ground snow load; the overhang is worked out without snow."
    return (open_question("strength.snow", "snow on the overhang", SNOW, "ground snow load not told", act),)


def _form(case: Case) -> tuple[Finding, ...]:
    stands = case.stands
    if stands is None:
        return ()
    return (
        *check_clamp(stands.clamp, case.choices.strap),
        *check_boards(stands.form, stands.cap, stands.wood),
        *check_screws(stands.form, stands.cap, stands.held),
        *check_strip(stands.comes_off),
    )


def _people(case: Case) -> tuple[Finding, ...]:
    return check_people(case.survey.flues, case.around, case.choices, case.bag_mass)


def _fitted(case: Case, cap: CapDesign) -> list[tuple[PlacedFlue, FlueFit]]:
    """Flues with their place in the cap; a flue without a joint has nothing to compare with its growth."""
    fits = {fit.name: fit for fit in cap.flues}
    return [(flue, fits[flue.name]) for flue in case.survey.flues if flue.name in fits and fits[flue.name].joint_width > 0]


def _heat(case: Case, cap: CapDesign, flue: PlacedFlue, fit: FlueFit) -> tuple[Finding, ...]:
    heat = heat_of(flue, case.appliance(flue), cap.choices.liner_length)
    return check_flue_heat(flue, fit, heat, cap.choices.sealant_movement)


def _heat_figures(case: Case, cap: CapDesign, flue: PlacedFlue) -> tuple[Figure, ...]:
    heat = heat_of(flue, case.appliance(flue), cap.choices.liner_length)
    return () if heat is None else figures_flue_heat(flue, heat, cap.choices.sealant_movement)
