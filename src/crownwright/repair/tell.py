"""Small help for the repair's figures: their inputs as tuples, uncertain values multiplied."""

from __future__ import annotations

from math import ceil, sqrt

from crownwright.quantity.display import System, show
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import FOOT
from crownwright.quantity.working import DERIVED, Cite, Figure, Term

Input = tuple[str, str, float | str, str] | tuple[str, str, float | str, str, Cite]
"""Symbol, name, value, unit, and where it comes from where that is not the figure's own source."""


def figure(
    key: str, label: str, value: float | Uncertain, unit: str, formula: str, *inputs: Input, cite: Cite = DERIVED, holds: str = ""
) -> Figure:
    """Return a figure; an uncertain value brings its spread."""
    terms = tuple(Term(*one) for one in inputs)
    mean, spread = (value.mean, value.sd) if isinstance(value, Uncertain) else (value, None)
    return Figure(key, label, mean, unit, formula, terms, cite, holds, spread=spread)


def times(*parts: Uncertain | float) -> Uncertain:
    """The product of values that err apart from each other, to first order: each spread by the product of the other means.

    >>> times(Uncertain(2.0, 0.2), 3.0)
    Uncertain(mean=6.0, sd=0.6000000000000001)
    """
    mean, variance = 1.0, 0.0
    for part in parts:
        value = part if isinstance(part, Uncertain) else Uncertain(part)
        mean, variance = mean * value.mean, variance * value.mean**2 + (mean * value.sd) ** 2
    return Uncertain(mean, sqrt(variance))


def plus(*parts: Uncertain) -> Uncertain:
    """The sum of values that err apart from each other."""
    return Uncertain(sum(part.mean for part in parts), sqrt(sum(part.sd**2 for part in parts)))


def to_buy(amount: float, unit: str, units: System) -> str:
    """Return an amount that is bought, of the SI ``unit``: a run in whole feet or tenths of a metre, rounded up.

    >>> to_buy(3.402, "m", "us"), to_buy(3.402, "m", "metric"), to_buy(13.0, "1", "us")
    ('12 ft', '3.5 m', '13')
    """
    if unit == "1":
        return f"{amount:g}"
    if unit != "m":
        return show(amount, unit, units)
    return f"{ceil(amount / FOOT - 1e-9)} ft" if units == "us" else f"{ceil(amount * 10 - 1e-9) / 10:.1f} m"


def run_words(value: Uncertain, units: System) -> str:
    """Return a length of joint with its spread, in whole feet or tenths of a metre: it was counted on patches.

    >>> run_words(Uncertain(25.0, 1.2), "us"), run_words(Uncertain(25.0, 1.2), "metric")
    ('82 ft ± 4', '25.0 m ± 1.2')
    """
    size, name, decimals = (FOOT, "ft", 0) if units == "us" else (1.0, "m", 1)
    spread = f" ± {value.sd / size:.{decimals}f}" if value.sd > 0 else ""
    return f"{value.mean / size:.{decimals}f} {name}{spread}"
