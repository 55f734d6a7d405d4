"""Tapes in any order place the corners and flues; what they cannot place is said."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest

from crownwright.quantity.units import INCH
from crownwright.survey import adjust
from crownwright.survey.readings import Tape

NEAR = 0.02
"""Inches: exact tapes come back this near: flues are also taken as about square with the walls, and these are not quite."""


def shape_of(survey) -> np.ndarray:
    return survey.corners / INCH


@pytest.mark.parametrize("name", ["quad", "pentagon", "triangle"])
def test_any_number_of_corners(make_top, shapes, name: str) -> None:
    corners = shapes[name]
    survey, problems = adjust(make_top(corners).readings())
    assert survey is not None, problems
    assert shape_of(survey) == pytest.approx(np.array(list(corners.values())), abs=1e-6)


def test_ten_corners(make_top) -> None:
    turn = np.arange(10) * 2 * np.pi / 10
    ring = 30 * np.column_stack([np.sin(turn), -np.cos(turn)])
    u = (ring[1] - ring[0]) / np.hypot(*(ring[1] - ring[0]))
    ring = (ring - ring[0]) @ np.array([[u[0], -u[1]], [u[1], u[0]]])
    survey, problems = adjust(make_top({chr(65 + k): tuple(p) for k, p in enumerate(ring)}).readings())
    assert survey is not None, problems
    assert shape_of(survey) == pytest.approx(ring, abs=1e-6)


@pytest.mark.parametrize("seed", range(6))
def test_order_and_direction_of_tapes_do_not_matter(quad, seed: int) -> None:
    rng = np.random.default_rng(seed)
    tapes = list(quad.all_tapes())
    rng.shuffle(tapes)
    tapes = [Tape(t.end, t.start, t.reads) if rng.random() < 0.5 else t for t in tapes]
    survey, _ = adjust(quad.readings(tuple(tapes)))
    assert survey is not None
    assert shape_of(survey) == pytest.approx(np.array(list(quad.corners.values())), abs=NEAR)
    assert np.array(survey.flues[0].centre) / INCH == pytest.approx([22.0, 18.5], abs=NEAR)


def test_no_tape_along_ab(quad) -> None:
    tapes = tuple(t for t in quad.all_tapes() if (t.start, t.end) != ("A", "B"))
    survey, _ = adjust(quad.readings(tapes))
    assert survey is not None
    assert shape_of(survey) == pytest.approx(np.array(list(quad.corners.values())), abs=NEAR)


def test_a_flue_in_the_way_of_both_diagonals(make_top, shapes) -> None:
    """Sides, and the flue's corners from two chimney corners each: the ties hold the shape that no diagonal could."""
    top = make_top(shapes["quad"], {"F1": (23.0, 18.5, 0.0, 18.0, 13.0)})
    sides = [top.tape(a, b) for a, b in ("AB", "BC", "CD", "DA")]
    cross = [top.tape(c, "F1" + s) for c, s in ("Aa", "Ab", "Ba", "Bb", "Cc", "Cb", "Dd", "Da")]
    survey, problems = adjust(top.readings((*sides, *cross)))
    assert survey is not None, problems
    assert shape_of(survey) == pytest.approx(np.array(list(top.corners.values())), abs=NEAR)


def test_sides_alone_do_not_hold_a_quadrilateral(bare) -> None:
    survey, problems = adjust(bare.readings(tuple(bare.tape(a, b) for a, b in ("AB", "BC", "CD", "DA"))))
    assert survey is None
    assert any("not enough ties" in p.what and "diagonal" in p.remedy for p in problems)


def test_two_ties_do_not_hold_a_rectangular_flue(quad) -> None:
    tapes = tuple(t for t in quad.all_tapes() if t.end not in ("F1c", "F1d"))
    survey, problems = adjust(quad.readings(tapes))
    assert survey is None
    (problem,) = [p for p in problems if p.where == "flue F1"]
    assert "2 tapes" in problem.what
    assert "1 more corner" in problem.remedy


def test_round_flue_by_two_ties_from_one_side_is_taken_inside(make_top, shapes) -> None:
    top = make_top(shapes["quad"], rounds={"F1": (20.0, 15.0, 9.5)})
    tapes = (*(top.tape(a, b) for a, b in combinations("ABCD", 2)), top.tape("A", "F1"), top.tape("B", "F1"))
    survey, _ = adjust(top.readings(tapes))
    assert survey is not None
    assert np.array(survey.flues[0].centre) / INCH == pytest.approx([20.0, 15.0], abs=NEAR)


def test_mirror_image_is_told(make_top, shapes) -> None:
    """Tied from A and C only, the flue fits on either side of the diagonal."""
    top = make_top(shapes["quad"], rounds={"F1": (30.0, 12.0, 9.5)})
    tapes = (*(top.tape(a, b) for a, b in combinations("ABCD", 2)), top.tape("A", "F1"), top.tape("C", "F1"))
    survey, problems = adjust(top.readings(tapes))
    assert survey is None
    assert any("mirror image" in p.what for p in problems)


def test_letters_out_of_order(bare) -> None:
    """C and D exchanged: the sides cross."""
    readings = bare.readings()
    survey, problems = adjust(replace(readings, corners=("A", "B", "D", "C")))
    assert survey is None
    assert any("letters do not run round" in p.what for p in problems)


def test_a_corner_in_a_line_is_told_and_does_not_stop(make_top) -> None:
    top = make_top({"A": (0.0, 0.0), "M": (24.0, 0.3), "B": (48.0, 0.0), "C": (48.0, 36.0), "D": (0.0, 36.0)})
    survey, problems = adjust(top.readings())
    assert survey is not None
    assert any(p.where == "corner M" and "lie in a line" in p.what for p in problems)


def test_all_corners_in_a_line(make_top) -> None:
    top = make_top({"A": (0.0, 0.0), "B": (24.0, 0.0), "C": (48.0, 0.0)})
    survey, problems = adjust(top.readings())
    assert survey is None
    assert any("in one line" in p.what for p in problems)
