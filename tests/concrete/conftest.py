"""A cap that carries only what the pour reads of it."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from crownwright.cap.choices import CapChoices
from crownwright.cap.model import CapDesign, Surface, Volumes
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import FT3


@pytest.fixture
def cap() -> Callable[..., CapDesign]:
    """A builder: cap(volume in ft3, relative spread, share of the lower lift, box volume in ft3)."""

    def build(cubic_feet: float = 4.2, spread: float = 0.05, lower: float = 0.6, box: float = 4.5) -> CapDesign:
        mean = cubic_feet * FT3
        volumes = Volumes(Uncertain(mean, spread * mean), lower * mean, (1 - lower) * mean, box * FT3)
        top = Surface(np.zeros((0, 3)), np.zeros((0, 3), dtype=np.intp))
        return CapDesign(
            choices=CapChoices(), corners=np.zeros((4, 2)), turn=0.0, length=1.2, width=1.0, sides=(), soffit=-0.05, edge=0.05,
            crest=0.1, edge_board="2x4", edge_thickness=0.089, top=top, least_slope=0.2, sheds=True,
            cover_least=Uncertain(0.06, 0.005), flues=(), drip=None, steel=(), base="slip sheet", volume=volumes,
            weight=Uncertain(2320 * mean, 0.0), findings=(), figures=(),
        )  # fmt: skip

    return build
