"""The form as designed. Same datum as the survey; metres and radians. (Extended by the modules that fill it.)"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class EndCut:
    """How a piece's end is cut: ``square``; ``bevel`` (tilt of the blade from square, through the thickness) or
    ``mitre`` (turn of the saw from square, across the width); ``angle`` is what the saw is set to.
    """

    kind: Literal["square", "bevel", "mitre"]
    angle: float = 0.0


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of the form. ``length`` is its longest edge. It fills the plan polygon ``footprint`` (n,2) from
    ``bottom`` to ``top``; a quarter-round fills a quarter disc along its footprint.
    """

    name: str
    part: Literal["corner block", "soffit board", "sidewall", "quarter-round", "cleat", "kicker"]
    section: str
    length: float
    start: EndCut
    end: EndCut
    footprint: Array
    bottom: float
    top: float
