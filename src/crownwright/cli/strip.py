"""The command for a form that the mason described himself: does it come off its concrete?"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from pathlib import Path

from crownwright.cli.answer import Answer, Section
from crownwright.cli.codes import Code
from crownwright.cli.patience import patience
from crownwright.quantity.problems import Problem

Adder = Callable[..., ArgumentParser]


def add_commands(command: Adder) -> None:
    """Put the command among the others."""
    does = "search any form you describe for an order in which it comes off its concrete, and name the screw to move if none"
    folder = "folder to put the files in; left out, the form's name with -steps"
    sub = command("strip", does, strip, into=folder, paper=True)
    sub.add_argument("form", metavar="FORM", help="the form file, or - for a pipe; docs/form-file.md has every key")
    sub.add_argument("--no-files", action="store_true", help="the answer only, no papers and no drawings")


def strip(args: Namespace) -> Answer:
    """Search a form file."""
    from crownwright.cli.verbs import now, put_all
    from crownwright.service.strip_a_form import form_files, open_form, open_form_bytes, strip_a_form

    piped = args.form == "-"
    told, problems = open_form_bytes(sys.stdin.buffer.read(), "the pipe") if piped else open_form(Path(args.form))
    if told is None:
        return _bad_form("the pipe" if piped else Path(args.form).name, problems)
    folder = args.into or Path(f"{'form' if piped else Path(args.form).stem}-steps")
    with patience("Looking for an order") as shown:
        done = strip_a_form(told)
        shown.step("Writing papers")
        written, trouble = put_all(folder, () if args.no_files else form_files(done, args.paper, now()), shown.step)
    if trouble:
        return Answer(Code.NOT_WRITTEN, problems=(trouble,), next="give a folder you may write to with --into")
    order = done.order
    says = [f"{finding.rule}: {finding.verdict}. {finding.action}".rstrip() for finding in done.findings]
    sections = (
        Section("Compared", tuple(says), numbered=True),
        Section("Taking it off", done.off, numbered=True),
        Section("Putting it together", done.on, numbered=True),
        Section("Heads to grease before the pour", (", ".join(done.grease),) if done.grease else ()),
        Section(f"Papers and drawings in {folder}", tuple(path.relative_to(folder).as_posix() for path in written)),
    )
    data = {"order": order, "findings": done.findings, "off": done.off, "on": done.on, "folder": folder, "files": written}
    code = Code.DONE if order.comes_off else Code.NOT_READY
    wrong = f"change what is named above in {args.form}, and ask again"
    then = "take it apart once with your own hands before the pour" if order.comes_off else wrong
    return Answer(code, told.title, sections, then, data)


def _bad_form(name: str, problems: tuple[Problem, ...]) -> Answer:
    count = len(problems)
    return Answer(
        Code.BAD_JOB,
        f"{name}: {count} thing{'s' * (count != 1)} to put right.",
        problems=problems,
        next="put these right and ask again; docs/form-file.md has every key",
    )
