"""Small help for the repair's figures: their inputs as tuples, uncertain values multiplied."""

from __future__ import annotations

from math import ceil, sqrt

from crownwright.quantity.display import System, show
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import FLUID_OUNCE, FOOT, GALLON, QUART
from crownwright.quantity.working import DERIVED, Cite, Figure, Term
from crownwright.repair.model import Material

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


LIQUIDS = ("water repellent",)
"""What comes in cans, by its key in the price book."""
SEALANTS = "sealant"
"""How the keys begin of what comes in tubes."""


def to_buy(line: Material, units: System) -> str:
    """Return how much of a material is bought, rounded up: a run in whole feet or tenths of a metre, what comes in cans in
    quarts up to a gallon and then in half gallons, or in tenths of a litre; a sealant in ounces as its tubes say, or millilitres.

    >>> wrap, brick = Material("wrap", "wrap", 3.402, "m", ""), Material("brick", "brick", 13.0, "1", "")
    >>> to_buy(wrap, "us"), to_buy(wrap, "metric"), to_buy(brick, "us")
    ('12 ft', '3.5 m', '13')
    >>> repellent, sealant = Material(LIQUIDS[0], "", 0.0071, "m3", ""), Material("sealant, heat", "", 0.00021, "m3", "")
    >>> to_buy(repellent, "us"), to_buy(repellent, "metric"), to_buy(sealant, "us"), to_buy(sealant, "metric")
    ('2 gal', '7.1 L', '8 fl oz', '210 mL')
    """
    if line.unit == "1":
        return f"{line.amount:g}"
    if line.unit == "m":
        return f"{_up(line.amount / FOOT)} ft" if units == "us" else f"{_up(line.amount * 10) / 10:.1f} m"
    if line.key in LIQUIDS:
        return _cans(line.amount, units)
    if line.key.startswith(SEALANTS) and line.unit == "m3":
        return f"{_up(line.amount / FLUID_OUNCE)} fl oz" if units == "us" else f"{_up(line.amount * 1e5) * 10} mL"
    return show(line.amount, line.unit, units)


def _cans(volume: float, units: System) -> str:
    if units == "metric":
        return f"{_up(volume * 10_000) / 10:.1f} L"
    quarts = _up(volume / QUART)
    return f"{quarts} qt" if quarts < 4 else f"{_up(volume / GALLON * 2) / 2:g} gal"


def _up(count: float) -> int:
    """The next whole count, but for the noise of binary numbers."""
    return ceil(count - 1e-9)


def liquid_words(value: Uncertain, units: System) -> str:
    """Return how much of a liquid goes on, in gallons or litres, with its spread.

    >>> liquid_words(Uncertain(0.0071, 0.0012), "us"), liquid_words(Uncertain(0.0071, 0.0012), "metric")
    ('1.9 gal ± 0.3', '7.1 L ± 1.2')
    """
    size, name = (GALLON, "gal") if units == "us" else (0.001, "L")
    return f"{value.mean / size:.1f} {name} ± {value.sd / size:.1f}"


def run_words(value: Uncertain, units: System) -> str:
    """Return a length of joint with its spread, in whole feet or tenths of a metre: it was counted on patches.

    >>> run_words(Uncertain(25.0, 1.2), "us"), run_words(Uncertain(25.0, 1.2), "metric")
    ('82 ft ± 4', '25.0 m ± 1.2')
    """
    size, name, decimals = (FOOT, "ft", 0) if units == "us" else (1.0, "m", 1)
    spread = f" ± {value.sd / size:.{decimals}f}" if value.sd > 0 else ""
    return f"{value.mean / size:.{decimals}f} {name}{spread}"
