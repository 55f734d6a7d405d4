"""Raw sand and stone: the volume is filled, the damp piles are paid for, and the table's edges are said."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.codes.aci_211_1_1991 import WATER, coarse_volume, strength_for_water_cement, water_cement_for_strength
from crownwright.concrete.proportion import Aggregates, exposure_ratio, raw_mix
from crownwright.quantity.units import PSI
from crownwright.sources.bibliography import spell

sizes = st.sampled_from(["3/8", "1/2", "3/4", "1"])


@settings(max_examples=60, deadline=None)
@given(
    sizes,
    st.sampled_from(["1-2", "3-4", "6-7"]),
    st.floats(2500, 4900),
    st.sampled_from(["entrapped", "mild", "moderate", "severe"]),
    st.floats(0.0, 0.08),
)
def test_dry_proportions_fill_the_volume_and_damp_ones_weigh_the_same(
    size: str, slump: str, psi: float, exposure: str, damp: float
) -> None:
    piles = Aggregates(size=size, sand_free=damp, stone_free=damp / 4)  # type: ignore[arg-type]
    mix = raw_mix(1.0, psi * PSI, slump, exposure, piles)  # type: ignore[arg-type]
    dry = mix.per_cubic
    filled = dry.air + (dry.water + dry.cement / 3.15 + dry.coarse / 2.65 + dry.sand / 2.65) / WATER
    assert filled == pytest.approx(1.0)
    assert mix.weighed.density == pytest.approx(dry.density)  # the water only moves from the hose to the piles
    assert dry.water_cement <= 0.45 + 1e-12


def test_a_batch_is_its_share_of_the_volume() -> None:
    whole, tenth = raw_mix(1.0), raw_mix(0.1)
    assert tenth.batch.sand == pytest.approx(whole.batch.sand / 10)
    assert tenth.bags == pytest.approx(whole.bags / 10)


def test_exposure_governs_a_weak_mix_and_strength_a_strong_one() -> None:
    assert raw_mix(0.1, 2500 * PSI).governs == "exposure"
    assert raw_mix(0.1, 4900 * PSI).governs == "strength"
    assert exposure_ratio() == 0.45


def test_strength_outside_the_table_is_refused_with_its_limits() -> None:
    with pytest.raises(ValueError, match="2000 to 5000 psi"):
        raw_mix(0.1, 5500 * PSI)
    with pytest.raises(ValueError, match="2000 to 5000 psi"):
        raw_mix(0.1, 4500 * PSI, overdesign=True)
    with pytest.raises(ValueError, match="fineness"):
        raw_mix(0.1, aggregates=replace(Aggregates(), fineness=3.4))
    with pytest.raises(KeyError, match="3/8"):
        coarse_volume("5/8", 2.8)  # type: ignore[arg-type]


@given(st.floats(2000, 5000))
def test_the_table_read_backwards_gives_the_strength_back(psi: float) -> None:
    ratio = water_cement_for_strength(psi * PSI, "entrained")
    assert strength_for_water_cement(ratio, "entrained") == pytest.approx(psi * PSI)


def test_figures_open_to_sources() -> None:
    assert all(spell(figure.cite) for figure in raw_mix(0.17).figures)
