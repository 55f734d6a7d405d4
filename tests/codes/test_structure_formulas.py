"""Behaviour of the structural formulas: limits, directions, ranges, and lookups that name what is unknown."""

from __future__ import annotations

from dataclasses import replace
from math import atan, pi, radians, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from crownwright.codes import asce_7_2016 as asce
from crownwright.codes import beam_formulas as beams
from crownwright.codes import capstan, en_13384_1, niosh_94_110
from crownwright.codes.aci_318_plain import reduction
from crownwright.codes.aci_347_04 import liquid_pressure, wall_pressure
from crownwright.codes.astm_a1064 import wire
from crownwright.codes.astm_c315 import liner, liners
from crownwright.codes.astm_c1472 import shear_width
from crownwright.codes.block_stability import bed_stress, kern, pull_to_open
from crownwright.codes.england_ad_j import outlet_height
from crownwright.codes.flue_cooling import FlueRun, cool
from crownwright.codes.fmcsa_393_108 import webbing_limit
from crownwright.codes.friction import friction
from crownwright.codes.irc_2018 import height_above_roof, net_area
from crownwright.codes.nds_2018 import lumber, stability_factor
from crownwright.codes.nds_2018_fasteners import dowel_bearing, screw, screw_lateral, yield_modes
from crownwright.codes.osha_1926 import ladder_duty, limit, line_clearance
from crownwright.codes.unit_weights import material
from crownwright.quantity.units import FOOT, INCH, PCF

POSITIVE = st.floats(0.05, 20.0)


@given(POSITIVE, POSITIVE, POSITIVE)
def test_spans_found_are_the_spans_that_just_serve(load, span, stiffness):
    bent = beams.simple_uniform(load, span, stiffness)
    assert beams.span_for_moment(bent.moment, load) == pytest.approx(span)
    assert beams.span_for_shear(bent.shear, load) == pytest.approx(span)
    assert beams.span_for_deflection(stiffness, load, bent.deflection) == pytest.approx(span)
    assert beams.span_for_ratio(stiffness, load, span / bent.deflection) == pytest.approx(span)


@given(st.floats(0, 1), st.floats(0, 7), st.floats(0, 7))
def test_belt_friction_adds_angles_by_multiplying_ratios(friction_, a, b):
    both = capstan.tension_ratio(friction_, a + b)
    assert both == pytest.approx(capstan.tension_ratio(friction_, a) * capstan.tension_ratio(friction_, b))


@given(st.floats(0.01, 0.9), st.floats(0.01, 0.9))
def test_more_strap_friction_never_presses_harder(a, b):
    less, more = sorted((a, b))
    assert capstan.clamp_force(1.0, less) >= capstan.clamp_force(1.0, more)
    assert sum(capstan.side_tensions(1.0, less)) * 2 == pytest.approx(capstan.clamp_force(1.0, less))


@given(st.floats(1, 60), st.floats(1, 60), st.sampled_from("BCD"))
def test_wind_grows_with_height_and_openness(z1, z2, exposure):
    low, high = sorted((z1, z2))
    assert asce.velocity_factor(low, exposure) <= asce.velocity_factor(high, exposure)
    assert asce.velocity_factor(low, "B") <= asce.velocity_factor(low, "C") <= asce.velocity_factor(low, "D")


@given(st.floats(0.2, 40))
def test_force_coefficient_stays_inside_its_table(slender):
    assert 1.3 <= asce.force_coefficient("square, wind on a face", slender) <= 2.0


def test_unknown_shape_and_grade_and_edition_are_named_with_what_there_is():
    with pytest.raises(KeyError, match="square, wind on a face"):
        asce.force_coefficient("oblong", 1.0)
    with pytest.raises(KeyError, match=r"SPF No\.1/No\.2"):
        lumber("SPF-S No.2")
    with pytest.raises(KeyError, match="2014"):
        reduction("2016")
    with pytest.raises(KeyError, match="13x13"):
        liner("13x14")
    with pytest.raises(KeyError, match=r"8\.5x18"):
        net_area("9x18")
    with pytest.raises(KeyError, match="IAA"):
        ladder_duty("IV")
    with pytest.raises(KeyError, match="wind_work"):
        limit("wind_nap")
    with pytest.raises(KeyError, match="rubble granite"):
        material("basalt")
    with pytest.raises(KeyError, match="brick on wood"):
        friction("soap on ice")
    with pytest.raises(KeyError, match=r"1\.75"):
        webbing_limit(1 * INCH)
    with pytest.raises(KeyError, match=r"W1\.7"):
        wire("W9")


@given(st.floats(0.5, 4), st.floats(0.5, 4), st.floats(0.0, 0.4))
def test_inside_the_kern_the_bed_joint_stays_pressed(width, breadth, share):
    void = share * min(width, breadth)
    weight = 1000.0
    moment = weight * kern(width, void, breadth)
    low, high = bed_stress(weight, moment, width, breadth, void)
    assert low == pytest.approx(0.0, abs=1e-6 * high)
    assert bed_stress(weight, 0.9 * moment, width, breadth, void)[0] > 0
    assert pull_to_open(weight, width, 2.0) == pytest.approx(weight * width / 6 / 2.0)


@given(st.floats(0, radians(60)), st.floats(0, 20))
def test_height_above_the_roof_is_never_under_three_feet_and_grows_with_distance_to_the_reach(pitch, away):
    here = height_above_roof(pitch, away)
    assert here >= 3 * FOOT
    assert height_above_roof(pitch, away + 1) >= here
    assert height_above_roof(pitch, 10 * FOOT) == height_above_roof(pitch, 30 * FOOT)


@given(st.floats(0.05, radians(60)), st.floats(0.61, 20))
def test_england_never_asks_for_more_than_the_ridge_unless_it_is_near(pitch, away):
    assert outlet_height(pitch, away) <= max(1.0, 2.3 * tan(pitch)) + 1e-9
    assert outlet_height(pitch, away) <= tan(pitch) * away + 1e-9
    assert outlet_height(pitch, 0.5) == pytest.approx(0.5 * tan(pitch) + 0.6)


def test_the_least_yield_mode_governs_and_a_shallow_screw_is_refused():
    strength = dowel_bearing(0.42)
    modes = yield_modes(0.131 * INCH, 2 * INCH, 0.75 * INCH, strength, strength, 90e3 * 6894.757, 2.2)
    assert min(modes.values()) == modes["IIIs"]
    with pytest.raises(ValueError, match="under six diameters"):
        screw_lateral(screw(8), 0.42, 1.5 * INCH, 0.9 * INCH)
    shallow = screw_lateral(screw(8), 0.42, 1.5 * INCH, 1.2 * INCH)
    assert shallow < screw_lateral(screw(8), 0.42, 1.5 * INCH, 2.0 * INCH)


@given(st.floats(0.05, 50))
def test_stability_factor_lies_between_nothing_and_one(ratio):
    assert 0 < stability_factor(ratio, 1.0) <= 1.0


@given(st.floats(0.05, 6), st.floats(0.1, 20), st.floats(-5, 40))
def test_form_pressure_is_never_more_than_the_liquid_head(head, feet_an_hour, warm):
    pressure = wall_pressure(150 * PCF, head, feet_an_hour * FOOT / 3600, warm)
    assert 0 < pressure <= liquid_pressure(150 * PCF, head) * (1 + 1e-9)


@given(st.floats(0.1, 0.6), st.floats(0.0, 2.0), st.floats(0.1, 2.0))
def test_a_lift_further_out_or_longer_is_never_lighter(out, up, travel):
    here = niosh_94_110.weight_limit(niosh_94_110.Lift(out, up, travel))
    assert niosh_94_110.weight_limit(niosh_94_110.Lift(out + 0.05, up, travel)) <= here + 1e-12
    assert niosh_94_110.weight_limit(niosh_94_110.Lift(out, up, travel + 0.05)) <= here + 1e-12
    assert here <= niosh_94_110.LOAD_CONSTANT


def test_no_limit_means_an_infinite_index_and_out_of_reach_is_no_limit():
    assert niosh_94_110.weight_limit(niosh_94_110.Lift(26 * INCH, 0.5, 0.5)) == 0
    assert niosh_94_110.lifting_index(10.0, 0.0) == float("inf")
    assert niosh_94_110.weight_limit(niosh_94_110.Lift(0.3, 0.5, 0.5, turn=radians(140))) == 0


@given(st.floats(120, 600), st.floats(0.005, 0.2), st.floats(2, 12))
def test_gas_cools_on_the_way_up_and_the_wall_is_cooler_than_the_gas(entry, flow, length):
    one = cool(FlueRun(0.2858, 0.534, length, 0.1066), entry, flow)
    assert 0 < one.outlet < one.mean < entry
    assert one.outlet <= one.steady_outlet < entry
    assert 0 < one.wall_top < one.steady_outlet
    longer = cool(FlueRun(0.2858, 0.534, length + 1, 0.1066), entry, flow)
    assert longer.outlet < one.outlet


@given(st.floats(4e3, 1e6), st.floats(0, 0.05))
def test_rough_pipes_rub_more(reynolds, rough):
    assert en_13384_1.friction_factor(reynolds, rough) >= en_13384_1.friction_factor(reynolds, 0.0) - 1e-12


@given(st.floats(0.001, 0.05), st.floats(0.05, 1.0))
def test_the_slanted_bead_is_stretched_by_just_its_class(movement, take):
    width = shear_width(movement, take)
    assert np.hypot(width, movement) / width == pytest.approx(1 + take)


@given(st.floats(0, 500e3), st.floats(0, 500e3))
def test_higher_lines_are_never_nearer(a, b):
    low, high = sorted((a, b))
    assert line_clearance(low) <= line_clearance(high)


def test_liners_are_whole():
    for size in liners().values():
        assert size.long >= size.short > 2 * size.wall > 0
        assert 0 < size.inside_area < size.outside_area
        assert replace(size, wall=0.0).inside_area == pytest.approx(size.outside_area)
        assert size.code_area == pytest.approx(size.inside_area, rel=0.15)


def test_a_quarter_turn_is_a_corner():
    assert pi / 2 == capstan.QUARTER_TURN
    assert atan(1.0) * 2 == pytest.approx(capstan.QUARTER_TURN)
