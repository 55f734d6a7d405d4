"""What a verb answers: a code, text for a person, values for a program, and what to do next."""

from __future__ import annotations

import json
import os
import shutil
import sys
import textwrap
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from crownwright.cli.codes import Code
from crownwright.quantity.problems import Problem

WIDEST = 110


@dataclass(frozen=True, slots=True)
class Section:
    """A part of an answer: a heading and its lines; ``heads`` puts a column of short headings before the lines, ``numbered``
    numbers them.
    """

    heading: str
    lines: tuple[str, ...]
    heads: tuple[str, ...] = ()
    numbered: bool = False


@dataclass(frozen=True, slots=True)
class Answer:
    """The answer of one verb. ``raw`` is text that goes out as it is (a schema, a job file)."""

    code: Code
    title: str = ""
    sections: tuple[Section, ...] = ()
    next: str = ""
    data: Mapping[str, Any] = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()
    raw: str = ""


def as_json(answer: Answer, verb: str) -> str:
    """The answer as one JSON object."""
    from crownwright.service.plain import plain

    whole = {
        "verb": verb,
        "code": int(answer.code),
        "means": answer.code.says,
        "problems": answer.problems,
        **answer.data,
        "next": answer.next,
    }
    return json.dumps(plain(whole), indent=2, ensure_ascii=False)


def as_text(answer: Answer, width: int, bold: bool) -> str:
    """The answer for a person, no wider than ``width``."""
    if answer.raw:
        return answer.raw.rstrip("\n")
    blocks = [_strong(answer.title, bold)] if answer.title else []
    blocks += [
        _section(section, width, bold) for section in (*answer.sections, *_problem_section(answer.problems)) if section.lines
    ]
    if answer.next:
        blocks.append(textwrap.fill(f"Next: {answer.next}", width, break_on_hyphens=False, break_long_words=False))
    return "\n\n".join(blocks)


def terminal_width() -> int:
    """Columns to write into: those of the terminal, but no wider than reads well."""
    return max(40, min(shutil.get_terminal_size((100, 24)).columns, WIDEST))


def wants_bold() -> bool:
    """Whether the output goes to a terminal that may show bold type."""
    return sys.stdout.isatty() and "NO_COLOR" not in os.environ and os.environ.get("TERM") != "dumb"


def _problem_section(problems: tuple[Problem, ...]) -> Iterable[Section]:
    if problems:
        stops = any(problem.stops for problem in problems)
        yield Section("What is wrong" if stops else "Worth knowing", tuple(map(str, problems)), numbered=True)


def _section(section: Section, width: int, bold: bool) -> str:
    heads = section.heads or tuple(f"{n}." for n in range(1, len(section.lines) + 1)) if section.numbered or section.heads else ()
    room = max(map(len, heads), default=0)
    lines = [
        _hung(head.ljust(room), line, width)
        for head, line in zip(heads or ("",) * len(section.lines), section.lines, strict=True)
    ]
    return "\n".join([_strong(section.heading, bold), *lines] if section.heading else lines)


def _hung(head: str, line: str, width: int) -> str:
    """A line with its head, folded so that the rest hangs under the line, not the head."""
    lead = f"  {head}  " if head else "  "
    return textwrap.fill(
        line, width, initial_indent=lead, subsequent_indent=" " * len(lead), break_on_hyphens=False, break_long_words=False
    )


def _strong(text: str, bold: bool) -> str:
    return f"\x1b[1m{text}\x1b[0m" if bold else text
