"""Ways over years: what lasts costs less a year, what is worn fails first, and worked cases by hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from crownwright.quantity.findings import Verdict
from crownwright.quantity.uncertain import Uncertain
from crownwright.repair.choices import Way, WornPart, YearsChoices
from crownwright.repair.years import fails_first, lives, over_years, renewals, spread_of
from crownwright.sources.bibliography import spell

SKIM = Way("skim the wash again", "300", ("wash",), ("cap",))
RECAST = Way("recast", "1800", ("cap", "sealant"), ("wash",))
PARTS = (WornPart("cap", "1500"), WornPart("wash", "250"), WornPart("sealant", "150", 3.0))


def test_a_cap_that_lasts_costs_less_than_skimming_for_ever():
    """A skim every five years with the ladder each time against one casting: over fifty years the casting is cheaper."""
    years, problems = over_years(YearsChoices(PARTS, (SKIM, RECAST), visit="400"))
    assert not problems
    assert [told.way.name for told in years.told] == ["recast", "skim the wash again"]
    assert years.told[1].fails_first[0][0] in {"wash", "sealant"}


def test_a_dear_rate_favours_what_is_cheap_now():
    years, _ = over_years(YearsChoices(PARTS, (SKIM, RECAST), visit="400", rate=0.5))
    assert years.told[0].way.name == "skim the wash again"


def test_one_part_of_a_sure_life_by_hand():
    """10 years sure, 100 each time, 5 %, 25 years, done now: renewals after 10 and 20 years.

    100 + 100/1.05^10 + 100/1.05^20 = 100 + 61.391 + 37.689 = 199.080.
    """
    due = renewals(spread_of(Uncertain(10.0), 25), spread_of(Uncertain(10.0), 25), 25)
    assert list(np.flatnonzero(due) + 1) == [10, 20]
    worth = sum(u / 1.05 ** (n + 1) for n, u in enumerate(due))
    assert 100 * (1 + worth) == pytest.approx(199.080, abs=0.001)


def test_renewals_settle_at_one_a_life():
    """Renewal theorem: in the long run one renewal every mean life; over years of whole steps the mean is half a step more."""
    life = Uncertain(7.0, 2.0)
    pmf = spread_of(life, 400)
    due = renewals(pmf, pmf, 400)
    in_steps = float(pmf @ np.arange(1, 401))
    assert due[-50:].mean() == pytest.approx(1 / in_steps, rel=1e-3)


def test_of_two_alike_each_fails_first_half_the_time_and_of_two_unlike_the_worn_one():
    alike, _ = fails_first([Uncertain(20.0, 5.0)] * 2)
    assert alike == pytest.approx([0.5, 0.5], abs=1e-6)
    unlike, first = fails_first([Uncertain(60.0, 15.0), Uncertain(5.0, 2.0)])
    assert unlike[1] > 0.999
    assert first.mean == pytest.approx(5.0, abs=0.05)


@given(st.lists(st.tuples(st.floats(2.0, 60.0), st.floats(0.1, 0.5)), min_size=1, max_size=5))
def test_chances_of_failing_first_add_to_one_and_the_first_is_no_later_than_the_shortest(ages):
    lives_ = [Uncertain(mean, mean * share) for mean, share in ages]
    chance, first = fails_first(lives_)
    assert chance.sum() == pytest.approx(1.0)
    assert first.mean <= min(life.mean for life in lives_) + 0.2


def test_every_life_has_its_word():
    for life in lives().values():
        assert life.years.sd > 0
        assert spell(life.cite)


def test_near_ways_are_told_as_near():
    ways = (RECAST, Way("recast, dearer stone", "1850", RECAST.done, RECAST.without))
    years, _ = over_years(YearsChoices(PARTS, ways))
    assert years.findings[0].verdict is Verdict.CANNOT_TELL


def test_everything_wrong_is_told_at_once():
    bad = Way("bad", "1", ("tower",))
    years, problems = over_years(YearsChoices((*PARTS, WornPart("moat", "1"), WornPart("cap", "-1")), (bad,)))
    assert years is None
    told = " ".join(map(str, problems))
    assert all(word in told for word in ("moat", "listed twice", "under nothing", "tower"))
