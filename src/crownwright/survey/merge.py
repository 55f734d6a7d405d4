"""Many readings of one spot are worth one better reading: what keeps time in step with the number of readings."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from crownwright.survey.least_squares import Array


@dataclass(frozen=True, slots=True)
class Merged:
    """Readings merged: weighted mean ``place`` (m,d) and ``reads`` (m,), standard errors ``sd`` (m,), and the ``row`` (n,) that
    each reading went to.
    """

    place: Array
    reads: Array
    sd: Array
    row: NDArray[np.intp]


def merge(cells: NDArray[np.intp], alone: NDArray[np.bool_], place: Array, reads: Array, sd: Array, within: float) -> Merged:
    """Merge the readings that lie in one cell.

    Args:
        cells: (n,) number, not negative, of the cell each reading lies in.
        alone: (n,) readings that stay as they are, because more was said of them than a number.
        place: (n,d) where they were taken.
        reads: (n,) readings.
        sd: (n,) their standard errors.
        within: standard error of one spot of a cell against the cell's mean, which many spots average out.
    """
    own = np.where(alone, -1 - np.arange(len(cells)), cells)
    row = np.unique(own, return_inverse=True)[1].astype(np.intp)
    weight = 1.0 / np.square(sd)
    total, count = np.bincount(row, weights=weight), np.bincount(row)

    def mean(values: Array) -> Array:
        return np.asarray(np.bincount(row, weights=weight * values) / total)

    spread = np.sqrt(1.0 / total + np.where(count > 1, within**2 / count, 0.0))
    return Merged(np.column_stack([mean(p) for p in place.T]), mean(reads), spread, row)
