"""A plan in the words of somebody who has to build it: what to build, what falls short, what is still to be read."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from crownwright.cap.model import CapDesign
from crownwright.checks.nest import rules_among
from crownwright.concrete.model import ConcretePlan
from crownwright.form.model import FormDesign
from crownwright.plan.model import Plan
from crownwright.quantity.amounts import amounts
from crownwright.quantity.display import System, show, show_slope
from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.problems import Problem
from crownwright.repair.model import RepairPlan
from crownwright.repair.tell import run_words
from crownwright.service.closing import SLIP, closes, closing_words, length_words, next_words, sentence

OF_THE_TAPES = ("survey.closes", "survey.findable", SLIP)
"""Findings that a summary tells in its own part about the readings."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of an answer: its short heading and what it says."""

    head: str
    says: str


@dataclass(frozen=True, slots=True)
class Summary:
    """What a plan comes to, in order of use. ``build`` is the answer; ``stops`` what keeps it from being built as it is;
    ``short_of`` and ``untold`` count rules as the pages and papers list them.
    """

    title: str
    build: tuple[Line, ...]
    readings: tuple[str, ...]
    closes: bool
    stops: tuple[str, ...]
    short: tuple[str, ...]
    short_of: int
    untold: int
    next_readings: tuple[str, ...]
    doorstep: bool = False

    @property
    def ready(self) -> bool:
        """Whether nothing keeps it from being built as planned."""
        return bool(self.build) and self.closes and not self.stops


def summarise(plan: Plan) -> Summary:
    """Say what a plan comes to."""
    units = plan.job.units
    short = [f for f in plan.findings if f.verdict is Verdict.SHORT and not f.key.startswith(OF_THE_TAPES)]
    where = f", {plan.job.place}" if plan.job.place and plan.job.place not in plan.job.title else ""
    return Summary(
        title=plan.job.title + where,
        build=tuple(_build(plan)),
        readings=closing_words(plan.survey, units) if plan.survey else (),
        closes=plan.survey is not None and closes(plan.survey),
        stops=(*map(str, stopping(plan.problems)), *_once_a_rule([f for f in short if f.blocks], units)),
        short=tuple(_once_a_rule([f for f in short if not f.blocks], units)),
        short_of=rules_among(plan.findings, Verdict.SHORT),
        untold=rules_among(plan.findings, Verdict.CANNOT_TELL),
        next_readings=tuple(map(next_words, plan.survey.next_readings)) if plan.survey else (),
        doorstep=plan.survey is not None and plan.survey.quick,
    )


def stopping(problems: tuple[Problem, ...]) -> Iterator[Problem]:
    """The problems that a plan cannot go on with."""
    return (problem for problem in problems if problem.stops)


def _once_a_rule(findings: list[Finding], units: System) -> Iterator[str]:
    """The worst finding of each rule in words, and where else the same rule falls short."""
    for rule in dict.fromkeys(finding.rule for finding in findings):
        same = [finding for finding in findings if finding.rule == rule]
        worst = max(same, key=lambda finding: finding.short_by)
        others = [_short_subject(finding.subject) for finding in same if finding is not worst]
        yield finding_words(worst, units) + (sentence(f" Likewise {_both(others)}") if others else "")


def _short_subject(subject: str) -> str:
    """A subject without what is told of it after a comma."""
    return subject.split(",", maxsplit=1)[0]


def _both(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def finding_words(finding: Finding, units: System) -> str:
    """A finding as a sentence: what, against what, and what to do about it."""
    low, high, has = amounts(finding, units)
    asked = _band(low, high)
    figures = f" is {has}, asked {asked}" if has and asked else f" (asked: {asked})" if asked else ""
    told = sentence(f"{finding.subject}: {finding.rule}{figures}")
    return f"{told} {sentence(finding.action)}" if finding.action else told


def _band(low: str, high: str) -> str:
    """What a rule asks, in words, from its printed bounds; empty where it has none."""
    if low and high:
        return low if low == high else f"{low} to {high}"
    return f"at least {low}" if low else f"at most {high}" if high else ""


def _build(plan: Plan) -> Iterator[Line]:
    units = plan.job.units
    if plan.repair:
        yield from _repair(plan.repair, units)
    if plan.cap:
        yield from _cap(plan.cap, units)
    if plan.concrete:
        yield from _concrete(plan.concrete, units, plan.survey is not None and plan.survey.quick)
    if plan.form:
        yield from _form(plan.form, units)


def _repair(repair: RepairPlan, units: System) -> Iterator[Line]:
    """What is done below the cap before it is cast, in a line."""
    parts = []
    if repair.rebuild is not None:
        parts.append(f"the top {length_words(repair.rebuild.depth.mean, units)} laid anew")
    if repair.replacing is not None:
        parts.append(f"{_count(round(repair.replacing.count.mean), 'unit')} changed")
    if repair.repointing is not None:
        parts.append(f"{run_words(repair.repointing.length, units)} of joint repointed")
    if parts:
        yield Line("Repair", f"first: {', '.join(parts)}; the cap after that")


def _cap(cap: CapDesign, units: System) -> Iterator[Line]:
    size = f"{_inches(cap.length, units)} by {length_words(cap.width, units)}"
    edge = f"edge {length_words(cap.edge_thickness, units)} thick" + (
        f", cast against a {cap.edge_board}" if cap.edge_board else ""
    )
    yield Line("Cap", f"{size}, {edge}; soffit {length_words(-cap.soffit, units)} below the level string")
    sheds = "sheds everywhere" if cap.sheds else "does not shed everywhere"
    yield Line("Wash", f"falls {show_slope(cap.least_slope, units)} where it is flattest, {sheds}")
    least, most = min(side.least for side in cap.sides), max(side.most for side in cap.sides)
    drip = f", with a {length_words(cap.drip.size, units)} drip under it" if cap.drip else ", no drip"
    band = "" if length_words(least, units) == length_words(most, units) else f"{_inches(least, units)} to "
    yield Line("Overhang", f"{band}{length_words(most, units)} beyond the stone{drip}")
    for flue in cap.flues:
        proud = f"{flue.name} stands {length_words(flue.proud.mean, units)} above the wash"
        yield Line("Flue", proud + (f", with a piece {length_words(flue.piece, units)} long set on it" if flue.piece > 0 else ""))


def _concrete(pour: ConcretePlan, units: System, doorstep: bool) -> Iterator[Line]:
    count = pour.count
    lower, upper = (lift.planned for lift in pour.lifts)
    risk = f"{_percent(count.chance_short)} chance of running short, {_percent(count.one_fewer)} with one fewer"
    if doorstep:
        few, many = (round(count.needed.quantile(chance)) for chance in (0.05, 0.95))
        risk = f"seen from the doorstep it takes {few} to {many}, nine times in ten"
    yield Line("Concrete", f"{count.bags} bags of {pour.bag.name}, {lower} for the edge and drip, {upper} for the wash ({risk})")
    if pour.mortar and pour.mortar_bag:
        yield Line("Bed", f"{_count(pour.mortar.bags, 'bag')} of mortar, {pour.mortar_bag.name}")
    yield Line("Weight", f"{show(pour.weight.mean, 'kg', units, 0)} on the chimney, wet")


def _form(form: FormDesign, units: System) -> Iterator[Line]:
    strap = form.strap
    drawn = f"{_count(strap.count, 'strap')} of {show(strap.least_length, 'm', units)} or longer"
    yield Line("Form", f"{_count(len(form.pieces), 'piece')}, its corner blocks drawn tight with {drawn}")
    if form.cut:
        bought = sum(line.count - line.on_hand for line in form.cut.shopping)
        proved = "proved: no other choice is better" if form.cut.proved else "not proved the best there is"
        yield Line("Lumber", f"{_count(bought, 'board')} to buy, {_count(len(form.cut.boards), 'board')} to saw ({proved})")


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}{'' if number == 1 else 's'}"


def _inches(metres: float, units: System) -> str:
    """A length whose unit follows in the same breath: 61 1/4 by 46 3/4 in."""
    return length_words(metres, units).removesuffix(" in.").removesuffix(" mm")


def _percent(chance: float) -> str:
    percent = 100 * chance
    return "less than 0.1 %" if percent < 0.1 else f"{percent:.1f} %" if percent < 1 else f"{percent:.0f} %"
