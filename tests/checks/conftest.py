"""A plain invented cap, survey pieces and roof to change one thing of at a time."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import atan
from typing import Any

import numpy as np
import pytest

from crownwright.cap.choices import CapChoices
from crownwright.cap.model import CapDesign, Drip, FlueFit, SideFit, SteelPiece, Surface, Volumes
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import FOOT, INCH
from crownwright.survey.model import PlacedFlue
from crownwright.survey.readings import Surroundings


def _square(half: float) -> np.ndarray:
    return np.array([(-half, -half), (half, -half), (half, half), (-half, half)])


@pytest.fixture
def a_cap() -> Callable[..., CapDesign]:
    """A 48 by 48 in. cap on a 40 by 40 in. stack, one 13x13 flue 4 in. proud, 2x4 edge; change fields by name."""
    flue = FlueFit("F1", _square(7.125 * INCH), 0.625 * INCH, 4.0 * INCH, 4.2 * INCH, Uncertain(4 * INCH, 0.1 * INCH), 0.0, None)
    drip = Drip(0.75 * INCH, (1.75 * INCH,) * 4, 1.5 * INCH, _square(21.5 * INCH))
    corners = _square(24 * INCH)
    plain = CapDesign(
        choices=CapChoices(),
        corners=corners,
        turn=0.0,
        length=48 * INCH,
        width=48 * INCH,
        sides=tuple(SideFit(name, 4 * INCH, 4.5 * INCH, 3.5 * INCH, 0.1 * INCH) for name in ("AB", "BC", "CD", "DA")),
        soffit=-1.0 * INCH,
        edge=2.5 * INCH,
        crest=6.7 * INCH,
        edge_board="2x4",
        edge_thickness=3.5 * INCH,
        top=Surface(np.zeros((0, 3)), np.zeros((0, 3), dtype=np.intp)),
        least_slope=atan(3 / 12),
        sheds=True,
        cover_least=Uncertain(3 * INCH, 0.2 * INCH),
        flues=(flue,),
        drip=drip,
        steel=(SteelPiece("north", (-0.5, 0.5), (0.5, 0.5), 0.75 * INCH, 1.0),),
        base="slip sheet",
        volume=Volumes(Uncertain(0.16, 0.005), 0.09, 0.07, 0.17),
        weight=Uncertain(370.0, 12.0),
        findings=(),
        figures=(),
    )

    def make(**changes: Any) -> CapDesign:
        return replace(plain, **changes)

    return make


@pytest.fixture
def a_flue() -> Callable[..., PlacedFlue]:
    """A 13x13 flue whose top stands 12 in. above the string; change fields by name."""
    ring = _square(6.5 * INCH)
    plain = PlacedFlue(
        "F1", "rectangular", ring, (0.0, 0.0), 0.0, (13 * INCH,) * 2, (11.25 * INCH,) * 2, Uncertain(12 * INCH), 0.003
    )

    def make(**changes: Any) -> PlacedFlue:
        return replace(plain, **changes)

    return make


@pytest.fixture
def a_roof() -> Surroundings:
    """A 6 in 12 roof that meets the stack 3 ft below the string, the ridge 6 ft off, in exposure B."""
    return Surroundings(
        roof_pitch=atan(6 / 12),
        ridge_away=6 * FOOT,
        roof_below_string=4 * FOOT,
        roof_below_string_low=5.5 * FOOT,
        eave_height=10 * FOOT,
        top_height=24 * FOOT,
        width_along_ridge=40 * INCH,
        stack_least_width=40 * INCH,
        latitude=42.0,
        longitude=-84.0,
        exposure="B",
        wind_speed=51.4,
        ground_snow=1436.0,
    )
