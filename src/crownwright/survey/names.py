"""What the points, sides and flues of a top are called, and where they stand in arrays."""

from __future__ import annotations

from dataclasses import dataclass

from crownwright.survey.readings import Flue, Readings

LETTERS = "abcd"


@dataclass(frozen=True, slots=True)
class Names:
    """Corners, sides and tie points in a fixed order.

    ``points`` maps every name a tape may start or end at to its row: the corners first, then flue by flue its four corners
    (``F1a`` ... ``F1d``) or its centre (``F1``). ``sides`` maps "AB" to 0 and so on; ``first_row`` gives each flue's first row.
    """

    corners: tuple[str, ...]
    flues: tuple[Flue, ...]
    points: dict[str, int]
    sides: dict[str, int]
    first_row: tuple[int, ...]


def names_of(readings: Readings) -> Names:
    """Number the points of a set of readings; of two with one name the first is kept (the check tells of the second).

    >>> names_of(Readings(("A", "B", "C"), "brick")).sides
    {'AB': 0, 'BC': 1, 'CA': 2}
    """
    corners = readings.corners
    points: dict[str, int] = {}
    for corner in corners:
        points.setdefault(corner, len(points))
    row, first = len(corners), []
    for flue in readings.flues:
        first.append(row)
        for name in flue_points(flue):
            points.setdefault(name, row)
            row += 1
    return Names(corners, readings.flues, points, side_names(corners), tuple(first))


def side_names(corners: tuple[str, ...]) -> dict[str, int]:
    """Map the name of each side to the index of its first corner."""
    return {a + b: i for i, (a, b) in enumerate(zip(corners, corners[1:] + corners[:1], strict=True))}


def flue_points(flue: Flue) -> tuple[str, ...]:
    """Names of the points by which a flue is tied.

    >>> from crownwright.survey.readings import Length
    >>> flue_points(Flue("F1", "round", (Length(0.3),), Length(0.2)))
    ('F1',)
    """
    return (flue.name,) if flue.shape == "round" else tuple(flue.name + letter for letter in LETTERS)
