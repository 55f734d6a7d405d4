"""The cap in the weather behaves as caps do: each thing that acts on it acts the right way round, and pours do not touch each
other."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from crownwright.cure.columns import EDGE, MIDDLE
from crownwright.cure.exchange import Top, evaporation, snow_after, top_face
from crownwright.cure.forcing import AIR, SNOWFALL, SUN, forcing
from crownwright.cure.heat import DT, run
from crownwright.cure.inputs import Care
from crownwright.cure.strength import set_clocks, when
from crownwright.quantity.units import DAY, HOUR
from crownwright.weather.hours import at_top, lengthened

NOON = np.array([12 * 4])


def follow(cap, mix, hours, care=Care(), start=NOON, days=3.0, dt=DT):  # noqa: B008 - frozen
    top = at_top(lengthened(hours, len(hours) + 24 * 8), cap.height, cap.ground)
    return run(cap, mix, care, forcing(top, cap, dt), start, days)


def final(history, mix):
    return when(history.age, history.clock_top, set_clocks(mix)[1])


def test_pours_do_not_touch_each_other(cap, mix, spring):
    starts = np.arange(0, 40, 10)
    together = follow(cap, mix, spring, start=starts)
    for i, start in enumerate(starts):
        alone = follow(cap, mix, spring, start=np.array([start]))
        assert together.top[:, :, i] == pytest.approx(alone.top[:, :, 0], abs=1e-9)


def test_it_starts_at_the_mix_s_temperature(cap, mix, spring):
    history = follow(cap, mix, spring)
    assert (history.top[0] == 20.0).all()
    free = follow(cap, replace(mix, temperature=None), spring)
    assert free.top[0] == pytest.approx(np.broadcast_to(free.air[0], free.top[0].shape))


def test_left_alone_it_comes_to_the_air(cap, mix, days):
    hours = days(5, high=15.0, low=15.0, humidity=1.0, sky="overcast")
    history = follow(cap, mix, replace(hours, sun=np.zeros(len(hours)), infrared=np.full(len(hours), 390.9)), days=7.0)
    assert history.middle[-1] == pytest.approx(np.full((2, 1), 15.0), abs=0.8)  # the last heat of hydration is a few tenths


def test_warm_weather_sets_it_sooner(cap, mix, days):
    times = [float(final(follow(cap, mix, days(high=t + 5, low=t - 5)), mix)[MIDDLE, 0]) for t in (5, 12, 20, 28)]
    assert times == sorted(times, reverse=True)


def test_more_wind_never_dries_it_less(cap, mix, days):
    drying = [follow(cap, mix, days(wind=w)).drying[0].min() for w in (0.0, 2.0, 5.0, 10.0)]
    assert drying == sorted(drying)


def test_shade_keeps_it_cooler_and_slower(cap, mix, days):
    open_, shaded = (follow(cap, mix, days(sky="clear", high=30.0, low=18.0), Care(shade=s)) for s in (0.0, 0.8))
    early = open_.age < 6 * HOUR
    assert shaded.top[early].max() < open_.top[early].max() - 3.0
    assert (final(shaded, mix) > final(open_, mix)).all()


def test_a_blanket_keeps_it_warm_in_the_cold(cap, mix, days):
    cold = days(high=4.0, low=-6.0)
    lows = [follow(cap, mix, cold, Care(blanket=r)).bottom[:, EDGE].min() for r in (0.0, 0.35, 1.4)]
    assert lows[0] < lows[1] < lows[2]


def test_the_edge_follows_the_weather_more_than_the_middle(cap, mix, spring):
    history = follow(cap, mix, spring, days=6.0)
    late = history.age > 2 * DAY
    assert np.ptp(history.bottom[late, EDGE]) > np.ptp(history.bottom[late, MIDDLE])


def test_type_iii_is_ahead(cap, mix, spring):
    one, three = (final(follow(cap, replace(mix, kind=kind), spring), mix) for kind in ("type I", "type III"))
    assert (three < one).all()


def test_more_cement_makes_it_hotter(cap, mix, spring):
    lean, rich = (follow(cap, replace(mix, cement=c), spring).middle[:, MIDDLE].max() for c in (250.0, 450.0))
    assert rich > lean + 1.0


def nearer_air(history, when_):
    """Rms distance of the edge's underside from the air, K."""
    return float(np.sqrt(np.mean((history.bottom[when_, EDGE, 0] - history.air[when_, 0]) ** 2)))


def test_stripping_lets_the_weather_at_it(cap, mix, days):
    hours = days(6, high=10.0, low=-2.0)
    kept, off = (follow(cap, mix, hours, Care(strip_days=d), days=5.0) for d in (9.0, 1.0))
    before = kept.age <= DAY
    assert kept.bottom[before, EDGE] == pytest.approx(off.bottom[before, EDGE])
    after = kept.age > 1.5 * DAY
    assert nearer_air(off, after) < nearer_air(kept, after)


def test_snow_hides_the_sun_and_keeps_the_warmth():
    w = np.zeros((9, 1))
    w[AIR], w[SUN], w[1] = -5.0, 300.0, 300.0
    bare, snowed = (Top(np.zeros((1, 1)), np.full((1, 1), 0.65), np.zeros((1, 1)), np.array([depth])) for depth in (0.0, 0.10))
    ((a0, b0), _, _), ((a1, b1), vapour, _) = (top_face(np.full((1, 1), 5.0), w, top) for top in (bare, snowed))
    assert b1 < b0  # less is lost for each kelvin
    assert vapour == 0.0
    assert a1 / b1 < a0 / b0  # and the sun no longer warms it


def test_snow_falls_and_melts():
    w = np.zeros((9, 1))
    w[AIR], w[SNOWFALL] = -2.0, 10.0 / HOUR
    depth = snow_after(np.zeros(1), w, HOUR)
    assert depth == pytest.approx(0.010)
    w[AIR], w[SNOWFALL] = 4.0, 0.0
    assert snow_after(depth, w, HOUR) < depth
    assert snow_after(depth, w, 30 * DAY) == 0.0


def test_damp_air_does_not_dry_and_dew_counts_for_nothing():
    w = np.zeros((9, 1))
    w[1], w[2] = 5000.0, 1e-8
    assert evaporation(np.full((1, 1), 20.0), w, np.ones((1, 1))) == 0.0


def test_steps_of_a_quarter_hour_are_small_enough(cap, mix, spring):
    coarse = follow(cap, mix, spring, start=np.array([12 * 4]), dt=900.0)
    fine = follow(cap, mix, spring, start=np.array([12 * 12]), dt=300.0)
    off = coarse.top[::4, :, 0] - fine.top[::12, :, 0]
    assert np.sqrt((off**2).mean()) < 0.15


def test_a_pour_past_the_weather_is_refused(cap, mix, spring):
    top = at_top(spring, cap.height, cap.ground)
    with pytest.raises(ValueError, match="the weather ends"):
        run(cap, mix, Care(), forcing(top, cap, DT), np.array([200 * 4]), 7.0)
