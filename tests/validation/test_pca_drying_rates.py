"""Portland Cement Association, drying rates of a fresh surface (Lerch, Menzel): 29 rows, all from memory.

Table and formula share one origin, so this checks two memories against each other, not the physics.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from crownwright.codes import menzel_1954
from crownwright.codes.ashrae_moist_air import saturation_pressure
from crownwright.quantity.units import FT2, HOUR, LB, MPH, celsius
from crownwright.sources.tables import rows

TABLE = rows("crownwright.codes", "pca_drying_rates.csv")


def ours(row: dict[str, str]) -> float:
    concrete, air = celsius(float(row["concrete_F"])), celsius(float(row["air_F"]))
    damp = float(row["humidity"]) / 100 * saturation_pressure(air)
    return menzel_1954.rate(saturation_pressure(concrete), damp, float(row["wind_mph"]) * MPH) * HOUR * FT2 / LB


@pytest.mark.parametrize("row", TABLE, ids=lambda r: "/".join(list(r.values())[:4]))
def test_row(theirs: Callable[..., None], row: dict[str, str]) -> None:
    if row["note"] == "doubt":
        assert 0.02 < float(row["rate"]) - ours(row) < 0.035  # 0.180 printed or remembered, 0.150 by either formula
        return
    # 27 rows agree within 0.006 and the worst, 70/70/70/25, within 0.008; a row is rounded to 0.005 or 0.001
    what = f"concrete {row['concrete_F']} F, air {row['air_F']} F, {row['humidity']} %, {row['wind_mph']} mph"
    tol = 0.0085 if row["wind_mph"] == "25" else 0.0065
    theirs(what, float(row["rate"]), ours(row), unit="lb/ft2/h", tol=tol, grade="from memory")


def test_29_rows() -> None:
    assert len(TABLE) == 29
