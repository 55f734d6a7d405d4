"""What the heat balance needs to know of the cap and the mix, and what the mason may decide about the cure."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from crownwright.codes import aci_305r_2010, aci_306r_2010, menzel_1954
from crownwright.codes.osha_1926 import limit
from crownwright.quantity.units import DAY, INCH, MPH

Floats = NDArray[np.float64]
CementKind = Literal["type I", "type III"]
HOSE = 10.0, 20.0
"""degC: water from a hose is not colder than the ground it comes through, nor warmer once it has run (judgement)."""

THIN = 0.1
"""m: any section under 12 in. stands in the same row of ACI 306R's table."""


@dataclass(frozen=True, slots=True)
class CapInWeather:
    """The cap as the weather meets it: m.

    ``edge_thickness`` at the outer edge, ``middle_thickness`` where it lies on the stone; ``overhang`` beyond the stone;
    ``length`` and ``width`` in plan; ``height`` of the top above ground; ``ground`` a kind of `ashrae_wind.terrain`;
    ``masonry`` a material of `thermal_materials`; ``board`` thickness of soffit and side boards.
    """

    edge_thickness: float
    middle_thickness: float
    overhang: float
    length: float
    width: float
    height: float = 8.0
    ground: str = "wooded or suburb"
    masonry: str = "brick"
    board: float = 1.5 * INCH

    @property
    def perimeter(self) -> float:
        """Round the outer edge, m."""
        return 2 * (self.length + self.width)

    @property
    def area(self) -> float:
        """In plan, m2."""
        return self.length * self.width


@dataclass(frozen=True, slots=True)
class FollowsAir:
    """The temperature of a mix of which something is as warm as the air: ``base`` degC of what is told, ``of_air`` share of the
    air's temperature, ``of_hose`` share of the temperature of water from a hose, which is the air's within `HOSE`.
    """

    base: float = 0.0
    of_air: float = 1.0
    of_hose: float = 0.0

    def at(self, air: Floats) -> Floats:
        """Temperature as placed, degC, in air of any shape, degC.

        >>> float(FollowsAir(4.0, 0.5, 0.25).at(np.array([0.0]))[0])
        6.5
        """
        return np.asarray(self.base + self.of_air * air + self.of_hose * hose(air))


def hose(air: Floats) -> Floats:
    """Temperature of water from a hose, degC: that of the air, but no colder or warmer than `HOSE` (judgement)."""
    return np.clip(air, *HOSE)


@dataclass(frozen=True, slots=True)
class MixInCure:
    """The mix as the cure needs it.

    ``cement`` kg/m3, ``water_cement`` by mass, ``strength`` expected at 28 days Pa with its relative standard error,
    ``temperature`` as placed degC (None: ``follows`` the air, as what is not told of bags and water does), ``density`` kg/m3.
    """

    cement: float
    water_cement: float
    strength: float
    strength_sd: float = 0.15
    kind: CementKind = "type I"
    temperature: float | None = None
    density: float = 2300.0
    follows: FollowsAir = FollowsAir()

    def placed(self, air: Floats) -> Floats:
        """Temperature as placed, degC, in air of any shape, degC."""
        return self.follows.at(air) if self.temperature is None else np.full_like(air, self.temperature)


@dataclass(frozen=True, slots=True)
class Care:
    """How the cap is looked after.

    ``damp`` cover (wet burlap under a sheet) from final set for ``moist_days``; ``blanket`` thermal resistance of an
    insulating blanket, m2K/W (0 for none): hung round the form and under it before the pour, laid over the top at final set, left
    for ``blanket_days``; ``shade`` share of the sun
    kept off it, the fresh surface included; ``strip_days`` days in the form.
    """

    damp: bool = True
    moist_days: float = 7.0
    blanket: float = 0.0
    blanket_days: float = 3.0
    shade: float = 0.0
    strip_days: float = 3.0


@dataclass(frozen=True, slots=True)
class Limits:
    """Where the window search refuses an hour. SI; each has its rule in `crownwright.cure.reasons`."""

    air_low: float = aci_306r_2010.COLD
    air_high: float = aci_305r_2010.HOT_AIR
    mix_low: float = field(default_factory=lambda: aci_306r_2010.least_temperatures(THIN, 0.0).placed)
    mix_high: float = aci_305r_2010.DISCHARGE_OLDER
    frost: float = aci_306r_2010.ALARM
    frost_strength: float = aci_306r_2010.ONE_FREEZE
    evaporation: float = menzel_1954.ACTION
    wind: float = 20 * MPH  # common practice, 20 to 25 mph
    gust: float = field(default_factory=lambda: limit("wind_material").value)
    snow: float = 1.0  # mm of depth in an hour
    rain_chance: float = 0.40
    rain: float = 0.25  # mm in an hour: more than a trace
    heat_index: float = field(default_factory=lambda: limit("heat_high").value)
    bed_air_low: float = aci_306r_2010.COLD


@dataclass(frozen=True, slots=True)
class CureChoices:
    """What the mason decides.

    ``pour_at`` the first batch (aware; None: the best hour found); ``crew_hours`` from it to the wash struck off, when the clock
    of the top starts; ``bed_hours`` to lay the bed, ``bed_at`` when it was laid if it already is; ``night`` least hours between
    bed and pour, ``nights`` most; ``earliest`` and ``latest`` local hour of work (daylight besides); ``members`` forecasts in
    the ensemble; ``low`` the chance taken that strength lies under the low line; ``strip_strength`` Pa that stripping asks for
    (the strip rule of `crownwright.concrete` works it out), ``strip_floor`` s before which no form comes off.
    """

    pour_at: datetime | None = None
    crew_hours: float = 2.0
    bed_hours: float = 2.0
    with_bed: bool = True
    bed_at: datetime | None = None
    night: float = 12.0
    nights: float = 72.0
    earliest: int = 7
    latest: int = 20
    cure_days: float = 7.0
    members: int = 24
    low: float = 0.05
    care: Care = field(default_factory=Care)
    limits: Limits = field(default_factory=Limits)
    strip_strength: float = aci_306r_2010.ONE_FREEZE
    strip_floor: float = 3 * DAY
