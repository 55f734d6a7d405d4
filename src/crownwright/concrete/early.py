"""Strength in the first days by published curves, and what stands behind "80 per cent in three days".

For a steady temperature and a doorstep answer; the weather and the cap's own warmth are the business of the cure.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import sqrt
from types import MappingProxyType

from crownwright.codes import aci_209r_1992, aci_308r, en_1992_1_1_2004
from crownwright.codes.astm_c1074 import ENERGY_BAND, rate_factor
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import DAY, HOUR
from crownwright.quantity.working import Cite, Figure, Term
from crownwright.sources.grids import Grid, read_grids

CURVES: Mapping[str, tuple[Callable[[float], float], Cite]] = MappingProxyType(
    {
        "ACI 209, type I": (aci_209r_1992.strength_ratio, Cite("aci_209r_1992", "eq. 2-1")),
        "ACI 209, type III": (
            lambda t: aci_209r_1992.strength_ratio(t, "type III, moist"),
            Cite("aci_209r_1992", "eq. 2-1"),
        ),
        "EN 1992, slow": (lambda t: en_1992_1_1_2004.strength_ratio(t, "S"), Cite("en_1992_1_1_2004", "eq. 3.2")),
        "EN 1992, normal": (lambda t: en_1992_1_1_2004.strength_ratio(t, "N"), Cite("en_1992_1_1_2004", "eq. 3.2")),
        "EN 1992, rapid": (lambda t: en_1992_1_1_2004.strength_ratio(t, "R"), Cite("en_1992_1_1_2004", "eq. 3.2")),
    }
)
"""Strength at an age (s, near 20 degC, kept moist) over that at 28 days, by name."""
ORDINARY = ("ACI 209, type I", "EN 1992, normal")
REFERENCE = 20.0
SAYING = 0.80


@dataclass(frozen=True, slots=True)
class Saying:
    """What is behind the saying: share of 28-day strength at three days by name; days to 80 % by name; range and mean of the
    open data; and what three days of *moist curing* leave of the eventual strength, which is where it likely comes from.
    """

    at_three_days: Mapping[str, float]
    days_to_it: Mapping[str, float]
    data: tuple[float, float, float]
    moist_three_days: float
    figures: tuple[Figure, ...]


def data() -> Mapping[str, Grid]:
    """Return the statistics of the open data set."""
    return read_grids("crownwright.codes", "uci_concrete.toml")


def early_strength(at_28: Uncertain, age: float, temperature: float = REFERENCE) -> Uncertain:
    """Strength, Pa, at an age (s) at a steady temperature (degC) of concrete kept moist, with its spread.

    Middle of the two ordinary curves at the equivalent age; spread from their distance, from the activation energies the
    sources give, and from the strength at 28 days. Under a day no curve here knows of setting: do not lean on it.

    >>> s = early_strength(Uncertain(30e6, 0.0), 3 * DAY)
    >>> round(s.mean / 30e6, 2), round(s.sd / 30e6, 2)
    (0.53, 0.07)
    """
    if age <= 0:
        return Uncertain(0.0)
    ages = [age * rate_factor(temperature, energy, REFERENCE) for energy in ENERGY_BAND]
    shares = [CURVES[name][0](t) for name in ORDINARY for t in ages]
    middle, half = (min(shares) + max(shares)) / 2, (max(shares) - min(shares)) / 2
    mean = middle * at_28.mean
    return Uncertain(mean, sqrt((half * at_28.mean) ** 2 + (middle * at_28.sd) ** 2))


def saying() -> Saying:
    """Return "80 per cent in three days" beside the curves, the data and the moist-curing table.

    >>> said = saying()
    >>> round(said.at_three_days["ACI 209, type I"], 3), round(said.days_to_it["EN 1992, normal"], 1), said.moist_three_days
    (0.458, 7.8, 0.8)
    """
    shares = {name: curve(3 * DAY) for name, (curve, _) in CURVES.items()}
    days = {name: _when(curve) / DAY for name, (curve, _) in CURVES.items()}
    grid = data()["ratio"]
    open_data = (grid.number("3", "least"), grid.number("3", "mean"), grid.number("3", "most"))
    moist = aci_308r.moist_share(3 * DAY)
    return Saying(MappingProxyType(shares), MappingProxyType(days), open_data, moist, _figures(shares, open_data, moist))


def _when(curve: Callable[[float], float]) -> float:
    """Age (s) at which a curve reaches 80 %, to the tenth of an hour."""
    low, high = HOUR, 28 * DAY
    while high - low > HOUR / 10:
        middle = (low + high) / 2
        low, high = (low, middle) if curve(middle) >= SAYING else (middle, high)
    return high


def _figures(shares: Mapping[str, float], open_data: tuple[float, float, float], moist: float) -> tuple[Figure, ...]:
    age = (Term("t", "age", 3 * DAY, "s"), Term("T", "steady temperature", REFERENCE, "degC"))
    low, mean, high = open_data
    curves = [
        Figure(
            f"concrete.three_days.{n}",
            f"share of 28-day strength at 3 days, {name}",
            share,
            "1",
            "see the curve",
            age,
            CURVES[name][1],
        )
        for n, (name, share) in enumerate(shares.items(), 1)
    ]
    measured = Figure(
        "concrete.three_days.data",
        f"share at 3 days, 22 mixes measured ({low:.2f} to {high:.2f})",
        mean,
        "1",
        "mean",
        age,
        Cite("uci_concrete", "22 mixes", "derived"),
    )
    kept = Figure(
        "concrete.three_days.moist",
        "eventual strength if kept moist three days only",
        moist,
        "1",
        "table",
        (Term("d", "days kept moist", 3.0),),
        Cite("moist_cure_handbook"),
    )
    return (*curves, measured, kept)
