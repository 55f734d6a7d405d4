"""A bag made richer: which way everything moves, and where it should stop."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.concrete.bags import bag, bags, water_for
from crownwright.concrete.mix import MOST_CEMENT, enrich, portland_limits, scoop_mass, shrinkage_strain
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import FT3, LB, QUART

EIGHTY = bag("80 lb")
WEEK, YEAR = 7 * 86400.0, 365 * 86400.0


@settings(max_examples=80, deadline=None)
@given(st.floats(0.1, 6.0), st.floats(2.5, 4.0), st.sampled_from(["same water", "same feel"]))
def test_more_portland_is_stronger_pastier_and_gives_more(pounds: float, quarts: float, watering: str) -> None:
    before = enrich(EIGHTY, 0.0, quarts * QUART, watering)  # type: ignore[arg-type]
    after = enrich(EIGHTY, pounds * LB, quarts * QUART, watering)  # type: ignore[arg-type]
    assert after.water_cement.mean < before.water_cement.mean
    assert after.strength.mean > before.strength.mean
    assert after.paste > before.paste
    assert after.shrinkage > before.shrinkage
    assert after.yields > before.yields
    assert after.water_cement.sd < before.water_cement.sd  # what is added is known: it thins the guess


@settings(max_examples=40, deadline=None)
@given(st.floats(2.5, 3.9), st.floats(0.0, 6.0))
def test_more_water_is_weaker_and_shrinks_more(quarts: float, pounds: float) -> None:
    dry, wet = (enrich(EIGHTY, pounds * LB, q * QUART) for q in (quarts, quarts + 0.1))
    assert wet.strength.mean < dry.strength.mean
    assert wet.shrinkage > dry.shrinkage


def test_the_added_share_of_water_goes_with_the_feel() -> None:
    stiff, same = enrich(EIGHTY, 4 * LB), enrich(EIGHTY, 4 * LB, watering="same feel")
    assert same.water / (EIGHTY.mass + 4 * LB) == pytest.approx(EIGHTY.water_usual / EIGHTY.mass)
    assert same.water_cement.mean > stiff.water_cement.mean


def test_enough_sure_and_most_are_in_order_and_do_what_they_say() -> None:
    for quarts in (3.0, 3.5, 4.0):
        limit = portland_limits(EIGHTY, 0.45, quarts * QUART)
        assert limit.enough is not None
        assert limit.sure is not None
        assert limit.enough < limit.sure <= limit.most + 1e-9
        assert enrich(EIGHTY, limit.enough, quarts * QUART, "same feel").water_cement.mean == pytest.approx(0.45, abs=1e-6)
        poor = enrich(EIGHTY, limit.sure, quarts * QUART, "same feel", Uncertain(0.16 - 1.645 * 0.012))
        assert poor.water_cement.mean == pytest.approx(0.45, abs=1e-6)
        assert enrich(EIGHTY, limit.most, quarts * QUART, "same feel").cement_content <= MOST_CEMENT + 1e-6


def test_where_the_target_cannot_be_met_the_density_of_cement_stops_it() -> None:
    limit = portland_limits(EIGHTY, 0.30, 4.0 * QUART)
    assert limit.sure is not None
    assert limit.most < limit.sure
    assert "550" in limit.why


def test_a_dry_bag_needs_no_portland_for_a_loose_target() -> None:
    limit = portland_limits(EIGHTY, 0.60, 2.5 * QUART)
    assert (limit.enough, limit.sure) == (None, None)


def test_bags_of_every_size_are_one_mix_and_water_stays_on_the_label() -> None:
    ratios = {name: enrich(b).water_cement.mean for name, b in bags().items() if name != "60 lb"}
    assert max(ratios.values()) - min(ratios.values()) < 1e-3
    for b in bags().values():
        low, usual, high = (water_for(b, slump) for slump in ("1-2", "3-4", "6-7"))
        assert b.water_low <= low <= usual <= high <= b.water_high
        assert 2100 < b.density < 2400


def test_a_scoop_is_bulk_portland() -> None:
    assert scoop_mass(2.0, FT3 / 10) / LB == pytest.approx(2 * 94 / 10)


def test_shrinkage_grows_with_dryness_thinness_and_cement() -> None:
    mix = enrich(EIGHTY)
    base = shrinkage_strain(mix, 0.60, 0.05, WEEK, YEAR, 0.08, 0.02)
    assert shrinkage_strain(mix, 0.80, 0.05, WEEK, YEAR, 0.08, 0.02) < base
    assert shrinkage_strain(mix, 0.60, 0.10, WEEK, YEAR, 0.08, 0.02) < base
    assert shrinkage_strain(mix, 0.60, 0.05, 3 * 86400.0, YEAR, 0.08, 0.02) > base
    assert shrinkage_strain(enrich(EIGHTY, 4 * LB), 0.60, 0.05, WEEK, YEAR, 0.08, 0.02) > base


def test_negative_amounts_are_refused() -> None:
    with pytest.raises(ValueError, match="portland"):
        enrich(EIGHTY, -1.0)
    with pytest.raises(ValueError, match="water"):
        enrich(replace(EIGHTY, water_usual=0.0))
