"""Units that things are sold by, and how much of the SI unit each is. Decimal, because a price is multiplied by them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType

from crownwright.quantity.money import EXACT, measured


@dataclass(frozen=True, slots=True)
class SoldBy:
    """A unit of sale: how many of the SI unit ``si`` it is."""

    si: str
    size: Decimal


UNITS: Mapping[str, SoldBy] = MappingProxyType(
    {
        "each": SoldBy("1", Decimal(1)),
        "%": SoldBy("1", Decimal("0.01")),
        "ft": SoldBy("m", Decimal("0.3048")),
        "m": SoldBy("m", Decimal(1)),
        "sq ft": SoldBy("m2", Decimal("0.09290304")),
        "m2": SoldBy("m2", Decimal(1)),
        "cu ft": SoldBy("m3", Decimal("0.028316846592")),
        "m3": SoldBy("m3", Decimal(1)),
        "L": SoldBy("m3", Decimal("0.001")),
        "fl oz": SoldBy("m3", Decimal("0.0000295735295625")),
        "lb": SoldBy("kg", Decimal("0.45359237")),
        "kg": SoldBy("kg", Decimal(1)),
        "h": SoldBy("s", Decimal(3600)),
        "day": SoldBy("s", Decimal(86400)),
        "mile": SoldBy("m", Decimal("1609.344")),
        "km": SoldBy("m", Decimal(1000)),
    }
)


def in_unit(value: float, si: str, unit: str) -> Decimal:
    """Return a measured SI value in a unit of sale, to six decimals; ValueError where the unit measures something else.

    >>> in_unit(3.048, "m", "ft")
    Decimal('10.000000')
    """
    sold = UNITS[unit]
    if sold.si != si:
        raise ValueError(f"{unit} does not measure {si}; sold by one of: {', '.join(u for u, s in UNITS.items() if s.si == si)}")
    return EXACT.divide(measured(value, 12), sold.size).quantize(Decimal("0.000001"))
