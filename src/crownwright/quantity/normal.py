"""The normal distribution for arrays, without the second it takes to load a library for it."""

from __future__ import annotations

from math import erfc, sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray

_ERFC = np.frompyfunc(erfc, 1, 1)


def normal_chance(x: ArrayLike) -> NDArray[np.float64]:
    """Chance that a standard normal value is at most x, element by element, to the last bits in either tail.

    Phi(x) = erfc(-x / sqrt 2) / 2, Abramowitz & Stegun 26.2.29.

    >>> normal_chance([0.0, -1.6448536269514722]).round(12).tolist()
    [0.5, 0.05]
    """
    return 0.5 * np.asarray(_ERFC(-np.asarray(x, float) / sqrt(2.0)), float)
