"""A small true top to read from: corners, flues, stone; the readings come out exact, rounded, or with errors, as asked."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from itertools import combinations

import numpy as np
import pytest

from crownwright.quantity.units import INCH
from crownwright.survey.readings import AtCorner, Drop, Flue, Length, Offset, OnSide, Readings, Tape


@dataclass
class TrueTop:
    """Corners and flue rings in inches; ``sd`` of the tape in inches, ``step`` that it is read to (0: as it is)."""

    corners: dict[str, tuple[float, float]]
    flues: dict[str, tuple[float, float, float, float, float]] = field(default_factory=dict)  # x, y, turn, along, across
    rounds: dict[str, tuple[float, float, float]] = field(default_factory=dict)  # x, y, diameter
    sd: float = 0.0
    step: float = 0.0
    seed: int = 1

    def __post_init__(self) -> None:
        self.rng = np.random.default_rng(self.seed)

    def at(self, name: str) -> np.ndarray:
        if name in self.corners:
            return np.array(self.corners[name])
        if name in self.rounds:
            return np.array(self.rounds[name][:2])
        x, y, turn, along, across = self.flues[name[:-1]]
        box = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])["abcd".index(name[-1])] * np.array([along, across]) / 2
        c, s = np.cos(turn), np.sin(turn)
        return np.array([x, y]) + box @ np.array([[c, s], [-s, c]])

    def length(self, inches: float, typed: str | None = None) -> Length:
        read = inches + self.sd * self.rng.standard_normal()
        read = round(read / self.step) * self.step if self.step else read
        return Length(read * INCH, f"{read:g} in" if typed is None else typed)

    def tape(self, start: str, end: str, slip: float = 0.0) -> Tape:
        reads = self.length(float(np.hypot(*(self.at(end) - self.at(start)))))
        return Tape(start, end, Length(reads.metres + slip * INCH, f"{reads.metres / INCH + slip:g} in"))

    def ties(self, *names: str) -> tuple[Tape, ...]:
        """Ties of flues: each corner to the chimney corner it looks at; a round one from every corner."""
        letters = list(self.corners)
        out = []
        for name in names or (*self.flues, *self.rounds):
            pairs = (
                [(c, name) for c in letters]
                if name in self.rounds
                else [(c, name + s) for c, s in zip(letters, "abcd", strict=False)]
            )
            out += [self.tape(a, b) for a, b in pairs]
        return tuple(out)

    def all_tapes(self) -> tuple[Tape, ...]:
        """Every side and diagonal, and the ties of every flue."""
        return (*(self.tape(a, b) for a, b in combinations(self.corners, 2)), *self.ties())

    def flue_readings(self) -> tuple[Flue, ...]:
        out = []
        for name, (_, _, _, along, across) in self.flues.items():
            out.append(Flue(name, "rectangular", (self.length(along), self.length(across)), Length(10 * INCH, "10 in")))
        for name, (_, _, diameter) in self.rounds.items():
            out.append(Flue(name, "round", (self.length(diameter),), Length(10 * INCH, "10 in")))
        return tuple(out)

    def readings(self, tapes: tuple[Tape, ...] | None = None, **more: object) -> Readings:
        chosen = self.all_tapes() if tapes is None else tapes
        return Readings(tuple(self.corners), "rubble stone", chosen, flues=self.flue_readings(), **more)  # type: ignore[arg-type]


QUAD = {"A": (0.0, 0.0), "B": (48.0, 0.0), "C": (47.5, 36.8), "D": (-0.6, 36.1)}
PENTAGON = {"A": (0.0, 0.0), "B": (40.0, 0.0), "C": (52.0, 26.0), "D": (20.0, 44.0), "E": (-10.0, 25.0)}
TRIANGLE = {"A": (0.0, 0.0), "B": (50.0, 0.0), "C": (20.0, 40.0)}


@pytest.fixture
def quad() -> TrueTop:
    return TrueTop(QUAD, {"F1": (22.0, 18.5, 0.02, 13.0, 8.5)})


@pytest.fixture
def bare() -> TrueTop:
    return TrueTop(QUAD)


@pytest.fixture
def make_top() -> Callable[..., TrueTop]:
    return TrueTop


@pytest.fixture
def shapes() -> dict[str, dict[str, tuple[float, float]]]:
    return {"quad": QUAD, "pentagon": PENTAGON, "triangle": TRIANGLE}


@pytest.fixture
def whole(quad: TrueTop) -> Readings:
    """A usual job, read exactly: all tapes, the proudest and one more offset a side, the looked-for drops and seven more."""

    def inches(x: float) -> Length:
        return Length(x * INCH, f"{x:g} in")

    sides = ("AB", "BC", "CD", "DA")
    offsets = [Offset(s, inches(12.0 + 3 * k), inches(0.75 - 0.25 * k), proudest=True) for k, s in enumerate(sides)]
    offsets += [Offset(s, inches(26.0), inches(-0.5)) for s in sides]
    drops = [Drop(OnSide("AB", inches(20), inches(6)), inches(1.0), "highest")]
    drops += [Drop(OnSide(s, inches(10.0 + k)), inches(3.0 + 0.25 * k), "lowest edge") for k, s in enumerate(sides)]
    drops += [Drop(AtCorner(c), inches(2.25 + 0.25 * k)) for k, c in enumerate("ABCD")]
    drops += [Drop(OnSide("AB", inches(x), inches(y)), inches(2.5)) for x, y in ((38, 18), (8, 18), (30, 30))]
    return replace(quad.readings(), offsets=tuple(offsets), drops=tuple(drops))
