"""The command line: reads what was typed, calls one verb, shows its answer. A verb imports what it needs when it runs."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path

from crownwright import __version__
from crownwright.cli import after, app, book, days, deal, money, raw_mix, repair, strip, verbs
from crownwright.cli.answer import Answer, as_json, as_text, terminal_width, wants_bold
from crownwright.cli.codes import Code
from crownwright.cli.lessons import finished_option

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # matrices this small only wait for a second thread
ABOUT = "From a mason's readings on a chimney top to a cast concrete cap that can be built."
END = """exit codes:
{codes}

Every command takes --json and then writes one JSON object. A job file is TOML; docs/job-file.md has every key. The name - reads
it from a pipe."""


def build_parser() -> argparse.ArgumentParser:
    """Every command, option and help text; tested to stand in docs/command-line.md."""
    codes = "\n".join(f"  {int(code):>3}  {code.says}" for code in Code)
    parser = argparse.ArgumentParser("crownwright", description=ABOUT, epilog=END.format(codes=codes), formatter_class=_Plain)
    parser.add_argument("--version", action="version", version=f"crownwright {__version__}")
    commands = parser.add_subparsers(title="commands", dest="verb", metavar="COMMAND", required=True)

    def command(
        name: str, does: str, verb: verbs.Verb, *, job: bool = False, into: str = "", paper: bool = False
    ) -> argparse.ArgumentParser:
        sub = commands.add_parser(name, help=does, description=does[:1].upper() + does[1:] + ".", formatter_class=_Plain)
        sub.set_defaults(run=verb)
        if job:
            sub.add_argument("job", metavar="JOB", help="the job file, or - for a pipe")
        if into:
            sub.add_argument("--into", metavar="PLACE", type=Path, help=into)
        if paper:
            sub.add_argument(
                "--paper", choices=("letter", "a4"), help="size of paper; left out, what is usual with the job's units"
            )
        sub.add_argument("--json", action="store_true", help="write one JSON object")
        return sub

    folder = "folder to put the files in; left out, the job's name with -plan"
    plan = command("plan", "plan a job: a summary, its papers and its drawings", verbs.plan, job=True, into=folder, paper=True)
    plan.add_argument("--no-files", action="store_true", help="the summary only, no papers and no drawings")
    command(
        "readings", "check the readings only: do they close, which is off, what is still to be read", verbs.readings, job=True
    )
    draw = command("draw", "draw a plan", verbs.draw, job=True, into=folder)
    draw.add_argument("--as", dest="kinds", default="svg,dxf,glb,stl", metavar="KINDS", help="kinds of file: svg,dxf,glb,stl")
    papers = command("papers", "write the papers of a plan as PDF", verbs.papers, job=True, into=folder, paper=True)
    explain = command("explain", "explain a figure: formula, inputs, source, how sure it is", verbs.explain, job=True)
    explain.add_argument(
        "key", metavar="KEY", nargs="?", default="", help="the figure, like cap.volume, or how it begins; left out, a list"
    )
    finished_option(plan, "bags as they say")
    for sub in (plan, draw, papers, explain):
        sub.add_argument("--rules", metavar="FILE", type=Path, help="file of local rules, laid under the job's own")
    command("schema", "write the JSON Schema of the job file", verbs.schema, into="file to write; left out, the screen")
    command(
        "demo",
        "plan an invented chimney, to look at",
        verbs.demo,
        into="folder to put the files in; left out, crownwright-demo",
        paper=True,
    )
    card = command(
        "roof-card", "make a blank roof card with boxes for a first climb", verbs.roof_card, into="file to write", paper=True
    )
    card.add_argument("--corners", type=int, default=4, metavar="N", help="corners of the top, 3 to 8; left out, 4")
    card.add_argument("--flues", type=int, default=2, metavar="N", help="flues, 0 to 4; left out, 2")
    card.add_argument("--units", choices=("us", "metric"), default="us", help="what the tape shows; left out, us")
    days.add_commands(command)
    raw_mix.add_commands(command)
    strip.add_commands(command)
    repair.add_commands(command)
    money.add_commands(command)
    after.add_commands(command)
    book.add_commands(command)
    deal.add_commands(command)
    app.add_commands(command)
    return parser


def run(argv: Sequence[str] | None = None) -> int:
    """Run a command; returns its exit code."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # an old terminal may lack a sign; a question mark is better than no answer
    args = build_parser().parse_args(argv)
    try:
        answer: Answer = args.run(args)
    except KeyboardInterrupt:
        answer = Answer(Code.STOPPED, "Stopped.", next="run it again when you like; nothing half-made was left behind")
    except Exception as error:
        answer = _our_fault(error)
    return _show(answer, args)


def _show(answer: Answer, args: argparse.Namespace) -> int:
    failed = answer.code not in (Code.DONE, Code.NOT_READY)
    text = as_json(answer, args.verb) if args.json else as_text(answer, terminal_width(), wants_bold())
    try:
        print(text, file=sys.stderr if failed and not args.json else sys.stdout, flush=True)
    except BrokenPipeError:
        sys.stdout = None  # the reader has gone; Python must not complain about it at exit
    return int(answer.code)


def _our_fault(error: Exception) -> Answer:
    """A fault of the program: never a bare traceback, but all that whoever mends it needs."""
    import traceback

    last = traceback.extract_tb(error.__traceback__)[-1]
    at = f"{Path(last.filename).name}, line {last.lineno}, in {last.name}"
    trace = "".join(traceback.format_exception(error))
    return Answer(
        Code.OUR_FAULT,
        f"This is a fault of Crownwright {__version__}, not of your job: {type(error).__name__}: {error} ({at}).",
        next="run it again with --json, and send its output with the job file to whoever keeps Crownwright for you",
        data={"trace": trace},
    )


class _Plain(argparse.RawDescriptionHelpFormatter):
    """Help as it was written, wide enough for the options to stand beside what they do."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, max_help_position=22, width=terminal_width())

    def add_argument(self, action: argparse.Action) -> None:
        """Make room for the longest command too: it stands two further in than the library counts on."""
        super().add_argument(action)
        if isinstance(action.choices, dict):
            self._action_max_length = max(self._action_max_length, *(len(name) + 6 for name in action.choices))
