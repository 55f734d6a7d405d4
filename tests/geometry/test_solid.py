"""Closed meshes: volumes known by hand, and cuts that stay closed."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from crownwright.geometry.solid import Solid, between, cut, join, mitred, prism
from crownwright.geometry.surface import plan_mesh

BOX = np.array([(0.0, 0), (3, 0), (3, 2), (0, 2)])


def test_prism_with_a_hole() -> None:
    solid = prism("ring", BOX, 1.0, 2.0, [BOX / 3 + [1, 0.5]])
    assert solid.closed
    assert solid.volume == pytest.approx(6 - 6 / 9, abs=1e-7)


def test_between_follows_its_top_and_bottom() -> None:
    plan, triangles = plan_mesh(BOX, (), ())
    wedge = between("wedge", plan, triangles, -plan[:, 0], 0.5 * plan[:, 1])
    assert wedge.closed
    assert wedge.volume == pytest.approx(6 * (1.5 + 0.5), abs=1e-9)  # mean depth 1.5 below and 0.5 above


def test_mitred_moulding_has_pappus_volume_on_a_square() -> None:
    arc = np.linspace(0, pi / 2, 200)
    quarter = np.vstack([[0.5, 0.0], np.column_stack([0.5 - 0.1 * np.sin(arc), 0.1 * np.cos(arc)])])
    solid = mitred("moulding", BOX, quarter)
    path = 2 * (3 + 2) - 8 * (0.5 - 0.4 / (3 * pi))
    assert solid.closed
    assert solid.volume == pytest.approx(pi / 4 * 0.01 * path, rel=2e-5)  # the arc is drawn with 200 chords


def test_cutting_takes_away_what_is_inside_once() -> None:
    whole = prism("whole", BOX, 0.0, 1.0)
    bites = [prism("a", BOX / 3, 0.5, 2.0), prism("b", BOX / 3 + [0.5, 0], 0.5, 2.0)]
    left = cut("left", whole, bites)
    both = 1.5 * 2 / 3 * 0.5
    assert left.closed
    assert left.volume == pytest.approx(6 - both, abs=1e-7)  # corners are snapped to 1e-8 m
    assert join("bites", bites).volume == pytest.approx(both * 3, abs=1e-7)


def test_an_open_mesh_is_refused_by_name() -> None:
    whole = prism("whole", BOX, 0.0, 1.0)
    torn = Solid("torn", whole.points, whole.triangles[1:])
    assert not torn.closed
    with pytest.raises(ValueError, match="torn"):
        cut("left", torn, [whole])
