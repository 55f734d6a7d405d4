"""Pictures of upright solids: hidden faces are left out, nothing is lost, and the order of the solids does not matter."""

import numpy as np
import pytest
import shapely

from crownwright.sheets.drawings.solidview import Upright, picture, scenes


def box(x, y, low, high, wide=1.0, title="box"):
    ring = np.array([[x, y], [x + wide, y], [x + wide, y + wide], [x, y + wide]])
    return Upright(ring, low, high, title=title)


def area(shapes, title):
    return sum(shapely.Polygon(s.outer, s.holes).area for s in shapes if s.title == title)


WHOLE = 3 * np.cos(np.pi / 6)  # a unit cube shows three rhombs of cos 30 each


def test_a_cube_alone_shows_its_three_near_faces():
    shapes = list(picture([box(0, 0, 0, 1)]))
    assert len(shapes) == 3
    assert area(shapes, "box") == pytest.approx(WHOLE, rel=1e-4)


def test_a_cube_behind_another_is_hidden_just_where_it_is_covered():
    near, far = box(0, 0, 0, 1, title="near"), box(1, 1, 0, 1, title="far")
    shapes = list(picture([near, far]))
    assert area(shapes, "near") == pytest.approx(WHOLE, rel=1e-4)
    silhouettes = [shapely.union_all([shapely.Polygon(s.outer) for s in picture([one])]) for one in (near, far)]
    exact = silhouettes[1].difference(silhouettes[0]).area
    assert area(shapes, "far") == pytest.approx(exact, rel=1e-3)
    assert 0 < exact < WHOLE


def test_a_cube_right_behind_and_below_is_not_seen_at_all():
    shapes = list(picture([box(0, 0, 0, 1, title="near"), box(0.25, 0.25, 0.1, 0.6, 0.5, title="inside")]))
    assert area(shapes, "inside") == 0.0


def test_the_order_of_solids_does_not_matter():
    solids = [box(0, 0, 0, 1, title="a"), box(1.2, 0.1, 0, 0.5, title="b"), box(0.2, 0.3, 1.0, 1.4, 0.5, title="c")]
    one, other = list(picture(solids)), list(picture(solids[::-1]))
    for title in "abc":
        assert area(one, title) == pytest.approx(area(other, title), rel=1e-6)


def test_scenes_share_work_but_not_what_they_show():
    solids = [box(0, 0, 0, 1, title="near"), box(1, 1, 0, 1, title="far")]
    both, alone = scenes(solids, [[0, 1], [1]])
    assert {k for k, _ in alone} == {1}
    assert area([s for _, s in alone], "far") == pytest.approx(WHOLE, rel=1e-4)
    assert area([s for _, s in both], "far") < WHOLE


def test_a_band_covers_what_it_runs_round_but_not_what_stands_above_it():
    core = box(0, 0, 0, 1, title="core")
    ring = np.array([[-0.01, -0.01], [1.01, -0.01], [1.01, 1.01], [-0.01, 1.01]])
    shapes = list(picture([core, Upright(ring, 0.4, 0.6, title="band", tops=False)]))
    assert area(shapes, "band") == pytest.approx(2 * 1.02 * 0.2 * np.cos(np.pi / 6), rel=1e-3)
    assert area(shapes, "core") == pytest.approx(WHOLE - 2 * 0.2 * np.cos(np.pi / 6), rel=0.02)
