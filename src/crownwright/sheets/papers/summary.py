"""The summary: the answer first, what needs doing before anything else, two pictures, and every comparison with a rule."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from crownwright.cap.model import CapDesign
from crownwright.checks.sensitivity import Sensitivity
from crownwright.form.model import FormDesign
from crownwright.plan.job import Units
from crownwright.plan.model import Plan
from crownwright.quantity.display import EXTRAPOLATED, show, show_slope
from crownwright.quantity.findings import Finding, Verdict
from crownwright.sheets.draw.shapes import Drawing
from crownwright.sheets.drawings.readings import suspects_say
from crownwright.sheets.drawings.say import length, within
from crownwright.sheets.papers.press import Paper
from crownwright.sheets.papers.say import common, finding_row, picture

ROOM = 182.0  # mm wide for a picture


def summary(plan: Plan, pictures: Sequence[Drawing] = ()) -> Paper:
    """Return the summary. ``pictures`` are printed at their own scale where they fit the page, else fitted to it."""
    units = plan.job.units
    short = sorted((f for f in plan.findings if f.verdict in (Verdict.SHORT, Verdict.WAIVED)), key=_gravest_first)
    unknown = [f for f in plan.findings if f.verdict is Verdict.CANNOT_TELL]
    fine = sum(f.verdict is Verdict.OK for f in plan.findings)
    content = common(plan, "The plan in short: sizes, bags, boards, what needs doing first, what was compared with which rule.")
    content |= {
        "answers": [_with_range(answer, plan) for answer in answers(plan)],
        "needs": list(needs(plan)),
        "pictures": [picture(of, scaled=of.scale_says != "") for of in pictures],
        "room": ROOM,
        "findings": [finding_row(finding, units) for finding in once_a_rule(short)],
        "unknown": [finding_row(finding, units) for finding in once_a_rule(unknown)],
        "fine": fine,
        "matters": [matter_line(one) for one in plan.matters],
    }
    return Paper("summary", "Summary", "summary", content)


def matter_line(one: Sensitivity) -> str:
    """Return which inputs move a number most, by their share of its variance."""
    pulls = ", ".join(f"{pull.name} {100 * pull.share:.0f} %" for pull in one.pulls if pull.share >= 0.005)
    return f"{one.label[:1].upper()}{one.label[1:]}: {pulls}"


def once_a_rule(findings: Sequence[Finding]) -> list[Finding]:
    """Return findings with those of one rule and one remedy told once: the worst, naming the others as its subject too."""
    groups: dict[tuple[str, str, Verdict], list[Finding]] = {}
    for finding in findings:
        groups.setdefault((finding.rule, finding.action, finding.verdict), []).append(finding)
    told = []
    for group in groups.values():
        worst = max(group, key=lambda finding: finding.short_by)
        others = [f.subject for f in group if f.subject != worst.subject]
        subject = "; also ".join((worst.subject, ", ".join(dict.fromkeys(others)))) if others else worst.subject
        told.append(replace(worst, subject=subject))
    return told


def _gravest_first(finding: Finding) -> tuple[bool, int]:
    order = (Verdict.SHORT, Verdict.CANNOT_TELL, Verdict.WAIVED, Verdict.OK)
    return not finding.blocks, order.index(finding.verdict)


def _answer(label: str, value: str, note: str, *keys: str) -> dict[str, Any]:
    """One answer; ``keys`` are the figures it shows, so that each number of it opens on the calculation sheet."""
    return {"label": label, "value": value, "note": note, "keys": list(keys)}


def answers(plan: Plan) -> Iterator[dict[str, Any]]:
    """Yield the answers of a plan as far as it goes: label, value, note."""
    if plan.cap is not None:
        yield from _cap_answers(plan.cap, plan.job.units)
    if plan.concrete is not None:
        count = plan.concrete.count
        note = f"of {plan.concrete.bag.name}, at a stated risk of {count.risk * 100:g} % of running short"
        yield _answer("Concrete", f"{count.bags} bags", note, "concrete.bags", "concrete.bags.short")
        weight = show(plan.concrete.weight.mean, "kg", plan.job.units)
        yield _answer("Weight on the chimney", weight, "concrete as placed, wet", "concrete.weight")
    if plan.form is not None:
        yield from _form_answers(plan.form)
    if plan.survey is not None and not plan.survey.quick:
        closure = plan.survey.closure
        worst = within(closure.worst, plan.job.units)
        yield _answer(
            "Readings", "they close" if closure.closes else "they do not close", f"the worst is out by {worst}", "survey.closes"
        )


def _with_range(answer: dict[str, Any], plan: Plan) -> dict[str, Any]:
    """An answer, saying so where a figure it rests on lies outside the range of its formula."""
    outside = any(figure.extrapolated for figure in plan.figures if figure.key in answer["keys"])
    return {**answer, "note": f"{answer['note']}{EXTRAPOLATED if outside else ''}"}


def _cap_answers(cap: CapDesign, units: Units) -> Iterator[dict[str, Any]]:
    least, most = min(s.least for s in cap.sides), max(s.most for s in cap.sides)
    edge = length(cap.edge - cap.soffit, units)
    yield _answer(
        "Cap, outside",
        f"{length(cap.length, units)} × {length(cap.width, units)}",
        f"edge {edge} thick, against {cap.edge_board}",
        "cap.length",
        "cap.width",
        "cap.edge_thickness",
    )
    band = f"{length(least, units)} to {length(most, units)}"
    keys = [f"cap.{what}.{side.name}" for side in cap.sides for what in ("overhang", "overhang_most")]
    yield _answer("Overhang", band, "at the proudest stone, at the deepest recess", *keys)
    sheds = "no place on it holds water" if cap.sheds else "it does not shed everywhere: see below"
    yield _answer("Wash", show_slope(cap.least_slope, units).split(" (")[0], f"at its flattest; {sheds}", "cap.fall")
    if cap.flues:
        longer = [f.name for f in cap.flues if f.extension > 0]
        names = ", ".join(f.name for f in cap.flues)
        proud = ", ".join(length(f.proud.mean, units) for f in cap.flues)
        note = f"{names}; extend {', '.join(longer)}" if longer else names
        yield _answer("Flues proud of the wash", proud, note, *(f"cap.proud.{f.name}" for f in cap.flues))


def _form_answers(form: FormDesign) -> Iterator[dict[str, Any]]:
    if form.cut is not None:
        boards = sum(buy.count for buy in form.cut.shopping)
        sure = "cheapest, proved" if form.cut.proved else "the search stopped at its time limit"
        key = "form.cut_list.cost" if form.cut.priced else "form.cut_list.waste"
        yield _answer("Lumber", f"{boards} boards", f"sawn into {len(form.pieces)} pieces; {sure}", key)
    screws = sum(line.count for line in form.screw_list)
    keys = "form.straps", "form.screws"
    straps = f"{form.strap.count} strap{'s' if form.strap.count != 1 else ''}"
    yield _answer("What holds the form", f"{straps}, {screws} screws", "no hole is drilled in the chimney", *keys)


def needs(plan: Plan) -> Iterator[dict[str, str]]:
    """Yield what has to be done before anything else: problems, readings that do not close, findings that block."""
    for problem in plan.problems:
        yield {"what": problem.what[:1].upper() + problem.what[1:], "todo": f"{problem.remedy.rstrip('.')}."}
    if plan.survey is not None:
        for told in suspects_say(plan.survey.suspects, plan.job.units):
            yield {"what": told.rstrip("."), "todo": "Read it again before you cut anything."}
        if plan.survey.quick:
            yield {"what": "Doorstep survey", "todo": "Good enough to talk price; read the top before you build from it."}
    for finding in plan.findings:
        if finding.blocks and finding.verdict is Verdict.SHORT:
            subject = finding.subject[:1].upper() + finding.subject[1:]
            yield {"what": f"{subject}: {finding.rule}", "todo": f"{finding.action.rstrip('.')}."}
