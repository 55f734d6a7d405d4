"""The repair below the cap in words: what was found, what keeps a cap from being cast, what is done, bought and waited for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from crownwright.plan.days import plan_days
from crownwright.plan.model import Plan
from crownwright.plan.visits import visits_on
from crownwright.quantity.display import System, show, show_figure
from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.problems import Problem
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.working import Figure
from crownwright.repair.condition import Judged
from crownwright.repair.flashing import FlashingPlan
from crownwright.repair.flues import FluesPlan
from crownwright.repair.model import After, Material, RepairPlan
from crownwright.repair.order import Visits
from crownwright.repair.rebuild import RebuildPlan
from crownwright.repair.repointing import RepointPlan
from crownwright.repair.tell import run_words, to_buy
from crownwright.service.closing import sentence
from crownwright.service.summary import Line, finding_words
from crownwright.weather.hours import Hours


@dataclass(frozen=True, slots=True)
class RepairTold:
    """A repair in words. ``stops`` keeps a cap from being cast; ``found`` finding by finding, with its number; ``chains`` what
    brought on what; ``work`` the answer; ``buys`` and ``waits``; ``short`` and ``untold`` what else falls short or is not told;
    ``visits`` the days on the roof, ``years`` the ways compared, ``not_cured`` what a repellent does not mend.
    """

    title: str
    inspection: str
    stops: tuple[str, ...]
    found: tuple[Line, ...]
    chains: tuple[str, ...]
    work: tuple[Line, ...]
    buys: tuple[Line, ...]
    waits: tuple[Line, ...]
    not_done: tuple[str, ...]
    visits: tuple[Line, ...]
    years: tuple[Line, ...]
    not_cured: tuple[str, ...]
    short: tuple[str, ...]
    untold: tuple[str, ...]
    problems: tuple[Problem, ...]

    @property
    def ready(self) -> bool:
        """Whether nothing entered is wrong and nothing found keeps a cap from being cast."""
        return not self.stops and not self.problems


def tell_repair(plan: Plan) -> RepairTold | None:
    """Return the repair of a plan in words; None where nothing was entered of one."""
    repair, units = plan.repair, plan.job.units
    if repair is None:
        return None
    own = tuple(problem for problem in plan.problems if "repair." in problem.where)
    others = [finding for finding in repair.findings if not _of_the_found(finding)]
    return RepairTold(
        title=plan.job.title,
        inspection=repair.condition.level_says,
        stops=tuple(finding_words(one, units) for one in repair.blocks),
        found=tuple(Line(f"{one.number}.", found_words(one, units)) for one in repair.condition.judged),
        chains=tuple(sentence(" → ".join(chain)) for chain in repair.condition.chains),
        work=tuple(_work(repair, units)),
        buys=tuple(Line(line.key, buy_words(line, units)) for line in repair.materials),
        waits=tuple(Line(after.task, wait_words(after, units)) for after in repair.cap_after),
        not_done=repair.repointing.not_done if repair.repointing else (),
        visits=visit_lines(repair.order),
        years=tuple(_years(repair)),
        not_cured=repair.repellent.will_not_cure if repair.repellent else (),
        short=tuple(finding_words(one, units) for one in others if one.verdict is Verdict.SHORT and not one.blocks),
        untold=tuple(finding_words(one, units) for one in others if one.verdict is Verdict.CANNOT_TELL and not one.blocks),
        problems=own,
    )


def _of_the_found(finding: Finding) -> bool:
    return finding.key.startswith("repair.seen.")


def found_words(one: Judged, units: System) -> str:
    """Return one finding as a sentence or two: where, what, how large, how bad, what to do, who must see it."""
    measure = "" if one.seen.measure is None else f", {one.kind.measure} {show(one.seen.measure.metres, 'm', units)}"
    over = "" if one.seen.over is None else f", {one.kind.over} {show(one.seen.over.metres, 'm', units)}"
    offset = "" if one.seen.offset is None else f", one side {show(one.seen.offset.metres, 'm', units)} out of the other"
    share = "" if one.seen.share is None else f", {100 * one.seen.share:.0f} % of it"
    growing = ", growing" if one.seen.growing else ""
    grade = "not measured" if one.grade is None else one.grade.name
    waiver = one.finding.waiver
    waived = f" Waived by {waiver.by}: {sentence(waiver.reason)}" if waiver else ""
    told = sentence(f"{one.where}: {one.kind.name}{measure}{over}{offset}{share}{growing} ({grade})")
    return f"{told} {sentence(one.finding.action)}{waived}"


def buy_words(line: Material, units: System) -> str:
    """Return a line of materials: how much of what, and how sure."""
    amount = to_buy(line, units)
    return f"{amount} × {line.what}" if line.unit == "1" else f"{amount}, {line.what}"


def wait_words(after: After, units: System) -> str:
    """Return what the cap waits for: how long after it is done, and why."""
    return f"{show(after.wait, 's', units)} before: {after.why}" if after.wait > 0 else f"done before: {after.why}"


def _work(repair: RepairPlan, units: System) -> Iterator[Line]:
    if repair.rebuild is not None:
        yield from _rebuild(repair.rebuild, units)
    if repair.between is not None:
        says = f"until the rebuilt top is read again, the cap takes {_band(repair.between.bags)} bags, nine times in ten"
        yield Line("Price", f"{says}; the first survey alone would say {_band(repair.between.surveyed)}")
    if repair.repointing is not None:
        yield from _repoint(repair.repointing, units)
    if repair.replacing is not None:
        count = repair.replacing.count
        yield Line(
            "Change", f"{count.mean:.0f} ± {count.sd:.0f} single units below the courses laid anew; buy {repair.replacing.buy}"
        )
    if repair.flues is not None:
        yield from _flues(repair.flues, units)
    if repair.flashing is not None:
        yield from _flashing(repair.flashing, units)
    if repair.repellent is not None:
        area = show(repair.repellent.area.mean, "m2", units)
        yield Line("Repellent", f"{area} of faces, a breathable {repair.repellent.choices.kind}, when the mortar has cured")


def _band(bags: Uncertain) -> str:
    return f"{bags.quantile(0.05):.1f} to {bags.quantile(0.95):.1f}"


def _rebuild(plan: RebuildPlan, units: System) -> Iterator[Line]:
    courses = f"{plan.courses} course{'s' * (plan.courses != 1)}, " if plan.courses else ""
    yield Line(
        "Rebuild", f"take down {courses}{show(plan.depth.mean, 'm', units)}, to a sound bed: {_volume(plan.volume, units)}"
    )
    lifted = f"{show(plan.up.mean, 'kg', units, 0)} up, {show(plan.down.mean, 'kg', units, 0)} down"
    if plan.units:
        yield Line("Bricks", f"{plan.units} laid, {plan.new} of them bought; {lifted}")
    else:
        bond = f"{plan.bonders} bond stone{'s' * (plan.bonders != 1)}"
        new = f"{show(plan.new_stone.mean, 'kg', units, 0)} of it new"
        yield Line("Stone", f"{show(plan.stone.mean, 'kg', units, 0)}, {new}; {bond}; {lifted}")
    yield Line("Mortar", f"type {plan.mortar.name} ({plan.mortar.why}), {_volume(plan.order.volume, units)}")
    yield Line("Then", f"{_hours(plan.hours)} of laying; {plan.days:g} days under damp cloth; read the top again")


def _repoint(plan: RepointPlan, units: System) -> Iterator[Line]:
    by_face = ", ".join(f"{face.face} {run_words(face.length, units)}{' (all)' * face.whole}" for face in plan.faces)
    yield Line("Repoint", f"{run_words(plan.length, units)} of joint: {by_face}")
    depth = show(plan.depth.mean, "m", units, 8 if units == "us" else None)
    yield Line("Rake", f"{depth} deep, joints {show(plan.width.mean, 'm', units)} wide; fill in {plan.lifts} layers")
    mortar = f"type {plan.mortar.name} ({plan.mortar.why}), {_volume(plan.volume, units)}"
    yield Line("Mortar", mortar)
    yield Line("Time", f"{_hours(plan.hours)}, about {plan.days:.1f} days on the wall; damp for three days")


def _flues(plan: FluesPlan, units: System) -> Iterator[Line]:
    for work in plan.flues:
        if work.piece > 0:
            of = f" of {work.liner.name}" if work.liner else ""
            yield Line("Flue", f"{work.name}: a piece {show(work.piece, 'm', units)} long{of} set on it")


def _flashing(plan: FlashingPlan, units: System) -> Iterator[Line]:
    where = "stepped up with the courses" if plan.joint == "courses" else "in a cut sawn along the roof"
    joint = run_words(Uncertain(plan.joint_length), units)
    sizes = ", ".join(f"{n} {part} {show(b.wide, 'm', units)} × {show(b.long, 'm', units)}" for part, n, b in plan.grouped)
    yield Line("Flashing", f"{plan.choices.metal}, counterflashing {where}: {joint} of joint")
    yield Line("Blanks", sizes)
    if plan.sheets.sheets:
        bought = ", ".join(f"{n} of {sheet.name}" for sheet, n in plan.sheets.buy) or "all from the van"
        yield Line("Sheets", f"{bought}. {plan.sheets.says}")
    if plan.cricket is not None:
        high, long = show(plan.cricket.height, "m", units), show(plan.cricket.ridge, "m", units)
        yield Line("Cricket", f"{high} high at the stack, its ridge level and {long} long, both planes at the roof's own pitch")


def repair_on_weather(plan: Plan, hours: Hours) -> Visits | None:
    """Lay the whole repair on a forecast, the pour where the window search has an hour for it; None without an order of work."""
    days = plan_days(plan, hours)
    return visits_on(plan, hours, () if days is None else days.cure.windows)


def visit_lines(visits: Visits | None) -> tuple[Line, ...]:
    """Return the order of work: the answer first, then a line for each visit."""
    if visits is None or not visits.visits:
        return ()
    rows = [Line("In all", sentence(visits.says))]
    for visit in visits.visits:
        day = f"Day {visit.day + 1}" if visit.on is None else f"{visit.on:%a} {visit.on.day} {visit.on:%b}"
        unsure = "" if visit.known else ", weather not known yet"
        rows.append(Line(day, f"{', then '.join(part.says for part in visit.parts)} ({visit.hours:.1f} h{unsure})"))
    return tuple(rows)


def _years(repair: RepairPlan) -> Iterator[Line]:
    if repair.years is None:
        return
    over = repair.years.choices.years
    for one in repair.years.told:
        now, worth = f"{Decimal(one.way.now):,.0f}", f"{one.present:,.0f}"
        says = f"{now} now; over {over} years worth {worth} today, {one.yearly:,.0f} a year; {one.says}"
        yield Line(one.way.name, says)


def _volume(value: Uncertain, units: System) -> str:
    return show_figure(Figure("", "", value.mean, "m3", "", spread=value.sd), units)


def _hours(value: Uncertain) -> str:
    return f"{value.mean:.0f} hours ± {value.sd:.0f}"
