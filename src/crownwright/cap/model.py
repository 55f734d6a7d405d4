"""The cap as designed. Same datum as the survey; metres, m2, m3, kg, radians."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from crownwright.cap.choices import CapChoices
from crownwright.quantity.findings import Finding
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.working import Figure

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class SideFit:
    """One side of the cap: the overhang beyond the stone, ``least`` at the proudest place and ``most`` at the
    deepest (best estimate), the least that is still there at the survey's guard (``sure``), and the standard error
    at the proudest place.
    """

    name: str
    least: float
    most: float
    sure: float
    sd: float


@dataclass(frozen=True, slots=True)
class Surface:
    """A triangulated surface z(x, y): ``points`` (n,3), ``triangles`` (t,3) counter-clockwise seen from above."""

    points: Array
    triangles: NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class FlueFit:
    """A flue through the cap: the joint's outline ``hole`` (n,2), the level of the wash where it meets the joint
    (lowest, highest), how far the flue stands proud of the highest of it (extension included), how much higher it
    must stand (``extension``, 0 for none), the level of that piece's joint, and ``cut_back``, how much of the flue
    that stands is cut off so that the joint lies inside the cap. The ``piece`` set on is extension + cut_back long.
    """

    name: str
    hole: Array
    joint_width: float
    meets_low: float
    meets_high: float
    proud: Uncertain
    extension: float
    extension_joint: float | None
    cut_back: float = 0.0

    @property
    def piece(self) -> float:
        """Length of liner to buy and set on, 0 for none: it makes up for what is cut off as well."""
        return self.extension + self.cut_back if self.extension > 0 else 0.0


@dataclass(frozen=True, slots=True)
class Drip:
    """The groove under the edge: leg of the quarter-round, distance from its inner edge to the proudest stone per
    side, lip of concrete outside it, and its centre line (4,2) on the soffit. The moulding lies with a flat on the
    soffit board and its round side outward, so that the lip is thickest at its root.
    """

    size: float
    setback: tuple[float, ...]
    lip: float
    line: Array


@dataclass(frozen=True, slots=True)
class SteelPiece:
    """One length of ladder-type joint reinforcement: centre line from ``start`` to ``end`` in plan, its level,
    ``length`` with its laps, ``lap`` at an end, ``cover`` the least concrete beside, under or over a wire; ``single``
    where one wire lies alone in a narrow strip.
    """

    name: str
    start: tuple[float, float]
    end: tuple[float, float]
    level: float
    length: float
    lap: float = 0.0
    cover: float | None = None
    single: bool = False


@dataclass(frozen=True, slots=True)
class Volumes:
    """m3 of concrete: ``all`` with its standard error; ``lower`` the first lift (edge, drip and fill up to the
    edge's top), ``upper`` the wash; ``box_rule`` what greatest length by width by one average depth would have
    said. ``from_top`` is the part of the standard error that comes from the stone's top: what more drops would shrink.
    """

    all: Uncertain
    lower: float
    upper: float
    box_rule: float
    from_top: float = 0.0


@dataclass(frozen=True, slots=True)
class CapDesign:
    """The cap. ``corners`` (4,2) of its outer edge, counter-clockwise, side 0 facing the survey's AB side; levels
    above the string: ``soffit`` underside, ``edge`` top of the outer edge, ``crest`` highest of the wash. ``top``
    is the finished surface with the flues' holes cut out. ``least_slope`` is the flattest facet. ``sheds`` is
    proved on ``top``.
    """

    choices: CapChoices
    corners: Array
    turn: float
    length: float
    width: float
    sides: tuple[SideFit, ...]
    soffit: float
    edge: float
    crest: float
    edge_board: str
    edge_thickness: float
    top: Surface
    least_slope: float
    sheds: bool
    cover_least: Uncertain
    flues: tuple[FlueFit, ...]
    drip: Drip | None
    steel: tuple[SteelPiece, ...]
    base: Literal["bonded", "slip sheet"]
    volume: Volumes
    weight: Uncertain
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]
