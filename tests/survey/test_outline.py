"""Offsets turn strings into the face; the guard stands outside every stone that was read or may be there."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.geometry.polygon import contains, convex_gap, segments_cross, signed_area
from crownwright.quantity.units import INCH
from crownwright.survey import adjust
from crownwright.survey.defaults import masonry
from crownwright.survey.profile import SideOffsets, profile
from crownwright.survey.readings import Length, Offset

STONE, BRICK = masonry("rubble stone"), masonry("brick")
SD = 0.13 * INCH


def side(along: list[float], out: list[float], proudest: int | None = None) -> SideOffsets:
    return SideOffsets(np.array(along) * INCH, np.array(out) * INCH, np.full(len(along), SD), proudest)


def inches(x: float) -> Length:
    return Length(x * INCH, f"{x:g} in")


def test_the_face_goes_through_what_was_read_and_back_to_the_string_between() -> None:
    found = profile(48 * INCH, side([16.0, 32.0], [1.0, -0.75]), STONE)
    at = np.interp(np.array([0.0, 16.0, 24.0, 32.0, 48.0]) * INCH, found.along, found.out) / INCH
    assert at[[0, 4]] == pytest.approx([0, 0], abs=1e-6)
    assert at[[1, 3]] == pytest.approx([1.0, -0.75], abs=0.12)
    spread = np.interp(np.array([16.0, 24.0]) * INCH, found.along, found.sd) / INCH
    assert spread[0] < 0.2
    assert spread[1] > 0.4


def test_brick_is_known_where_stone_is_not() -> None:
    none = side([], [])
    assert profile(48 * INCH, none, BRICK).sd.max() < 0.15 * INCH
    assert profile(48 * INCH, none, STONE).sd.max() > 0.5 * INCH


def test_proudest_bounds_the_side() -> None:
    free = profile(60 * INCH, side([20.0], [0.25]), STONE)
    held = profile(60 * INCH, side([20.0], [0.25], proudest=0), STONE)
    assert held.bulge == pytest.approx(0.25 * INCH)
    assert held.bulge_sd < 0.2 * INCH
    assert free.bulge > 0.5 * INCH
    assert held.out.mean() < free.out.mean()
    assert (held.sd <= free.sd + 1e-12).all()


def test_unread_stones_stand_as_the_largest_of_so_many() -> None:
    """Draws of independent stones beside it; the face hangs on the end stones, which widens it."""
    found = profile(70 * INCH, side([], []), STONE)
    rng = np.random.default_rng(1)
    stones = rng.normal(0, STONE.face_sd, (20_000, 7))
    t = (np.arange(7) + 0.5) / 7
    hung = stones - (1 - t) * stones[:, :1] - t * stones[:, -1:]
    assert found.bulge == pytest.approx(np.median(hung[:, 1:-1].max(axis=1)), rel=0.35)


@given(
    st.lists(st.tuples(st.floats(1, 47), st.floats(-1.5, 1.5)), max_size=8),
    st.booleans(),
    st.sampled_from([STONE, BRICK]),
)
@settings(max_examples=60, deadline=None)
def test_profiles_are_sane_for_any_offsets(read: list[tuple[float, float]], flagged: bool, stones) -> None:
    along, out = [r[0] for r in read], [r[1] for r in read]
    proudest = int(np.argmax(out)) if read and flagged else None
    found = profile(48 * INCH, side(along, out, proudest), stones)
    assert np.isfinite(found.out).all()
    assert (found.sd >= 0).all()
    assert (np.diff(found.along) > 0).all()
    assert found.bulge >= 0
    assert np.abs(found.out).max() < 2.5 * INCH


def test_guard_holds_the_corners_and_every_proud_stone(whole) -> None:
    survey, _ = adjust(whole)
    assert survey is not None
    outline = survey.outline
    hull = outline.guard
    assert contains(hull, survey.corners).all()
    assert contains(hull, outline.face[outline.side >= 0] * 1.0).all()
    start, end = survey.corners[0], survey.corners[1]
    proud = start + (end - start) / np.hypot(*(end - start)) * 12 * INCH + np.array([0.0, -0.75 * INCH])
    assert contains(hull, proud.reshape(1, 2)).all()
    assert signed_area(outline.face) > 0
    assert outline.area.mean == pytest.approx(signed_area(outline.face))


def test_a_side_all_out_by_an_inch_adds_its_strip_of_area(whole) -> None:
    flat = replace(whole, offsets=())
    out = tuple(Offset("AB", inches(x), inches(1.0)) for x in range(3, 46, 3))
    none = tuple(Offset(s, inches(x), inches(0.0)) for s in ("BC", "CD", "DA") for x in range(3, 34, 3))
    zero = tuple(Offset("AB", inches(x), inches(0.0)) for x in range(3, 46, 3))
    one, _ = adjust(replace(flat, offsets=(*zero, *none)))
    other, _ = adjust(replace(flat, offsets=(*out, *none)))
    assert one is not None
    assert other is not None
    # the strip is 48 in. long; it falls back to the string over the last three inches at both ends, and an inch read out there
    # is half laid to the reading, for the string hangs on the very stone
    assert (other.outline.area.mean - one.outline.area.mean) / INCH**2 == pytest.approx(45.0, abs=1.5)
    assert one.outline.area.mean / INCH**2 == pytest.approx(signed_area(one.corners) / INCH**2, abs=0.5)


def test_arrays_cannot_be_written(whole) -> None:
    survey, _ = adjust(whole)
    assert survey is not None
    for array in (survey.outline.face, survey.outline.guard, survey.flues[0].ring):
        with pytest.raises(ValueError, match="read-only"):
            array[0] = 0.0


def test_crossings_and_gaps() -> None:
    a, b = np.array([[0.0, 0.0]]), np.array([[2.0, 2.0]])
    assert segments_cross(a, b, np.array([[0.0, 2.0]]), np.array([[2.0, 0.0]])).tolist() == [True]
    assert segments_cross(a, b, np.array([[2.0, 2.0]]), np.array([[3.0, 0.0]])).tolist() == [False]
    square = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    turned = (square - 0.5) @ np.array([[1.0, 1.0], [-1.0, 1.0]]) / np.sqrt(2) + [2.0, 0.5]
    assert convex_gap(square, turned) == pytest.approx(2.0 - np.sqrt(0.5) - 1.0)
