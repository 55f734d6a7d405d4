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
_PLACE = re.compile(r"\s*\(at line (\d+), column (\d+)\)$")
_NAKED_VALUE = re.compile(r"""=\s*[+-]?[0-9][^"\[{#=]*$""")
_INCH_IN_QUOTES = re.compile(r'[0-9]"\s*"')


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
    while True:
        try:
            values = tomllib.loads(text, parse_float=TypedFloat)
        except tomllib.TOMLDecodeError as error:
            place = _PLACE.search(str(error))
            what = _PLACE.sub("", str(error))
            if not place or len(problems) >= MOST_UNREADABLE:
                problems.append(
                    Problem(name, f"the file cannot be read to its end: {what}", "Look for a bracket or quote left open")
                )
                return Toml({}, "", tuple(problems))
            text, line, typed = _without_line(text, int(place[1]))
            problems.append(
                Problem(f"line {line}", f"“{_short(typed)}” cannot be read: {what[:1].lower()}{what[1:]}", _remedy(typed))
            )
        except (ValueError, RecursionError, OverflowError) as error:
            what = "brackets too deep" if isinstance(error, RecursionError) else "a number too long or a date that is none"
            return Toml({}, "", (*problems, Problem(name, f"the file cannot be read: {what}", "Write it shorter")))
        else:
            return Toml(values, text, tuple(problems))


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
