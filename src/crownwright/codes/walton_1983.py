"""Walton (1983), Thermal Analysis Research Program Reference Manual, NBSIR 83-2655: convection at outside surfaces, the sky's
long-wave radiation (after Clark and Allen, 1978).
"""

from __future__ import annotations

from math import sqrt

import numpy as np
from numpy.typing import NDArray

from crownwright.quantity.arrays import Numbers, same_kind

Floats = NDArray[np.float64]

STEFAN_BOLTZMANN = 5.670374419e-8  # W/m2 K4, exact by the 2019 SI
ROUGHNESS = {"stucco": 2.17, "brick": 1.67, "concrete": 1.52, "pine": 1.13, "plaster": 1.11, "glass": 1.00}
"""Roughness factor of a surface against glass."""
SPREAD = 0.35
"""Relative spread between published convection formulas over a slab (8.8 to 17.1 W/m2K at 3 m/s), as two standard errors."""


def forced(wind: Numbers, length: float, area: float, surface: str = "concrete", windward: bool = True) -> Numbers:
    """Convection by wind, W/m2K: 2.537 Wf Rf (P V / A)^0.5, Wf 1 to windward and on a flat top, 0.5 to leeward.

    ``wind`` m/s, ``length`` perimeter of the surface m, ``area`` m2.

    >>> round(forced(3.0, 4.2, 1.08), 2)
    13.17
    """
    factor = 2.537 * (1.0 if windward else 0.5) * ROUGHNESS[surface] * sqrt(length / area)
    root = np.sqrt(np.asarray(wind, float)) * factor
    return same_kind(wind, root)


def natural_level(difference: Numbers) -> Numbers:
    """Convection by buoyancy over a level face looking up, W/m2K; ``difference`` surface less air, K.

    Warm face: 9.482 |dT|^(1/3) / (7.283 - 1); cool face: 1.810 |dT|^(1/3) / (1.382 + 1). A face looking down takes the
    difference with its sign turned.

    >>> round(natural_level(10.0), 3), round(natural_level(-10.0), 3)
    (3.251, 1.637)
    """
    root = np.cbrt(np.abs(difference)) * np.where(np.asarray(difference) > 0, 9.482 / 6.283, 1.810 / 2.382)
    return same_kind(difference, root)


def natural_upright(difference: Numbers) -> Numbers:
    """Convection by buoyancy at an upright face, W/m2K: 1.31 |dT|^(1/3).

    >>> round(natural_upright(10.0), 3)
    2.822
    """
    root = 1.31 * np.cbrt(np.abs(difference))
    return same_kind(difference, root)


def sky_emissivity(dew_point: Numbers, cloud: Numbers) -> Numbers:
    """Emissivity of the sky: (0.787 + 0.764 ln(Td/273))(1 + 0.0224 N - 0.0035 N^2 + 0.00028 N^3).

    ``dew_point`` degC (Td in K), ``cloud`` share of the sky covered, 0 to 1 (N in tenths, opaque).

    >>> round(sky_emissivity(10.0, 0.0), 4), round(sky_emissivity(10.0, 0.5), 4)
    (0.8149, 0.8634)
    """
    n = 10.0 * cloud
    clear = 0.787 + 0.764 * np.log((np.asarray(dew_point, float) + 273.15) / 273.0)
    emissivity = clear * (1 + 0.0224 * n - 0.0035 * n**2 + 0.00028 * n**3)
    return same_kind(dew_point, emissivity)


def sky_radiation(air: Numbers, dew_point: Numbers, cloud: Numbers) -> Numbers:
    """Long-wave radiation down from the sky, W/m2: emissivity x sigma x T^4 at air temperature; degC, cloud 0 to 1.

    >>> round(sky_radiation(20.0, 10.0, 0.0), 1)
    341.2
    """
    return sky_emissivity(dew_point, cloud) * STEFAN_BOLTZMANN * (air + 273.15) ** 4
