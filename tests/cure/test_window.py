"""The window search: what should stop an hour stops it with its reason, what should not does not."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest

from crownwright.cure.inputs import CureChoices, Limits
from crownwright.cure.rules import RULES, refusal
from crownwright.cure.sure import perturbed, with_sureness
from crownwright.cure.window import search
from crownwright.quantity.findings import Verdict
from crownwright.sources.bibliography import spell
from crownwright.weather.hours import between, local_hours


def quick(**told) -> CureChoices:
    """Choices with a short cure: what refuses an hour shows in its first days."""
    return CureChoices(cure_days=3.0, **told)


def keys(window):
    return {finding.key.removeprefix("cure.window.") for finding in window.refused}


def at(found, day, hour):
    return next(w for w in found.windows if (w.at.day, w.at.hour) == (day, hour))


def noon(found, day=6):
    return keys(at(found, day, 12))


def test_a_mild_dry_day_will_do(cap, mix, days):
    found = search(cap, days(), mix, quick())
    assert noon(found) == set()
    assert found.best
    window = found.windows[found.best[0]]
    assert window.at < window.initial < window.final
    assert timedelta(hours=12) <= window.at - window.bed <= timedelta(hours=72)


@pytest.mark.parametrize(
    ("reason", "told"),
    [
        ("air_low", {"high": 6.0, "low": -2.0}),
        ("frost", {"high": 3.0, "low": -8.0}),
        ("air_high", {"high": 38.0, "low": 24.0}),
        ("heat_index", {"high": 39.0, "low": 27.0, "humidity": 0.6}),
        ("rain_chance", {"rain_chance": 0.7}),
        ("rain", {"rain_chance": 0.9, "rain": 24.0}),
        ("wind", {"wind": 18.0}),
        ("gust", {"wind": 18.0}),
        ("evaporation", {"humidity": 0.12, "wind": 12.0, "high": 32.0, "low": 20.0, "sky": "clear"}),
    ],
)
def test_each_reason_stops_its_day(cap, mix, days, reason, told):
    found = search(cap, days(**told), mix, quick(with_bed=False))
    assert reason in noon(found)


def test_snow_stops_it(cap, mix, days):
    hours = days()
    found = search(cap, replace(hours, snow=np.full(len(hours), 5.0)), mix, quick(with_bed=False))
    assert "snow" in noon(found)


@pytest.mark.parametrize(("temperature", "reason"), [(5.0, "mix_low"), (36.0, "mix_high")])
def test_the_mix_s_temperature_counts(cap, mix, days, temperature, reason):
    assert reason in noon(search(cap, days(), replace(mix, temperature=temperature), quick(with_bed=False)))


def test_night_is_dark_and_outside_the_day(cap, mix, days):
    found = search(cap, days(), mix, quick(with_bed=False))
    assert {"dark", "hours"} <= keys(at(found, 5, 1))


def test_the_first_day_has_no_bed_before_it(cap, mix, days):
    found = search(cap, days(), mix, quick())
    assert keys(at(found, 4, 12)) == {"bed"}
    assert noon(search(cap, days(), mix, quick(with_bed=False)), 4) == set()


def test_a_bed_already_laid_needs_its_night(cap, mix, days):
    hours = days()
    laid = local_hours(hours)[8]
    found = search(cap, hours, mix, quick(bed_at=laid))
    assert keys(at(found, 4, 12)) == {"bed"}
    assert keys(at(found, 5, 12)) == set()


def test_the_end_of_the_forecast_is_beyond(cap, mix, days):
    found = search(cap, days(), mix, quick(with_bed=False))
    assert "beyond" in keys(found.windows[-1])
    assert len(found.windows) == len(days())


def test_rain_that_comes_before_set_stops_the_hours_before_it(cap, mix, days):
    hours = days(3)
    local = local_hours(hours)
    wet = np.array([t.day == 5 and t.hour == 15 for t in local])
    found = search(
        cap, replace(hours, rain_chance=np.where(wet, 0.9, 0.0), rain=np.where(wet, 5.0, 0.0)), mix, quick(with_bed=False)
    )
    assert "rain" in keys(at(found, 5, 11))
    assert "rain" not in keys(at(found, 5, 17))
    assert "rain" not in keys(at(found, 4, 9))


def test_every_refusal_is_a_finding_with_source_and_advice():
    for key, rule in RULES.items():
        finding = refusal(key, 2.0, 1.0) if rule.most else refusal(key, 0.0, 1.0)
        assert finding.verdict is Verdict.SHORT
        assert finding.short_by > 0
        assert finding.action
        assert spell(finding.cite)
        assert "safe" not in (finding.rule + finding.action + finding.subject).lower()
    with pytest.raises(KeyError, match="rain_chance"):
        refusal("luck", 0.0, 1.0)


def test_looser_limits_never_refuse_more(cap, mix, spring):
    tight = search(cap, spring, mix, quick())
    loose = search(
        cap,
        spring,
        mix,
        quick(limits=Limits(wind=20.0, gust=30.0, rain_chance=0.9, rain=5.0, air_low=-5.0, bed_air_low=-5.0)),
    )
    for a, b in zip(tight.windows, loose.windows, strict=True):
        assert keys(b) <= keys(a)


def test_ranked_from_the_easiest(cap, mix, spring):
    found = search(cap, spring, mix, quick())
    costs = [round(found.windows[i].cost, 2) for i in found.best]
    assert costs == sorted(costs)
    assert all(found.windows[i].ok for i in found.best)


def test_clock_change_night_keeps_local_hours_right(cap, mix, days):
    found = search(cap, days(3, first=date(2026, 3, 7), high=22.0, low=14.0), mix, quick(with_bed=False))
    hours = [w.at.hour for w in found.windows if w.at.day == 8]
    assert len(hours) == 23
    assert 2 not in hours


def test_the_same_chance_gives_the_same_answer(cap, mix, spring):
    choices = quick(members=4)
    found = search(cap, spring, mix, choices)
    one, two = (with_sureness(found, cap, spring, mix, choices, np.random.default_rng(3)) for _ in range(2))
    assert [w.sure for w in one.windows] == [w.sure for w in two.windows]
    assert one.best == two.best
    told = [w.sure for w in one.windows if w.sure is not None]
    assert told
    assert all(0 <= s <= 1 for s in told)


def test_a_forecast_near_the_limits_is_less_sure(cap, mix, days):
    choices = quick(members=16)
    shares = []
    for chance in (0.0, 0.35):
        hours = days(rain_chance=chance)
        found = with_sureness(search(cap, hours, mix, choices), cap, hours, mix, choices, np.random.default_rng(5))
        shares.append(max(w.sure or 0.0 for w in found.windows))
    assert shares[0] > shares[1]


def test_perturbed_forecasts_stay_weather(days, rng):
    hours = days(6, rain_chance=0.4, rain=6.0)
    many = [perturbed(hours, rng) for _ in range(60)]
    assert all((m.humidity <= 1).all() and (m.wind >= 0).all() and (m.cloud <= 1).all() for m in many)
    spread = np.std([m.air for m in many], axis=0)
    assert spread[:24].mean() < spread[-24:].mean()  # the error grows with the days ahead
    wet = np.mean([m.rain_chance for m in many])
    assert wet == pytest.approx(0.4, abs=0.06)  # it rains as often as the forecast says


def test_no_hour_depends_on_later_ones_it_does_not_reach(cap, mix, spring):
    whole = search(cap, spring, mix, quick())
    part = search(cap, between(spring, 0, 84), mix, quick())
    for a, b in zip(whole.windows[:40], part.windows[:40], strict=True):
        assert a.at == b.at
        assert keys(a) == keys(b)


def test_times_are_aware_and_local(cap, mix, spring):
    window = search(cap, spring, mix, quick()).windows[0]
    assert window.at.utcoffset() == timedelta(hours=-5)
    assert window.at.astimezone(UTC) == datetime(2025, 4, 11, 5, tzinfo=UTC)
