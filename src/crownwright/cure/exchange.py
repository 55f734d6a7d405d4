"""What passes at the faces of the cap: convection, sun, sky, evaporation, a cover, snow, as a line a - b T round a guess."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from crownwright.codes import walton_1983
from crownwright.codes.ashrae_moist_air import saturation_pressure
from crownwright.cure.conduction import Face
from crownwright.cure.forcing import AIR, CONVECTION, SKY, SNOWFALL, SUN, UNDER, VAPOUR, WETNESS
from crownwright.quantity.units import DAY, ZERO_CELSIUS

Floats = NDArray[np.float64]

LATENT = 2.45e6
"""Heat to evaporate water, J/kg, near 20 degC."""
CLAUSIUS = 5417.0
"""Latent heat over the gas constant of water vapour, K: the slope of saturation pressure is e x 5417 / T^2."""
EMISSIVITY = 0.94
"""Of concrete, and of wood and damp cloth near enough (0.90 to 0.98)."""
FRESH, HARD, SHEET = 0.80, 0.65, 0.30
"""Share of the sun taken up by wet or fresh concrete (0.75 to 0.85), by dry grey concrete, by a white sheet (from memory)."""
DRY_SKIN = 0.15
"""Evaporation from a bare surface after final set over that of open water (judgement: the skin has dried)."""
SNOW_ABSORBS = 0.20
SNOW_CONDUCTS = 0.06
"""Fresh snow: share of the sun taken up; W/mK (judgement, about 120 kg/m3)."""
SNOW_MELT = 30e-3 / DAY
"""m of fresh snow melted in a second for each K of air above freezing (judgement, 4 mm of water a day)."""


@dataclass(frozen=True, slots=True, eq=False)
class Top:
    """State of the top face, arrays (c, scenarios): ``wet`` evaporation over that of open water, ``absorbs`` share of the sun
    taken up, ``cover`` thermal resistance over the concrete m2K/W, ``snow`` depth m (scenarios,).
    """

    wet: Floats
    absorbs: Floats
    cover: Floats
    snow: Floats


def snow_after(depth: Floats, w: Floats, dt: float) -> Floats:
    """Return the snow lying one step on, m: what fell, less what the air melted."""
    fallen = depth + w[SNOWFALL] * dt / 1000.0
    left: Floats = np.maximum(fallen - SNOW_MELT * np.maximum(w[AIR], 0.0) * dt, 0.0)
    return left


def evaporation(outer: Floats, w: Floats, wet: Floats) -> Floats:
    """Return evaporation from the outer face, kg/(m2 s), by Menzel's formula; condensation counts as nothing."""
    drive: Floats = np.maximum(saturation_pressure(outer) - w[VAPOUR], 0.0)
    return np.asarray(wet * w[WETNESS] * drive)


def top_face(outer: Floats, w: Floats, top: Top) -> tuple[Face, Floats, Floats]:
    """Return the exchange at the concrete's top face, its evaporation, and a and b at the outer face for `outer_temperature`.

    ``outer`` is the guess at the outer face's temperature (that of the cover where there is one), degC, (c, scenarios);
    ``w`` the weather (9, scenarios). Exchange at the outer face is put on a line round the guess; the cover is in series.
    """
    kelvin = outer + ZERO_CELSIUS
    h = w[CONVECTION] + walton_1983.natural_level(outer - w[AIR])
    snow = top.snow > 0.0
    wet = np.where(snow, 0.0, top.wet)
    absorbs = np.where(snow, SNOW_ABSORBS, top.absorbs)
    e = saturation_pressure(outer)
    open_water = wet * w[WETNESS]
    drive = e - w[VAPOUR]
    evaporating = np.where(drive > 0, open_water, 0.0)
    vapour = evaporating * drive
    emits = EMISSIVITY * walton_1983.STEFAN_BOLTZMANN * kelvin**3
    b = h + 4.0 * emits + LATENT * evaporating * e * CLAUSIUS / kelvin**2
    heat = h * (w[AIR] - outer) + absorbs * w[SUN] + EMISSIVITY * w[SKY] - emits * kelvin - LATENT * vapour
    a = heat + b * outer
    resistance = top.cover + top.snow / SNOW_CONDUCTS
    share = 1.0 / (1.0 + b * resistance)
    return (a * share, b * share), vapour, resistance


def under_face(face: Floats, w: Floats, sheltered: Floats, wrap: float) -> Face:
    """Return the exchange at the underside of the overhang: to air and to surroundings at air temperature.

    ``face`` is the guess at its temperature, (c, scenarios); ``sheltered`` (c,1) is 1 where the bottom lies in the masonry and
    nothing passes; ``wrap`` m2K/W of blanket round it.
    """
    h = w[UNDER] + walton_1983.natural_level(w[AIR] - face)
    b = (1.0 - sheltered) * (h + 4.0 * EMISSIVITY * walton_1983.STEFAN_BOLTZMANN * (0.5 * (face + w[AIR]) + ZERO_CELSIUS) ** 3)
    b = b / (1.0 + b * wrap)
    return b * w[AIR], b
