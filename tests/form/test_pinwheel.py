"""Joinery of a ring: lengths, butts and mitres from the true angles, whatever the ring."""

from __future__ import annotations

from math import cos, pi, sin, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from crownwright.form.pinwheel import Ring, butt_gap, mitre_gap, mitre_loss, mitre_setting, run_past
from crownwright.geometry.polygon import contains, signed_area


@st.composite
def rings(draw: st.DrawFn) -> Ring:
    """A convex ring of 3 to 7 corners about 1 m across, no angle nearer than 20 degrees to flat or folded."""
    n = draw(st.integers(3, 7))
    steps = np.array([draw(st.floats(0.75, 1.25)) for _ in range(n)])
    turn = draw(st.floats(0, 2 * pi)) + np.cumsum(steps) * 2 * pi / steps.sum()
    stretch = draw(st.floats(0.6, 1.6))
    return Ring(np.column_stack([stretch * np.cos(turn), np.sin(turn)]))


widths = st.floats(0.02, 0.15)


@given(st.floats(0.3, 3.0), widths, st.floats(0, 0.1))
def test_lengths_of_a_square_sum_to_its_perimeter_and_four_thicknesses(side: float, t: float, horn: float) -> None:
    square = Ring(np.array([(0, 0), (side, 0), (side, side), (0, side)]))
    assert square.pinwheel_lengths([t] * 4, 0.0).sum() == pytest.approx(4 * side + 4 * t)
    assert square.pinwheel_lengths([t] * 4, horn).sum() == pytest.approx(4 * (side + t + horn))


@given(rings())
def test_angles_close_and_sides_are_square_to_their_normals(ring: Ring) -> None:
    n = len(ring.corners)
    assert ring.angles.sum() == pytest.approx((n - 2) * pi)
    assert (ring.along * ring.normal).sum(1) == pytest.approx(np.zeros(n), abs=1e-12)
    outside = ring.corners + 0.5 * ring.run + 1e-6 * ring.normal
    assert not contains(ring.corners, outside).any()


@given(rings(), st.lists(st.floats(-0.05, 0.2), min_size=7, max_size=7))
def test_a_side_moved_out_lies_that_far_out_and_keeps_its_direction(ring: Ring, out: list[float]) -> None:
    by = np.array(out[: len(ring.corners)])
    moved = ring.moved_out(by)
    assert ((moved.corners - ring.corners) * ring.normal).sum(1) == pytest.approx(by, abs=1e-9)
    ends = np.roll(moved.corners, -1, axis=0)
    assert ((ends - ring.corners) * ring.normal).sum(1) == pytest.approx(by, abs=1e-9)


@given(rings(), widths, st.floats(0, 0.05))
def test_boards_of_a_pinwheel_touch_without_overlap_and_cover_the_next_end(ring: Ring, t: float, horn: float) -> None:
    n = len(ring.corners)
    boards = ring.pinwheel([t] * n, horn)
    for i, foot in enumerate(boards):
        assert signed_area(foot) > 0
        assert np.linalg.norm(foot[2] - foot[3]) == pytest.approx(ring.pinwheel_lengths([t] * n, horn)[i])
        j = (i + 1) % n
        heel, inside = boards[j][0], boards[j][3]
        for end in (heel, inside):  # both corners of the next board's butt lie on this board's inner edge
            along, out = (end - ring.corners[i]) @ ring.along[i], (end - ring.corners[i]) @ ring.normal[i]
            assert out == pytest.approx(0, abs=1e-9)
            assert -1e-9 <= along <= np.linalg.norm(foot[2] - foot[3]) - horn + 1e-9


@given(rings(), st.floats(0, 2 * pi), widths)
def test_turning_the_ring_changes_no_length_and_no_angle(ring: Ring, by: float, t: float) -> None:
    turned = Ring(ring.corners @ np.array([[cos(by), sin(by)], [-sin(by), cos(by)]]) + (3.0, -2.0))
    n = len(ring.corners)
    assert turned.angles == pytest.approx(ring.angles, abs=1e-9)
    assert turned.pinwheel_lengths([t] * n, 0.01) == pytest.approx(ring.pinwheel_lengths([t] * n, 0.01))


@given(st.floats(60, 120), widths)
def test_a_butt_cut_to_its_angle_closes_and_a_square_one_gapes_by_its_cotangent(degrees: float, t: float) -> None:
    angle = degrees * pi / 180
    assert butt_gap(t, angle, angle) == 0
    assert butt_gap(t, angle) == pytest.approx(t * abs(cos(angle) / sin(angle)))


@given(st.floats(40, 170), widths)
def test_mitres_halve_the_angle(degrees: float, width: float) -> None:
    angle = degrees * pi / 180
    assert mitre_setting(angle) == pytest.approx((pi - angle) / 2)
    assert mitre_loss(width, angle) == pytest.approx(width * tan(mitre_setting(angle)))
    assert mitre_gap(width, angle, angle) == 0


@given(rings(), st.floats(0.01, 0.04))
def test_the_loss_at_both_mitres_is_the_inner_edge_of_the_moulding(ring: Ring, width: float) -> None:
    inner = ring.moved_out(-width)
    angles = ring.angles
    lost = [mitre_loss(width, float(a)) + mitre_loss(width, float(b)) for a, b in zip(angles, np.roll(angles, -1), strict=True)]
    assert ring.lengths - inner.lengths == pytest.approx(np.array(lost), abs=1e-9)


def test_a_mitre_gap_is_the_chord_between_its_two_faces() -> None:
    """Two mitred ends, cut for a square and turned to 88 degrees: the distance between their long points, drawn out."""
    width, turn = 0.75, 2 * pi / 180
    face = np.array([width, width])  # from the inner point of the mitre to its outer one
    turned = np.array([[cos(turn), -sin(turn)], [sin(turn), cos(turn)]]) @ face
    assert mitre_gap(width, pi / 2 - turn) == pytest.approx(float(np.linalg.norm(turned - face)))


def test_running_past_needs_most_where_the_corner_is_sharpest() -> None:
    assert run_past(1.0, pi / 2) == 1.0
    assert run_past(1.0, pi / 6) == pytest.approx(2.0)
