"""ACI 347R, Guide to Formwork for Concrete: cumulative hours above 50 F before forms go."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from crownwright.codes.aci_347 import warm_time, warm_time_needed
from crownwright.quantity.units import DAY, HOUR, celsius


@pytest.mark.parametrize(
    ("member", "more", "time", "unit"),
    [
        ("walls, columns, beam sides", False, 12, HOUR),
        ("slab soffit, under 10 ft", False, 4, DAY),
        ("slab soffit, under 10 ft", True, 3, DAY),
        ("slab soffit, 10 to 20 ft", False, 7, DAY),
        ("slab soffit, 10 to 20 ft", True, 4, DAY),
    ],
)
def test_table(theirs: Callable[..., None], member: str, more: bool, time: int, unit: float) -> None:
    ours = warm_time_needed(member, live_over_dead=more) / unit  # type: ignore[arg-type]
    theirs(f"{member}, live {'over' if more else 'under'} dead load", time, ours, unit="h" if unit == HOUR else "d", tol=1e-9)


def test_cold_hours_do_not_count_and_need_not_be_consecutive() -> None:
    air = np.array([celsius(f) for f in (55.0, 45.0, 60.0, 50.0)])
    assert warm_time(air, np.full(4, HOUR)) == 2 * HOUR
