"""How the published concrete formulas behave: with an array as with a number, and which way they move."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from crownwright.codes import (
    aci_209r_1992,
    aci_211_1_1991,
    aci_306r_2010,
    aci_308r,
    astm_c1074,
    en_1992_1_1_2004,
    fhp_1977,
    mcneese_1952,
    menzel_1954,
    set_times,
    uno_1998,
)
from crownwright.codes.ashrae_moist_air import saturation_pressure
from crownwright.quantity.units import DAY, HOUR
from crownwright.sources.grids import read_grids

air = st.floats(-10.0, 45.0)
surface = st.floats(0.0, 45.0)
humidity = st.floats(0.0, 1.0)
wind = st.floats(0.0, 20.0)


def menzel(concrete: float, air_: float, r: float, v: float) -> float:
    return menzel_1954.rate(saturation_pressure(concrete), r * saturation_pressure(air_), v)


EVAPORATION: list[Callable[[float, float, float, float], float]] = [uno_1998.rate, uno_1998.rate_metric, menzel]


@pytest.mark.parametrize("rate", EVAPORATION)
@given(surface, air, humidity, wind)
def test_more_wind_dryer_air_or_warmer_concrete_never_evaporates_less(
    rate: Callable[[float, float, float, float], float], concrete: float, t: float, r: float, v: float
) -> None:
    base = rate(concrete, t, r, v)
    assert base >= 0.0
    assert rate(concrete, t, r, v + 1.0) >= base
    assert rate(concrete, t, 0.9 * r, v) >= base - 1e-15
    assert rate(concrete + 1.0, t, r, v) >= base


@given(st.floats(5, 30), st.floats(5, 30), st.floats(0.2, 0.8), st.floats(1.0, 10.0))
def test_the_formulas_for_evaporation_agree_near_each_other_in_mild_air(concrete: float, t: float, r: float, v: float) -> None:
    """Within a quarter or a tenth of a pound where air and concrete are within 5 degC: Uno is a fit of the same nomograph."""
    if abs(concrete - t) > 5.0:
        t = concrete
    power, pressure = uno_1998.rate(concrete, t, r, v), menzel(concrete, t, r, v)
    assert abs(power - pressure) <= 0.25 * max(power, pressure) + 0.05 / HOUR


FORMULAS: list[tuple[Callable[..., object], np.ndarray]] = [
    (aci_209r_1992.strength_ratio, np.linspace(1, 90, 7) * DAY),
    (aci_209r_1992.shrinkage, np.linspace(0, 365, 7) * DAY),
    (en_1992_1_1_2004.strength_ratio, np.linspace(1, 90, 7) * DAY),
    (aci_211_1_1991.abrams, np.linspace(0.4, 0.8, 7)),
    (astm_c1074.rate_factor, np.linspace(-5, 45, 7)),
    (lambda t: astm_c1074.hyperbolic_strength(t, 45.0, 0.35 / DAY, 0.3 * DAY), np.linspace(0, 28, 7) * DAY),
    (fhp_1977.rate_factor, np.linspace(-5, 45, 7)),
    (lambda t: fhp_1977.strength(t, 50.0, DAY, 0.7), np.linspace(1, 28, 7) * DAY),
    (lambda t: uno_1998.rate(t, t - 5.0, 0.5, 3.0), np.linspace(0, 45, 7)),
    (lambda e: menzel_1954.rate(e, 0.5 * e, 3.0), np.linspace(500, 5000, 7)),
    (lambda t: set_times.arrhenius(t, 40_000.0), np.linspace(0, 40, 7)),
]


@pytest.mark.parametrize(("formula", "at"), FORMULAS)
def test_an_array_gives_what_numbers_give_one_by_one(formula: Callable[..., object], at: np.ndarray) -> None:
    whole = np.asarray(formula(at))
    singles = [formula(float(x)) for x in at]
    assert all(type(one) is float for one in singles)
    assert whole.shape == at.shape
    np.testing.assert_allclose(whole, np.array(singles), rtol=1e-14)


@given(st.floats(-10, 45), st.floats(0.1, 10))
def test_warmer_hardens_faster_and_sets_sooner(temperature: float, step: float) -> None:
    assert astm_c1074.rate_factor(temperature + step) > astm_c1074.rate_factor(temperature)
    assert fhp_1977.rate_factor(temperature + step) > fhp_1977.rate_factor(temperature)
    assert set_times.set_time(temperature + step) < set_times.set_time(temperature)
    assert set_times.open_time(temperature + step) < set_times.open_time(temperature)
    early, late = set_times.set_band(temperature)
    assert early <= set_times.set_time(temperature) <= late


@given(st.lists(st.tuples(st.floats(-15, 45), st.floats(1, 86_400)), min_size=2, max_size=12))
def test_maturity_adds_up_however_the_history_is_cut(history: list[tuple[float, float]]) -> None:
    t, dt = np.array([h[0] for h in history]), np.array([h[1] for h in history])
    for index in (astm_c1074.temperature_time_factor, astm_c1074.equivalent_age):
        assert index(t, dt) == pytest.approx(index(t[:1], dt[:1]) + index(t[1:], dt[1:]))
        assert index(np.repeat(t, 2), np.repeat(dt / 2, 2)) == pytest.approx(index(t, dt))
        assert index(t, dt) >= 0.0


@given(st.floats(0, 40), st.floats(0.01, 5))
def test_longer_moist_is_never_weaker_and_later_freezing_never_costs_more(days: float, more: float) -> None:
    assert aci_308r.moist_share((days + more) * DAY) >= aci_308r.moist_share(days * DAY)
    low, high = aci_308r.moist_share_band(days * DAY)
    assert low <= high
    assert mcneese_1952.loss_band((days + more) * HOUR)[1] <= mcneese_1952.loss_band(days * HOUR)[1]


@pytest.mark.parametrize(
    ("call", "wanted"),
    [
        (lambda: aci_211_1_1991.mixing_water("5-6", "3/4", "plain"), "1-2, 3-4, 6-7"),  # type: ignore[arg-type]
        (lambda: aci_209r_1992.strength_ratio(1.0, "type II"), "type I, moist"),  # type: ignore[arg-type]
        (lambda: en_1992_1_1_2004.strength_ratio(DAY, "Q"), "R, N, S"),  # type: ignore[arg-type]
        (lambda: aci_306r_2010.protection("afloat"), "exposed, not loaded"),  # type: ignore[arg-type]
        (lambda: aci_211_1_1991.tables()["water_cement"].number("6000", "entrained"), "no number"),
    ],
)
def test_an_unknown_key_lists_those_there_are(call: Callable[[], object], wanted: str) -> None:
    with pytest.raises(KeyError, match=wanted):
        call()


@pytest.mark.parametrize(
    "file",
    ["aci_209r_1992", "aci_211_1_1991", "aci_306r", "aci_308r", "aci_318_exposure", "aci_347", "astm_c1074", "astm_c387",
     "astm_c270_strength", "pca_site_mix", "set_times", "uci_concrete"],
)  # fmt: skip
def test_every_grid_names_its_document_and_unit(file: str) -> None:
    from crownwright.sources.bibliography import spell

    for grid in read_grids("crownwright.codes", f"{file}.toml").values():
        assert spell(grid.cite)
        assert grid.unit
        assert grid.down
        assert grid.across
