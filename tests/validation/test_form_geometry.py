"""Pinwheel and mitre geometry of a form, worked by hand.

Pinwheel, thickness t 1.5 in.: a board's inner face is s + t/sin(angle) long; a square-cut butt at an angle off square leaves
t |cot(angle)|. At 88 degrees 1.5/sin 88 = 1.50091, 1.5 cot 88 = 0.05238; at 95 degrees 1.50573 and 0.13123. Soffit boards of
width w lying flat: each s + w, outer size s + 2 w. A sidewall of 1.5 in. on a flat board leaves w - 1.5: 2 in. of a 2x4, 4 in. of
a 2x6. Mitred moulding r wide: saw at 90 less half the angle, long point to short r/tan(angle/2): 0.75, 0.7766, 0.7243 at 90, 88,
92 degrees. A quarter round of leg r has area pi r2/4 = 0.4418 in2 for 3/4 in. Four places: tolerance half of the last.
"""

from __future__ import annotations

from math import pi, radians

import numpy as np
import pytest

from crownwright.codes.ps_20 import board
from crownwright.form.model import EndCut, Piece
from crownwright.form.pinwheel import Ring, butt_gap, mitre_loss, mitre_setting, run_past
from crownwright.form.takeoff import wood_volume
from crownwright.quantity.units import INCH

HALF = 5e-5


@pytest.mark.parametrize(
    ("degrees", "past", "gap"), [(90, 1.5, 0.0), (88, 1.5009, 0.0524), (92, 1.5009, 0.0524), (85, 1.5057, 0.1312)]
)
def test_pinwheel(theirs, degrees, past, gap):
    angle = radians(degrees)
    theirs(f"runs past at {degrees} degrees", past, run_past(1.5, angle), unit="in.", tol=HALF, grade="derived")
    theirs(f"gap of a square-cut butt at {degrees} degrees", gap, butt_gap(1.5, angle), unit="in.", tol=HALF, grade="derived")


def test_a_frame_of_forty_by_thirty(theirs):
    """Inside 40 by 30 in., walls 1.5 in.: 41.5 and 31.5; together the perimeter and 4 t: 146. Soffit boards of a 2x6 round it."""
    ring = Ring(np.array([(0, 0), (40, 0), (40, 30), (0, 30.0)]))
    walls, soffits = ring.pinwheel_lengths([1.5] * 4, 0.0), ring.pinwheel([5.5] * 4, 0.0)
    theirs("long wall", 41.5, walls[0], unit="in.", tol=1e-9, grade="derived")
    theirs("all walls", 146.0, walls.sum(), unit="in.", tol=1e-9, grade="derived")
    outside = soffits.reshape(-1, 2)
    theirs("soffit boards, outer length", 51.0, np.ptp(outside[:, 0]), unit="in.", tol=1e-9, grade="derived")
    theirs("soffit boards, outer width", 41.0, np.ptp(outside[:, 1]), unit="in.", tol=1e-9, grade="derived")


@pytest.mark.parametrize(("name", "leaves"), [("2x4", 2.0), ("2x6", 4.0)])
def test_what_a_sidewall_leaves_of_a_flat_board(theirs, name, leaves):
    ours = (board(name).width - board("2x4").thickness) / INCH
    theirs(f"sidewall on a flat {name} leaves", leaves, ours, unit="in.", tol=1e-9, grade="common practice")


@pytest.mark.parametrize(("degrees", "setting", "loss"), [(90, 45.0, 0.75), (88, 46.0, 0.7766), (92, 44.0, 0.7243)])
def test_mitre(theirs, degrees, setting, loss):
    angle = radians(degrees)
    theirs(
        f"saw setting at {degrees} degrees", setting, mitre_setting(angle) * 180 / pi, unit="degrees", tol=1e-9, grade="derived"
    )
    theirs(f"long point to short at {degrees} degrees", loss, mitre_loss(0.75, angle), unit="in.", tol=HALF, grade="derived")


def test_area_of_a_quarter_round(theirs):
    leg, length = 0.75 * INCH, 1.0
    foot = np.array([(0, 0), (length, 0), (length, leg), (0, leg)])
    cut = EndCut("square")
    piece = Piece("", "quarter-round", "", "", length, length, cut, cut, foot, 0.0, leg)
    theirs(
        "quarter round, leg 3/4 in.: area", 0.4418, wood_volume([piece]) / length / INCH**2, unit="in2", tol=HALF, grade="derived"
    )
