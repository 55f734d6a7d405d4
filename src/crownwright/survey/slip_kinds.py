"""The slips a mason makes with a tape: by how much each would put a reading off, and how likely it is before looking."""

from __future__ import annotations

from dataclasses import dataclass
from math import isclose
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from crownwright.quantity.units import INCH
from crownwright.survey.defaults import slip_share
from crownwright.survey.least_squares import Array

Kind = Literal["one inch", "half an inch", "one foot", "swapped digits", "ten centimetres", "does not fit"]
Scale = Literal["inches", "feet", "metric"]

ANYTHING = 6 * INCH
"""Standard error of a slip of no known kind (a judgement)."""


@dataclass(frozen=True, slots=True)
class Slips:
    """Slips that one reading each may carry.

    ``index`` (h,) the reading; ``slip`` (h,) m, read minus true, nan where it may be anything; ``kind`` (h,); ``log_odds``
    (h,) of the slip against no slip before looking at the network.
    """

    index: NDArray[np.intp]
    slip: Array
    kind: tuple[Kind, ...]
    log_odds: Array


def scale_of(metres: float, typed: str) -> Scale:
    """Tell what the reading was written in: a bare number shows its unit by its size against the metres it came to.

    >>> scale_of(1.31, "1310"), scale_of(51.5 * INCH, "51 1/2"), scale_of(51.5 * INCH, "4' 3 1/2")
    ('metric', 'inches', 'feet')
    """
    text = typed.strip().lower()
    if text.endswith("m") and not text.endswith("from"):
        return "metric"
    if "'" in text or "ft" in text or "feet" in text or text.count("-") > 1:
        return "feet"
    try:
        bare = float(text.replace(",", "."))
    except ValueError:
        return "inches"
    return "metric" if any(isclose(metres, bare * unit, rel_tol=1e-6) for unit in (1.0, 0.01, 0.001)) else "inches"


def swapped(metres: float, scale: Scale) -> list[float]:
    """Lengths (m) that the same digits in another order would have been.

    >>> [round(x / INCH, 3) for x in swapped(37.75 * INCH, "inches")]
    [73.75]
    >>> [round(x / INCH, 3) for x in swapped((3 * 12 + 6.5) * INCH, "feet")]
    [75.5]
    """
    if scale == "metric":
        whole = round(metres * 1000)
        return [_swap_pair(whole, place) / 1000 for place in range(len(str(whole)) - 1) if _swap_pair(whole, place) != whole]
    inches = int(metres / INCH + 1e-6)
    part = metres / INCH - inches
    if scale == "feet":
        feet, rest = divmod(inches, 12)
        return [(12 * rest + feet + part) * INCH] if 1 <= rest != feet <= 11 else []
    tens, ones = divmod(inches, 10)
    return [(10 * ones + tens + part) * INCH] if 10 <= inches < 100 and ones and ones != tens else []


def _swap_pair(whole: int, place: int) -> int:
    digits = list(str(whole))
    digits[place], digits[place + 1] = digits[place + 1], digits[place]
    return int("".join(digits))


def slips_of(reads: Array, typed: tuple[str, ...], tapes: int) -> Slips:
    """List every slip of every reading (n,), of which the first ``tapes`` are tapes and the others sizes of flues."""
    rows: list[tuple[int, float, Kind, float]] = []
    chance = slip_share("chance")
    for k, (metres, text) in enumerate(zip(reads.tolist(), typed, strict=True)):
        scale = scale_of(metres, text)
        if scale == "metric":
            fixed: list[tuple[float, Kind, float]] = [(s * 0.1, "ten centimetres", slip_share("one_inch") / 2) for s in (1, -1)]
        else:
            fixed = [(s * INCH, "one inch", slip_share("one_inch") / 2) for s in (1, -1)]
            fixed += [(s * 12 * INCH, "one foot", slip_share("one_foot") / 2) for s in (1, -1)]
            fixed += [(s * INCH / 2, "half an inch", slip_share("half_inch") / 2) for s in (1, -1)]
        others = swapped(metres, scale)
        fixed += [(metres - other, "swapped digits", slip_share("swapped_digits") / len(others)) for other in others]
        rows += [(k, slip, kind, share) for slip, kind, share in fixed if metres - slip > 0]
        rows.append((k, float("nan"), "does not fit", slip_share("anything")))
    index = np.array([r[0] for r in rows], dtype=np.intp)
    share = np.array([r[3] for r in rows]) * np.where(index < tapes, 1.0, slip_share("size"))
    return Slips(
        index,
        np.array([r[1] for r in rows]),
        tuple(r[2] for r in rows),
        np.log(chance * share / (1 - chance)),
    )
