"""Where on the paper something stands already, so that the next label goes where it can be read."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeVar

import shapely

from crownwright.sheets.draw.plane import length, minus
from crownwright.sheets.draw.shapes import Point

Choice = TypeVar("Choice")
_WORD_COST = 25.0  # for each mm2 of another text covered
_LINE_COST = 1.0  # for each mm of a line covered
_WAIT_COST = 0.15  # for each place passed over: the first choices look best


class Taken:
    """Texts and lines already on the paper, in mm. One is made for each drawing while its labels are set."""

    def __init__(self) -> None:
        self._texts: list[shapely.Polygon] = []
        self._lines: list[shapely.LineString] = []

    def text(self, corners: Sequence[Point]) -> None:
        """Note the room a text takes."""
        self._texts.append(shapely.Polygon(corners))

    def line(self, *points: Point) -> None:
        """Note a line."""
        if any(length(minus(point, points[0])) > 0 for point in points[1:]):
            self._lines.append(shapely.LineString(points))

    def best(self, places: Iterable[tuple[Sequence[Point], Choice]]) -> Choice:
        """Return the choice whose room covers least of what stands already, earlier ones preferred, and take that room.

        Raises ValueError when there are no places.
        """
        rooms = [(shapely.Polygon(corners), choice) for corners, choice in places]
        costs = [self._cost(room) + i * _WAIT_COST for i, (room, _) in enumerate(rooms)]
        room, choice = rooms[costs.index(min(costs))]
        self._texts.append(room)
        return choice

    def _cost(self, room: shapely.Polygon) -> float:
        texts = shapely.area(shapely.intersection(self._texts, room)).sum() if self._texts else 0.0
        lines = shapely.length(shapely.intersection(self._lines, room)).sum() if self._lines else 0.0
        return _WORD_COST * float(texts) + _LINE_COST * float(lines)
