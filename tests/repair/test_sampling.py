"""Length of failed joint from patches: right in known cases, honest on faces drawn at random."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import binom, binomtest

from crownwright.repair.sampling import Patch, Scatter, most_of_none, none_on_face, on_face, scatter_of, widened

patches = st.lists(st.tuples(st.floats(0.01, 0.5), st.floats(0.0, 5.0)), min_size=1, max_size=8)


@settings(deadline=None)
@given(patches)
def test_a_face_counted_whole_is_known(rows):
    counted = [Patch(area, length) for area, length in rows]
    whole = on_face(counted, sum(patch.area for patch in counted))
    assert whole.mean == pytest.approx(sum(patch.length for patch in counted))
    assert whole.sd == 0.0


@settings(max_examples=40, deadline=None)
@given(patches, st.floats(1.5, 20.0), st.floats(0.1, 10.0))
def test_scales_with_the_unit(rows, times, unit):
    """Twice the face has twice the joint; a change of unit changes nothing."""
    counted = [Patch(area, length) for area, length in rows]
    area = times * sum(patch.area for patch in counted)
    whole = on_face(counted, area)
    other = on_face([Patch(p.area * unit**2, p.length * unit) for p in counted], area * unit**2)
    assert other.mean == pytest.approx(whole.mean * unit)
    assert other.sd == pytest.approx(whole.sd * unit, abs=1e-9)


def test_even_patches_have_no_spread():
    assert on_face([Patch(0.2, 1.0), Patch(0.4, 2.0)], 3.0).sd == pytest.approx(0.0, abs=1e-12)


def test_no_patch_is_an_error():
    with pytest.raises(ValueError, match="without patches"):
        on_face([], 1.0)


def test_one_patch_takes_its_scatter_from_elsewhere():
    even = [Patch(0.1, 0.5), Patch(0.1, 0.5)]
    wild = [Patch(0.1, 0.1), Patch(0.1, 0.9)]
    assert scatter_of([even, [Patch(0.1, 0.5)]]) == Scatter(0.0, 1)
    assert scatter_of([wild]).relative > 0.5
    assert scatter_of([[Patch(0.1, 0.5)]]) is None
    assert on_face([Patch(0.1, 0.5)], 1.0, scatter_of([wild])).sd > on_face([Patch(0.1, 0.5)], 1.0, Scatter(0.1, 9)).sd


def test_honest_on_random_faces():
    """Faces of 40 patches with failed joint scattered at random, some patches bad; six are counted. The mean of the estimates
    is the truth to 1 %, and two standard errors hold it 91 to 98 times in a hundred (95 were the patches normal; bad ones skew).
    """
    rng = np.random.default_rng(11)
    held, ratios = 0, []
    rounds = 1500
    for _ in range(rounds):
        rate = rng.gamma(3.0, 1.0, 40) * np.where(rng.random(40) < 0.2, 2.0, 1.0)
        areas = rng.uniform(0.08, 0.14, 40)
        lengths = rate * areas
        chosen = rng.choice(40, 6, replace=False)
        told = on_face([Patch(areas[i], lengths[i]) for i in chosen], areas.sum())
        truth = lengths.sum()
        ratios.append(told.mean / truth)
        held += abs(told.mean - truth) <= 2 * told.sd
    assert np.mean(ratios) == pytest.approx(1.0, abs=0.01)
    assert 0.91 <= held / rounds <= 0.98


def test_the_factor_for_few_patches_falls_to_one():
    factors = [widened(n) for n in range(1, 60)]
    assert factors == sorted(factors, reverse=True)
    assert widened(10_000) == pytest.approx(1.0, abs=1e-3)


@pytest.mark.parametrize("count", [1, 2, 5, 20, 200])
def test_the_bound_of_none_is_where_none_is_seen_one_time_in_twenty(count):
    """SciPy's exact binomial: with that share, none of ``count`` shows with a chance of 5 %; and its Clopper-Pearson limit."""
    share = most_of_none(count)
    assert binom.pmf(0, count, share) == pytest.approx(0.05)
    assert share == pytest.approx(binomtest(0, count).proportion_ci(0.90, method="exact").high)
    if count >= 20:
        assert share == pytest.approx(3 / count, rel=0.08), "the rule of three"


def test_faces_without_a_failed_joint_keep_a_spread_that_shrinks_as_more_is_counted():
    few, many = (none_on_face([Patch(0.1, 0.0)] * n, 4.0, 60.0) for n in (2, 20))
    assert few.mean == many.mean == 0.0
    assert few.quantile(0.95) > 3 * many.quantile(0.95) > 0
    assert none_on_face([Patch(0.1, 0.0)] * 40, 4.0, 60.0).sd == pytest.approx(0.0), "the whole face was counted"
    assert none_on_face([Patch(0.1, 0.0)], 4.0, 60.0).quantile(0.95) < 60.0, "no more than there is"


def test_none_seen_is_honest():
    """Forty patches, some bad; six looked at, none bad: what there is lies under the bound, at least 19 times in 20."""
    rng = np.random.default_rng(5)
    under, seen = 0, 0
    for _ in range(4000):
        bad = rng.random(40) < rng.uniform(0.0, 0.5)
        chosen = rng.choice(40, 6, replace=False)
        if bad[chosen].any():
            continue
        seen += 1
        under += bad.sum() * 1.5 <= none_on_face([Patch(0.1, 0.0)] * 6, 4.0, 60.0).quantile(0.95)
    assert seen > 500
    assert under / seen >= 0.95
