"""Formulas that work alike on a single number and, element by element, on an array: a float in gives a float out."""

from __future__ import annotations

from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

Numbers = TypeVar("Numbers", float, NDArray[np.float64])
"""A float in gives a float out; an array in gives an array of the same shape out."""


def exp(x: Numbers) -> Numbers:
    """Return e to the power x.

    >>> exp(0.0)
    1.0
    """
    return same_kind(x, np.exp(x))


def power(x: Numbers, exponent: float) -> Numbers:
    """Return x to a fixed power; x must not be negative where the exponent is not whole.

    >>> power(9.0, 0.5)
    3.0
    """
    return same_kind(x, np.power(x, exponent))


def at_least(x: Numbers, floor: float) -> Numbers:
    """Return x, or the floor where x lies under it.

    >>> at_least(-1.0, 0.0)
    0.0
    """
    return same_kind(x, np.maximum(x, floor))


def at_most(x: Numbers, ceiling: float) -> Numbers:
    """Return x, or the ceiling where x lies over it.

    >>> at_most(5.0, 1.0)
    1.0
    """
    return same_kind(x, np.minimum(x, ceiling))


def same_kind(like: Numbers, result: Any) -> Numbers:
    """Give a result the type of the argument, so that no array scalar leaks out of a formula of floats."""
    return np.asarray(result, float) if isinstance(like, np.ndarray) else float(result)
