"""The verbs of the command line: each opens what it is asked for, calls the service, and makes an answer of it."""

from __future__ import annotations

import os
import sys
import time
from argparse import Namespace
from collections.abc import Callable, Iterable
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING, Any

from crownwright.cli.answer import Answer, Section
from crownwright.cli.codes import Code
from crownwright.cli.lessons import learned_sections, read_finished
from crownwright.cli.patience import patience
from crownwright.quantity.problems import Problem

if TYPE_CHECKING:
    from crownwright.plan.days import DaysPlan
    from crownwright.plan.job import Job
    from crownwright.plan.model import Plan
    from crownwright.service.learn_from_jobs import Lessons
    from crownwright.service.open_job import Opened
    from crownwright.service.plan_a_job import Planned
    from crownwright.service.summary import Summary

Verb = Callable[[Namespace], Answer]
FILE_SAYS = {
    "papers/summary.pdf": "the job on a page or two",
    "papers/roof-card.pdf": "what is still to be read, with boxes",
    "papers/repair.pdf": "the repair below the cap: what was found, drawn on its faces, and what is done about it",
    "papers/cut-list.pdf": "what to saw from which board",
    "papers/shopping-list.pdf": "what to buy",
    "papers/site-plan.pdf": "what applies to people up there, with boxes to sign for every flue",
    "papers/drawings.pdf": "the drawings at scale",
    "papers/calculations.pdf": "every number with its formula, inputs and source",
    "solid/all.glb": "cap, stone, flues and form, to turn on a screen",
    "job.toml": "the job file, to change and plan again",
}
"""What the files that a mason looks for are good for; the rest are only counted."""


def plan(args: Namespace) -> Answer:
    """Plan a job file: summary, papers, drawings."""
    opened = open_named(args.job, args.rules)
    if opened.job is None:
        return bad_job(opened)
    learned = None if args.finished is None else read_finished(args.finished)
    if isinstance(learned, Answer):
        return learned
    return _planned(opened, args, args.into or Path(f"{_stem(args.job)}-plan"), no_files=args.no_files, learned=learned)


def demo(args: Namespace) -> Answer:
    """Plan the invented chimney."""
    from crownwright.service.open_job import open_demo

    opened = open_demo()
    return _planned(opened, args, args.into or Path("crownwright-demo"), (opened.name, opened.text.encode()))


def readings(args: Namespace) -> Answer:
    """Check readings only."""
    from crownwright.service.check_readings import check_readings

    opened = open_named(args.job)
    if opened.job is None:
        return bad_job(opened)
    checked = check_readings(opened.job, opened.text)
    sections = (Section("Readings", checked.says), _to_read(checked.wanted))
    if checked.wanted:
        then = f"take these, add them to {opened.name}, and ask again before you climb down"
    elif checked.closes:
        then = f"climb down; crownwright plan {opened.name}"
    else:
        then = f"read again what is named above, put it right in {opened.name}, and ask again"
    survey = checked.survey
    data = {
        "closes": checked.closes,
        "says": checked.says,
        "closure": survey.closure if survey else None,
        "suspects": survey.suspects if survey else (),
        "next_readings": survey.next_readings if survey else (),
        "checked": survey.checked if survey else (),
    }
    code = Code.DONE if checked.closes else Code.NOT_READY
    return Answer(code, opened.job.title, sections, then, data, checked.problems)


def draw(args: Namespace) -> Answer:
    """Draw a plan."""
    from crownwright.service.draw_a_plan import KINDS, drawn_files

    kinds = tuple(kind.strip() for kind in args.kinds.split(",") if kind.strip())
    if not kinds or set(kinds) - set(KINDS):
        says = f"--as {args.kinds}: the kinds of file are {', '.join(KINDS)}."
        return Answer(Code.ASKED_WRONG, says, next="name some of these, with commas")
    return _files(args, lambda planned: drawn_files(planned.plan, kinds), "Drawings")


def papers(args: Namespace) -> Answer:
    """Write papers."""
    from crownwright.service.write_papers import printed_files

    return _files(args, lambda planned: printed_files(planned.plan, args.paper, now()), "Papers")


def explain(args: Namespace) -> Answer:
    """Explain a figure, or list them."""
    from crownwright.service.plan_a_job import plan_a_job

    opened = open_named(args.job, args.rules)
    if opened.job is None:
        return bad_job(opened)
    with patience("Planning"):
        planned = plan_a_job(opened.job, opened.text)
    return explained(planned.plan, args.key, opened.job, f"crownwright explain {args.job}")


def explained(made: Plan | DaysPlan, key: str, job: Job, again: str) -> Answer:
    """Answer with a figure and its working, or with the list of those whose keys begin so."""
    from crownwright.service.explain_a_figure import explanation, find_figures

    found = find_figures(made, key)
    if isinstance(found, Problem):
        return Answer(
            Code.ASKED_WRONG,
            "",
            problems=(found,),
            next=f"{again} '' lists every figure" if again.endswith("--key") else f"{again} lists every figure",
        )
    units = job.units
    if len(found) > 1:
        from crownwright.quantity.display import show_figure

        lines = tuple(f"{show_figure(figure, units)}, {figure.label}" for figure in found)
        section = Section(job.title, lines, tuple(figure.key for figure in found))
        return Answer(Code.DONE, "", (section,), f"{again} {found[0].key}", {"figures": found})
    return Answer(Code.DONE, raw=explanation(found[0], units), data={"figures": found})


def schema(args: Namespace) -> Answer:
    """Write the schema of the job file."""
    import json

    from crownwright.service.jobfile.schema import job_schema

    made = job_schema()
    text = json.dumps(made, indent=2, ensure_ascii=False) + "\n"
    if args.into is None:
        return Answer(Code.DONE, raw=text, data={"schema": made})
    return _one_file(args.into, text.encode(), "point your editor at it, and it helps you type a job file")


def roof_card(args: Namespace) -> Answer:
    """Make a blank roof card."""
    from crownwright.service.make_roof_card import blank_roof_card

    if not (3 <= args.corners <= 8 and 0 <= args.flues <= 4):
        return Answer(Code.ASKED_WRONG, "A roof card has 3 to 8 corners and 0 to 4 flues.", next="ask for numbers in that range")
    with patience("Printing the card"):
        data = blank_roof_card(args.units, args.corners, args.flues, args.paper, now())
    return _one_file(args.into or Path("roof-card.pdf"), data, "print it and take it up with a pencil on a string")


def _planned(
    opened: Opened,
    args: Namespace,
    folder: Path,
    *more: tuple[str, bytes],
    no_files: bool = False,
    learned: Lessons | None = None,
) -> Answer:
    from crownwright.service.plan_a_job import plan_a_job
    from crownwright.service.write_papers import all_files

    assert opened.job is not None
    with patience("Planning") as shown:
        planned = plan_a_job(with_lessons(opened.job, learned), opened.text)
        shown.step("Writing papers")
        files = chain(more, () if no_files else all_files(planned.plan, args.paper, now()))
        written, trouble = put_all(folder, files, shown.step)
    if trouble:
        return Answer(Code.NOT_WRITTEN, problems=(trouble,), next="give a folder you may write to with --into")
    summary = planned.summary
    own = () if learned is None else learned_sections(learned)
    sections = (*_summary_sections(summary), *own, *([] if no_files else [_written(folder, written)]))
    data = _plan_data(planned) | {"folder": folder, "files": written} | ({"learned": learned.learned} if learned else {})
    code = Code.DONE if summary.ready else Code.NOT_READY
    name = opened.name if not more else str(folder / opened.name)  # the demo leaves its job file in the folder
    return Answer(
        code, summary.title, sections, _what_next(summary, name, None if no_files else folder), data, _told_apart(planned)
    )


def with_lessons(job: Job, learned: Lessons | None) -> Job:
    """The job by own finished jobs, where they are given: a plan without them does not wait for what they need."""
    if learned is None:
        return job
    from crownwright.service.learn_from_jobs import by_own_jobs

    return by_own_jobs(job, learned)


def _summary_sections(summary: Summary) -> tuple[Section, ...]:
    heads = tuple(line.head for line in summary.build)
    untold = f"{summary.untold} more could not be told from what was given; the calculation sheet says which."
    return (
        Section("Build", tuple(line.says for line in summary.build), heads),
        Section("Readings", summary.readings),
        Section("Keeps it from being built as it is", summary.stops, numbered=True),
        Section("Falls short", summary.short, numbered=True),
        Section("", (untold,) if summary.untold else ()),
        _to_read(summary.next_readings),
    )


def _to_read(wanted: tuple[str, ...]) -> Section:
    return Section("Still to be read, first things first", wanted, numbered=True)


def _told_apart(planned: Planned) -> tuple[Problem, ...]:
    """Problems that the summary has not told already."""
    return tuple(problem for problem in planned.plan.problems if not problem.stops)


def _what_next(summary: Summary, name: str, folder: Path | None) -> str:
    again = f"crownwright plan {name}"
    if summary.stops:
        return f"put right what keeps it from being built, then: {again}"
    if not summary.closes:
        return f"read again what does not close, put it right in {name}, then: {again}"
    if folder is None:
        return f"for papers and drawings: {again}"
    if summary.next_readings or summary.doorstep:
        return f"take {folder / 'papers' / 'roof-card.pdf'} up, read what it asks, add it to {name}, then: {again}"
    return f"hold the drawings in {folder} against the chimney; local code and a licensed practitioner decide on what falls short"


def _plan_data(planned: Planned) -> dict[str, Any]:
    from crownwright.checks.nest import nested

    made = planned.plan
    return {
        "version": made.version,
        "summary": planned.summary,
        "next_readings": made.survey.next_readings if made.survey else (),
        "findings": made.findings,
        "finding_tree": nested(made.findings),
        "figures": made.figures,
        "matters": made.matters,
    }


def _files(args: Namespace, make: Callable[[Planned], Iterable[tuple[str, bytes]]], what: str) -> Answer:
    """Plan a job and write only some of its files."""
    from crownwright.service.plan_a_job import plan_a_job

    opened = open_named(args.job, args.rules)
    if opened.job is None:
        return bad_job(opened)
    folder = args.into or Path(f"{_stem(args.job)}-plan")
    with patience("Planning") as shown:
        planned = plan_a_job(opened.job, opened.text)
        shown.step(what)
        written, trouble = put_all(folder, make(planned), shown.step)
    if trouble:
        return Answer(Code.NOT_WRITTEN, problems=(trouble,), next="give a folder you may write to with --into")
    sections = (Section(f"{what} in {folder}", tuple(str(path.relative_to(folder)) for path in written)),)
    problems = planned.plan.problems
    code = Code.DONE if planned.summary.ready else Code.NOT_READY
    then = f"look at {written[0]}" if written else f"put right what is named above in {opened.name}, and ask again"
    return Answer(code, opened.job.title, sections, then, {"folder": folder, "files": written}, problems)


def put_all(folder: Path, files: Iterable[tuple[str, bytes]], say: Callable[[str], None]) -> tuple[list[Path], Problem | None]:
    """Write files (path, content) below a folder, saying each; what was written, and the problem that ended it."""
    from crownwright.service.folder import put

    written: list[Path] = []
    for name, data in files:
        say(f"Writing {name}")
        path = put(folder, name, data)
        if isinstance(path, Problem):
            return written, path
        written.append(path)
    return written, None


def _written(folder: Path, written: list[Path]) -> Section:
    names = [path.relative_to(folder).as_posix() for path in written]
    known = [name for name in FILE_SAYS if name in names]
    others = len(names) - len(known)
    lines = [FILE_SAYS[name] for name in known] + ([f"{others} drawings and solids as SVG, DXF and STL"] if others else [])
    return Section(f"Papers and drawings in {folder}", tuple(lines), (*known, *([""] if others else [])))


def _one_file(path: Path, data: bytes, then: str) -> Answer:
    from crownwright.service.folder import put

    done = put(path.parent, path.name, data)
    if isinstance(done, Problem):
        return Answer(Code.NOT_WRITTEN, problems=(done,), next="name a file you may write with --into")
    return Answer(Code.DONE, f"Wrote {done}", next=then, data={"files": [done]})


def open_named(job: str, rules: Path | None = None) -> Opened:
    """Open the job file of that name, or what comes down a pipe; lay the local rules of a file under its own."""
    from crownwright.service.open_job import open_bytes, open_file, with_rules_of

    opened = open_bytes(sys.stdin.buffer.read(), "the pipe") if job == "-" else open_file(Path(job))
    return opened if rules is None else with_rules_of(opened, rules)


def bad_job(opened: Opened) -> Answer:
    """Answer with everything that is wrong with a job file."""
    count = len(opened.problems)
    return Answer(
        Code.BAD_JOB,
        f"{opened.name}: {count} thing{'s' * (count != 1)} to put right.",
        problems=opened.problems,
        next="put these right and ask again; docs/job-file.md has every key",
    )


def _stem(job: str) -> str:
    return "job" if job == "-" else Path(job).stem


def now() -> int:
    """When the papers are made: now, or what SOURCE_DATE_EPOCH says, so that a rebuild can give the same bytes."""
    return int(os.environ.get("SOURCE_DATE_EPOCH", "") or time.time())
