"""What the mason reads on the roof, as he read it.

Corners are lettered in order walking round with the chimney on the left hand (counter-clockwise seen from above): A, B, C, D ...
A side is named by its two corners, in that order ("AB", "BC", ... , "DA"). The flue corner that looks at A is ``F1a``, the one
that looks at B ``F1b``, and so on; the centre of a round flue is ``F1``.

All lengths are metres; ``typed`` keeps the text exactly as entered; ``sd`` is the standard error of one reading, None for the
default of its kind (`survey.defaults`). Nothing here is checked: `survey.check` returns the problems.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

MasonryKind = Literal["rubble stone", "squared stone", "brick"]
Lumpiness = Literal["smooth", "ordinary", "wild"]


@dataclass(frozen=True, slots=True)
class Length:
    """A length as read: metres, the text as typed, and the reading's own standard error where the mason gave one."""

    metres: float
    typed: str = ""
    sd: float | None = None


@dataclass(frozen=True, slots=True)
class Tape:
    """A taped distance between two named points."""

    start: str
    end: str
    reads: Length


@dataclass(frozen=True, slots=True)
class Offset:
    """How far the face stands out (+) or in (-) of the corner-to-corner string of a side.

    ``along`` is the distance from the side's first corner. ``proudest`` says that he looked along the side and nothing on it
    stands further out than this.
    """

    side: str
    along: Length
    out: Length
    proudest: bool = False


@dataclass(frozen=True, slots=True)
class AtCorner:
    """A place on the stone's edge at a named corner."""

    corner: str


@dataclass(frozen=True, slots=True)
class OnSide:
    """A place by side: so far along from its first corner, so far in from the string (0 is the edge itself)."""

    side: str
    along: Length
    inward: Length = field(default_factory=lambda: Length(0.0, "0"))


@dataclass(frozen=True, slots=True)
class ByTies:
    """A place by two tapes from named points; of the two possible places the one inside the outline is meant."""

    first: str
    first_reads: Length
    second: str
    second_reads: Length


Place = AtCorner | OnSide | ByTies
Extreme = Literal["highest", "lowest edge"]


@dataclass(frozen=True, slots=True)
class Drop:
    """How far the stone lies below (+) or above (-) the level string at a place.

    ``extreme`` marks a place that was looked for: "highest", no stone of the top stands higher; "lowest edge", no sound edge
    of this side lies lower.
    """

    place: Place
    below: Length
    extreme: Extreme | None = None


@dataclass(frozen=True, slots=True)
class Flue:
    """A flue liner standing out of the stone.

    Rectangular: ``outside`` is (along a-b, along b-c), ``inside`` likewise or None. Round: ``outside`` is (diameter,).
    ``above_string`` is how far its top stands above the level string. It is placed by tapes to its corners (``F1a`` ...) or,
    round, to its centre (``F1``).
    """

    name: str
    shape: Literal["rectangular", "round"]
    outside: tuple[Length, ...]
    above_string: Length
    inside: tuple[Length, ...] = ()
    serves: str = ""
    nominal: str = ""


@dataclass(frozen=True, slots=True)
class Readings:
    """One climb's readings of the top. ``corners`` in order round, from three up."""

    corners: tuple[str, ...]
    masonry: MasonryKind
    tapes: tuple[Tape, ...] = ()
    offsets: tuple[Offset, ...] = ()
    drops: tuple[Drop, ...] = ()
    flues: tuple[Flue, ...] = ()


@dataclass(frozen=True, slots=True)
class QuickReadings:
    """The doorstep survey: greatest length and width over the lumps, the flues by outside size and how far they stand above
    the stone, and how lumpy it looks. Good enough to talk price, with a wide band.
    """

    length: Length
    width: Length
    flues: tuple[Flue, ...]
    masonry: MasonryKind
    lumpiness: Lumpiness = "ordinary"


@dataclass(frozen=True, slots=True)
class HigherThing:
    """Something near that rises above: how far away from the nearest flue (horizontally) and how far its top stands above the
    level string (negative: below).
    """

    what: str
    away: float
    above_string: float


@dataclass(frozen=True, slots=True)
class Surroundings:
    """The roof and site round the chimney; metres and radians; None where it was not read.

    ``roof_pitch`` angle of the roof; ``ridge_away`` horizontal distance from the nearest chimney face to the ridge;
    ``roof_below_string`` how far below the string the roof meets the chimney on its uphill side; ``roof_below_string_low`` on
    its downhill side; ``eave_height`` of the eave above ground; ``top_height`` of the string above ground; ``width_along_ridge``
    of the stack at the roof; ``stack_least_width`` least plan size of the stack where it leaves the roof. ``ab_faces`` which way
    side AB looks, clockwise from north; ``ridge_side`` the side that looks to the ridge.
    """

    roof_pitch: float | None = None
    ridge_away: float | None = None
    roof_below_string: float | None = None
    roof_below_string_low: float | None = None
    eave_height: float | None = None
    top_height: float | None = None
    width_along_ridge: float | None = None
    stack_least_width: float | None = None
    higher: tuple[HigherThing, ...] = ()
    latitude: float | None = None
    longitude: float | None = None
    elevation: float | None = None
    exposure: Literal["B", "C", "D"] | None = None
    wind_speed: float | None = None  # m/s, 3 s gust for the site's risk category
    ground_snow: float | None = None  # Pa
    ab_faces: float | None = None
    ridge_side: str | None = None
