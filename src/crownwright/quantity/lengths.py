"""Lengths as a tape says them: the one module that reads and prints feet, inches and fractions.

`parse_length` never raises on text: it gives a `Reading` (metres, with what was typed beside them) or a `Problem` with what
to type instead. `print_length` writes so that reading it back gives the same number.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import floor
from typing import Literal

from crownwright.quantity.problems import Problem
from crownwright.quantity.tape_words import Kind, Token, tokens
from crownwright.quantity.units import FOOT, INCH

Bare = Literal["in", "ft", "mm", "cm", "m"]
"""What a number with no unit is in. Always said by the caller: an inch for a US job, cm or mm for a metric one."""
Style = Literal["feet", "inches", "in.", "mm", "cm", "m"]

LONGEST = 1000.0  # m; beyond this the text is a mistake, whatever it was meant to be
MOST_LETTERS = 80
_ROUND_OFF = 1e-9  # of a division: binary noise of metres, far under anything a tape shows


@dataclass(frozen=True, slots=True)
class Reading:
    """A length read: ``metres``, the text as ``typed``, and the finest division written (``step``, m: 1/8 in. for 51 3/8)."""

    metres: float
    typed: str
    step: float


@lru_cache(4096)  # a job's readings are read again whenever it is planned
def parse_length(text: str, bare: Bare, where: str = "length") -> Reading | Problem:
    """Read a length in any way a tape is spoken or typed.

    Args:
        text: what was typed: ``4' 3 1/2"``, ``4-3-1/2``, ``51 1/2``, ``51.5in``, ``4 ft 3 1/2 in``, ``1310 mm``,
            ``1,31 m``, ``-3/4``.
        bare: the unit of a number that has none.
        where: name of the reading, for the problem.

    Returns:
        A `Reading` in metres, or a `Problem` that says what is wrong and what to type. Inches become metres as
        ``inches * INCH`` and feet alone as ``feet * FOOT`` in floating point; metric is the nearest float to the decimal.

    >>> parse_length("4-3-1/2", "in").metres == 51.5 * INCH
    True
    >>> print(parse_length("4 3 1/2", "in", "tape AB"))
    tape AB: “4 3 1/2” may be feet and inches or something else. Type 4' 3 1/2" or 4-3-1/2
    """
    if len(text) > MOST_LETTERS:
        return Problem(where, f"“{text[:20]}...” is {len(text)} letters long", _EXAMPLES[bare])
    if not text.strip(' -?."'):
        return Problem(where, f"“{text}” has no number in it", "Type the reading, or leave the line out if it was not taken")
    read = tokens(text)
    if trouble := next((t.trouble for t in read if t.trouble), ""):
        what = trouble if trouble.startswith(f"“{text}”") else f"“{text}”: {trouble}"
        return Problem(where, what, _remedy(trouble, bare))
    sign, read = _take_sign(read)
    found = _meaning(read, bare)
    if isinstance(found, str):
        what, _, remedy = found.partition("|")
        return Problem(where, f"“{text}” {what}", remedy or _EXAMPLES[bare])
    metres, step = found
    if metres > LONGEST:
        return Problem(where, f"“{text}” is {metres:,.0f} m long", "Look for a missing decimal point or the wrong unit")
    return Reading(sign * metres if metres else 0.0, text, step)


def print_length(metres: float, style: Style = "inches", finest: int = 16, *, signed: bool = False) -> str:
    """Write a length (m) to the nearest division, halves away from zero.

    Args:
        metres: the length.
        style: ``feet`` 4' 3 1/2", ``inches`` 51 1/2", ``in.`` 51 1/2 in.; ``mm``, ``cm`` (one decimal), ``m`` (three).
        finest: divisions of an inch: 16, 8, 4, 2 or 1 (any power of two); not used for metric.
        signed: put a plus before a positive length, as offsets are written.

    >>> print_length(1.3081, "feet"), print_length(1.3081, "in.", 8), print_length(1.3081, "cm")
    ('4\\' 3 1/2"', '51 1/2 in.', '130.8 cm')
    """
    per_unit = {"mm": 1000, "cm": 1000, "m": 1000}.get(style)
    count = _nearest(metres * per_unit) if per_unit else _nearest(metres / INCH * finest)
    sign = "-" if metres < 0 and count else "+" if signed and count else ""
    return sign + _metric(count, style) if per_unit else sign + _trade(count, finest, style)


def finest_step(readings: Iterable[Reading]) -> float | None:
    """The finest division (m) used in a set of readings; None for none.

    One reading of 51 does not say that its reader rounds to whole inches; all of them together do.
    """
    return min((r.step for r in readings), default=None)


_EXAMPLES: dict[Bare, str] = {
    "in": "Type it like 51 1/2, 4' 3 1/2\", 4-3-1/2 or 51.5 in",
    "ft": "Type it like 4' 3 1/2\", 4.25 ft or 4.25",
    "mm": "Type it like 1310, 131 cm or 1.31 m",
    "cm": "Type it like 131, 1310 mm or 1.31 m",
    "m": "Type it like 1.31, 131 cm or 1310 mm",
}
_AMOUNT = "(?:n-?f|[ndf])"
_DOUBTFUL = re.compile(r"“(\d+),(\d+)” may mean thousands")
# The order of the pieces is the grammar. Each shape is tried on the kinds of the tokens, one letter a token.
_FEET = re.compile(rf"(?P<feet>{_AMOUNT})'(?:-?(?P<inches>{_AMOUNT}|n\"f)\"?)?")
_DASHED = re.compile(r"(?P<feet>n)-(?P<inches>n-?f|[nd])\"?")
_INCHES = re.compile(rf"{_AMOUNT}\"|n\"f\"?")
_METRIC = re.compile(rf"(?:(?P<M>{_AMOUNT}|nn)M)?(?:(?P<C>{_AMOUNT}|nn)C)?(?:(?P<K>{_AMOUNT}|nn)K)?")
_NAKED = re.compile(_AMOUNT)
_METRIC_UNITS = {"M": Fraction(1), "C": Fraction(1, 100), "K": Fraction(1, 1000)}
_BARE_MARK: dict[Bare, Kind] = {"in": '"', "ft": "'", "mm": "K", "cm": "C", "m": "M"}


def _take_sign(read: tuple[Token, ...]) -> tuple[float, tuple[Token, ...]]:
    if read and read[0].kind in "+-":
        return (-1.0 if read[0].kind == "-" else 1.0), read[1:]
    return 1.0, read


def _meaning(read: tuple[Token, ...], bare: Bare) -> tuple[float, float] | str:
    """Metres and step, or what is wrong and (after a bar) what to type."""
    shape = "".join(t.kind for t in read)
    if m := _FEET.fullmatch(shape) or _DASHED.fullmatch(shape):
        if "'" not in shape and '"' not in shape and bare in ("mm", "cm", "m"):
            return "has no unit, and this job's bare numbers are metric|Add ' and \" marks, or type it in " + bare
        return _feet_and_inches(_sum(read, m.span("feet")), _sum(read, m.span("inches")), shape)
    if _INCHES.fullmatch(shape):
        inches, step = _sum(read, (0, len(read)))
        return float(inches) * INCH, float(step) * INCH
    if shape and (m := _METRIC.fullmatch(shape)):
        return _metric_sum(read, {unit: m.span(unit) for unit in "MCK"})
    if _NAKED.fullmatch(shape):
        if "f" in shape and bare in ("mm", "cm", "m"):
            return f"has a fraction but no unit, and bare numbers are in {bare} here|Add in for inches, or type a decimal"
        return _meaning((*read, Token(_BARE_MARK[bare], "")), bare)
    return _why_not(shape)


def _sum(read: tuple[Token, ...], span: tuple[int, int]) -> tuple[Fraction, Fraction]:
    """Value and finest step of the tokens in the span; a thousands group ("1 310") is taken together."""
    part = [t for t in read[max(span[0], 0) : max(span[1], 0)] if t.kind in "ndf"]
    if len(part) == 2 and part[1].kind == "n":
        return part[0].value * 1000 + part[1].value, Fraction(1)
    return sum((t.value for t in part), Fraction(0)), min((t.step for t in part), default=Fraction(1))


def _feet_and_inches(feet: tuple[Fraction, Fraction], inches: tuple[Fraction, Fraction], shape: str) -> tuple[float, float] | str:
    only_feet = shape.endswith("'")
    if not only_feet and feet[0].denominator != 1:
        return "has part of a foot and inches as well|Type whole feet and then inches: 4' 3 1/2\""
    if inches[0] >= 12:
        return "has twelve inches or more after the feet|Carry them into the feet, or type inches alone"
    if only_feet:
        return float(feet[0]) * FOOT, float(feet[1]) * FOOT
    return float(feet[0] * 12 + inches[0]) * INCH, float(inches[1]) * INCH


def _metric_sum(read: tuple[Token, ...], spans: dict[str, tuple[int, int]]) -> tuple[float, float] | str:
    total, step = Fraction(0), Fraction(1)
    for unit, span in spans.items():
        if span[0] < 0:
            continue
        part = [t for t in read[span[0] : span[1]] if t.kind == "n"]
        if len(part) == 2 and not (len(part[1].text) == 3 and len(part[0].text) <= 3):
            return "has two numbers before its unit|Type one number and its unit: 1310 mm"
        value, fine = _sum(read, span)
        if total and value * _METRIC_UNITS[unit] >= 1:
            return "has more than a metre after the metres|Type it in one unit: 1310 mm"
        total, step = total + value * _METRIC_UNITS[unit], fine * _METRIC_UNITS[unit]
    return float(total), float(step)


def _why_not(shape: str) -> str:
    has_metric = any(unit in shape for unit in "MCK")
    if not any(kind in shape for kind in "ndf"):
        return "has no number in it"
    if has_metric and any(unit in shape for unit in "'\""):
        return "mixes metric with feet or inches|Type it in one of them"
    if "df" in shape or "d-f" in shape:
        return "has a decimal and a fraction|Type 51 1/2 or 51.5"
    if re.fullmatch(r"nn-?f?", shape):
        return "may be feet and inches or something else|Type 4' 3 1/2\" or 4-3-1/2"
    if re.search(r"[ndf][ndf]", shape):
        return "has two numbers with no unit between them|Put a unit after each: 4 ft 3 1/2 in"
    return "is not in the order of a length"


def _remedy(trouble: str, bare: Bare) -> str:
    if found := _DOUBTFUL.search(trouble):
        return f"Leave the thousands mark out ({found[1]}{found[2]}), or write the decimal with a point ({found[1]}.{found[2]})"
    if "how much" in trouble:
        return "Type the nearest sixteenth"
    if "one or more" in trouble:
        return "Type the whole number first: 1 1/8"
    if "of a tape" in trouble:
        return "Type the nearest sixteenth, or a decimal"
    return _EXAMPLES[bare]


def _nearest(count: float) -> int:
    return floor(abs(count) + 0.5 + _ROUND_OFF)


def _metric(count: int, style: str) -> str:
    if style == "mm":
        return f"{count} mm"
    return f"{count // 10}.{count % 10} cm" if style == "cm" else f"{count // 1000}.{count % 1000:03d} m"


def _trade(count: int, finest: int, style: str) -> str:
    inches, part = divmod(count, finest)
    feet, inches = divmod(inches, 12) if style == "feet" else (0, inches)
    fraction = f"{Fraction(part, finest)}" if part else ""
    text = f"{inches} {fraction}".strip() if inches or not fraction else fraction
    mark = " in." if style == "in." else '"'
    return f"{feet}' {text}{mark}" if feet else f"{text}{mark}"
