"""Days of a repair: fewest visits, then soonest, waits kept, circles named."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.repair.circles import circles
from crownwright.repair.schedule import Link, Step, schedule

ANY = frozenset(range(30))


def test_a_wait_is_kept():
    """Pour one day, strip three days later: two visits."""
    found = schedule([Step(3.0, ANY), Step(1.0, ANY, (Link(0, 3),))], 10, 8.0)
    assert found.day == (0, 3)
    assert (found.visits, found.proved) == (2, True)


def test_what_can_share_a_visit_shares_it_even_if_it_must_wait():
    """Flashing has no wait of its own: it goes with one of the two visits that pour and strip take anyway."""
    found = schedule([Step(6.0, ANY), Step(1.0, ANY, (Link(0, 3),)), Step(5.0, ANY)], 10, 8.0)
    assert found.visits == 2
    assert found.day[2] == 3


def test_a_bed_does_not_stand_open_too_long():
    """Rain keeps the pour to day 6, and the bed may lie three days: it is laid on day 3, not on day 0."""
    bed, pour = Step(1.0, ANY), Step(4.0, frozenset({6}), (Link(0, 1, 3),))
    assert schedule([bed, pour], 10, 8.0).day == (3, 6)


def test_what_finds_no_day_is_left_open_and_the_rest_is_placed():
    found = schedule([Step(3.0, ANY), Step(1.0, frozenset(), (Link(0, 1),))], 10, 8.0)
    assert found.day == (0, None)
    assert not found.proved


def test_impossible_arguments():
    with pytest.raises(ValueError, match="comes before what it waits for"):
        schedule([Step(1.0, ANY, (Link(1, 0),)), Step(1.0, ANY)], 5, 8.0)
    with pytest.raises(ValueError, match="a day has 8"):
        schedule([Step(9.0, ANY)], 5, 8.0)


@st.composite
def small_repairs(draw):
    steps = []
    for i in range(draw(st.integers(1, 5))):
        days = frozenset(draw(st.sets(st.integers(0, 5), min_size=1)))
        links = []
        for before in draw(st.sets(st.integers(0, max(i - 1, 0)), max_size=2)) if i else ():
            wait = draw(st.integers(0, 2))
            links.append(Link(before, wait, draw(st.sampled_from([None, None, wait + 1]))))
        steps.append(Step(float(draw(st.integers(1, 8))), days, tuple(links)))
    return steps


def by_trying_everything(steps, horizon=6, hours=8.0):
    """Least (visits, last day, sum of days) of all ways to put the steps on days; None when there is none."""
    best = None
    for days in itertools.product(range(horizon), repeat=len(steps)):
        if any(day not in step.days for day, step in zip(days, steps, strict=True)):
            continue
        if any(sum(s.hours for s, d in zip(steps, days, strict=True) if d == day) > hours for day in set(days)):
            continue
        gaps = [(days[i] - days[link.before], link) for i, step in enumerate(steps) for link in step.after]
        if any(gap < link.wait or (link.most is not None and gap > link.most) for gap, link in gaps):
            continue
        key = (len(set(days)), max(days), sum(days))
        best = key if best is None else min(best, key)
    return best


@settings(max_examples=150, deadline=None)
@given(small_repairs())
def test_as_good_as_trying_everything(steps):
    best = by_trying_everything(steps)
    found = schedule(steps, 6, 8.0)
    if best is None:
        assert None in found.day
        return
    assert (found.visits, max(found.day), sum(found.day)) == best
    assert found.proved
    assert found.bound <= found.visits


def test_every_circle_is_named_at_once():
    after = {
        "form": ("strip",),
        "pour": ("form", "bed"),
        "strip": ("pour",),
        "bed": (),
        "rake": ("repoint",),
        "repoint": ("rake",),
        "seal": ("seal", "strip"),
    }
    assert circles(after) == (("form", "strip", "pour"), ("rake", "repoint"), ("seal",))


@given(st.dictionaries(st.sampled_from("abcdefg"), st.lists(st.sampled_from("abcdefg"), max_size=3), max_size=7))
def test_circles_are_circles_and_without_them_there_is_an_order(after):
    """Each circle can be walked; with one step of every circle taken out again and again, an order is left."""
    found = circles(after)
    for ring in found:
        for step, other in zip(ring, (*ring[1:], ring[0]), strict=True):
            assert other in after[step]
    left, order = dict(after), []
    while free := [s for s, waits in left.items() if not any(w in left for w in waits)]:
        order += free
        left = {s: w for s, w in left.items() if s not in free}
    assert bool(left) == bool(found)
