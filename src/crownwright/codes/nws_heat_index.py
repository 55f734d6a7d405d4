"""Rothfusz (1990), The heat index equation, National Weather Service SR 90-23: how hot it feels in the shade."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray


def heat_index(air: NDArray[np.float64], humidity: NDArray[np.float64]) -> NDArray[np.float64]:
    """Heat index, degC, by the regression and its adjustments; below 80 F by the simple average; from memory.

    ``air`` degC, ``humidity`` 0 to 1. Holds from 80 to 112 F; in the shade: full sun adds up to 15 F.

    >>> hot = heat_index(np.array([32.222]), np.array([0.50]))
    >>> round(float(hot[0]) * 1.8 + 32)
    95
    """
    t, r = np.asarray(air) * 1.8 + 32, np.asarray(humidity) * 100
    simple = 0.5 * (t + 61.0 + (t - 68.0) * 1.2 + r * 0.094)
    full = (-42.379 + 2.04901523 * t + 10.14333127 * r - 0.22475541 * t * r - 6.83783e-3 * t**2 - 5.481717e-2 * r**2) + (
        1.22874e-3 * t**2 * r + 8.5282e-4 * t * r**2 - 1.99e-6 * t**2 * r**2
    )
    dry = (13 - r) / 4 * np.sqrt(np.clip(17 - np.abs(t - 95), 0, None) / 17)
    damp = (r - 85) / 10 * (87 - t) / 5
    full = full - np.where((r < 13) & (t >= 80) & (t <= 112), dry, 0) + np.where((r > 85) & (t >= 80) & (t <= 87), damp, 0)
    index = np.where((simple + t) / 2 < 80, simple, full)
    result: NDArray[np.float64] = (index - 32) / 1.8
    return result
