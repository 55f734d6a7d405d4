"""From a TOML text to its values. A line that cannot be read is told, set aside, and the rest is read all the same, so that
one missing quote does not hide twenty other faults.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from typing import Any

from crownwright.quantity.problems import Problem

MOST_UNREADABLE = 40
MOST_READ = 20_000_000  # signs read in all, each unreadable line making one more reading
DEEPEST = 32  # the job file has tables five deep
_PLACE = re.compile(r"\s*\(at line (\d+), column (\d+)\)$")
_NAKED_VALUE = re.compile(r"""=\s*[+-]?[0-9][^"\[{#=]*$""")
_INCH_IN_QUOTES = re.compile(r'[0-9]"\s*"')
_KEY = r"""(?:[A-Za-z0-9_-]+|"[^"\n]*"|'[^'\n]*')[ \t]*"""
_DEEP_KEY = re.compile(rf"(?:^[ \t]*\[*|[{{,])[ \t]*(?:{_KEY}\.[ \t]*){{{DEEPEST}}}", re.MULTILINE)
"""A key of so many parts that reading it would take the square of their number."""


class TypedFloat(float):
    """A TOML decimal that still knows how it was typed (51.50)."""

    __slots__ = ("typed",)
    typed: str

    def __new__(cls, typed: str) -> TypedFloat:
        """Read the number and keep its text."""
        number = super().__new__(cls, typed)
        number.typed = typed
        return number


@dataclass(frozen=True, slots=True)
class Toml:
    """What could be read: the values, the text they were read from, and what could not be."""

    values: dict[str, Any]
    text: str
    problems: tuple[Problem, ...]


def parse_toml(text: str, name: str) -> Toml:
    """Read a TOML text; ``name`` is what the text is called in a problem without a line."""
    problems: list[Problem] = []
    if _DEEP_KEY.search(text):
        return Toml({}, "", (_too_deep(name),))
    most = min(MOST_UNREADABLE, MOST_READ // max(len(text), 1))
    while True:
        try:
            values = tomllib.loads(text, parse_float=TypedFloat)
        except tomllib.TOMLDecodeError as error:
            place = _PLACE.search(str(error))
            what = _PLACE.sub("", str(error))
            if not place or len(problems) >= most:
                problems.append(
                    Problem(name, f"the file cannot be read to its end: {what}", "Look for a bracket or quote left open")
                )
                return Toml({}, "", tuple(problems))
            text, line, typed = _without_line(text, int(place[1]))
            problems.append(
                Problem(f"line {line}", f"“{_short(typed)}” cannot be read: {what[:1].lower()}{what[1:]}", _remedy(typed))
            )
        except (ValueError, RecursionError, OverflowError) as error:
            what = "a number too long or a date that is none"
            worse = Problem(name, f"the file cannot be read: {what}", "Write it shorter")
            return Toml({}, "", (*problems, _too_deep(name) if isinstance(error, RecursionError) else worse))
        else:
            deep = _is_deep(values)
            return Toml({}, "", (*problems, _too_deep(name))) if deep else Toml(values, text, tuple(problems))


def _too_deep(name: str) -> Problem:
    return Problem(name, "the file cannot be read: brackets too deep", "Write it shorter")


def _is_deep(values: dict[str, Any]) -> bool:
    """Whether tables and lists lie deeper in each other than anything that reads them could follow."""
    level: list[Any] = [values]
    for _ in range(DEEPEST):
        inner = (part.values() if isinstance(part, dict) else part for part in level)
        level = [part for parts in inner for part in parts if isinstance(part, dict | list)]
        if not level:
            return False
    return True


def _without_line(text: str, number: int) -> tuple[str, int, str]:
    """The text with a line emptied (or, where it is empty, the last before it that is not), its number and what it said."""
    lines = text.split("\n")
    while number > 1 and not lines[number - 1].strip():
        number -= 1
    typed = lines[number - 1].strip()
    lines[number - 1] = ""
    return "\n".join(lines), number, typed


def _short(typed: str) -> str:
    return typed if len(typed) <= 60 else typed[:57] + "..."


def _remedy(typed: str) -> str:
    if "{" in typed and "}" not in typed:
        return "Keep everything from { to } on one line"
    if _INCH_IN_QUOTES.search(typed):
        return "Leave the inch mark out, or put single quotes round the value: '51 1/2\"'"
    if _NAKED_VALUE.search(typed):
        return 'Put quotes round the value: "51 1/2"'
    if typed.count('"') % 2:
        return "There is a quote too many or too few; a text that holds one goes in single quotes: 'the \"old\" flue'"
    if "\\" in typed:
        return "Put single quotes round a value with a backslash in it"
    if "=" not in typed and not typed.startswith(("[", "{", "]")):
        return 'Write key = "value", one to a line'
    return 'Look for a missing quote, comma or bracket: key = "value"'
