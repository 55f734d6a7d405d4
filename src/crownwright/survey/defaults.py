"""What the survey takes for granted where the mason says nothing: standard errors of readings, slips, how masonry lumps.

The numbers are data (`defaults.toml`), each with its reason; they are judgements and may be changed reading by reading
(`Length.sd`).
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from math import hypot, sqrt
from typing import Any, Literal

from crownwright.quantity.units import INCH
from crownwright.sources.tables import pick
from crownwright.survey.readings import Length, MasonryKind

ReadingKind = Literal["tape", "flue_size", "offset", "drop", "flue_top", "along"]


@dataclass(frozen=True, slots=True)
class Masonry:
    """How one kind of masonry lumps, all in metres; see ``defaults.toml`` for what each entry means."""

    face_sd: float
    stone: tuple[float, float]
    top_sd: float
    top_factor: float
    bow: tuple[float, float]
    tilt: float
    drop: tuple[float, float]


@cache
def _data() -> dict[str, Any]:
    return tomllib.loads(resources.files(__package__ or "").joinpath("defaults.toml").read_text("utf-8"))


@cache
def default_sd(kind: ReadingKind) -> float:
    """Return the standard error (m) of a reading of this kind: the hand's error and the rounding to its step together.

    Rounding to a step h adds a uniform error with variance h^2/12.

    >>> round(default_sd("tape") / INCH, 4)
    0.1301
    """
    row = pick(_data()["readings"], kind, "kind of reading")
    return hypot(row["sd"], row["step"] / sqrt(12.0)) * INCH


def sd_of(reads: Length, kind: ReadingKind) -> float:
    """Return the standard error (m) of a reading: the mason's own where he gave one, else the default of its kind."""
    return default_sd(kind) if reads.sd is None else reads.sd


@cache
def slip_share(kind: str) -> float:
    """Return a chance of `defaults.toml`, section slips, by name."""
    return float(pick(_data()["slips"], kind, "kind of slip")["value"])


@cache
def masonry(kind: MasonryKind) -> Masonry:
    """Return how this kind of masonry lumps (m).

    >>> round(masonry("rubble stone").face_sd / INCH, 3)
    0.55
    """
    row = pick(_data()["masonry"], kind, "kind of masonry")
    low, high = (w * INCH for w in row["stone"])
    bow, drop = ((v[0] * INCH, v[1] * INCH) for v in (row["bow"], row["drop"]))
    return Masonry(row["face_sd"] * INCH, (low, high), row["top_sd"] * INCH, row["top_factor"], bow, row["tilt"] * INCH, drop)
