"""Where on the paper something stands already, so that the next label goes where it can be read."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeVar

import shapely

from crownwright.sheets.draw.plane import Box, box_of, length, minus
from crownwright.sheets.draw.shapes import Point

Choice = TypeVar("Choice")
_WORD_COST = 25.0  # for each mm2 of another text covered
_LINE_COST = 1.0  # for each mm of a line covered
_WAIT_COST = 0.15  # for each place passed over: the first choices look best
_LEGIBLE = 1.2  # mm2 of other texts that a label may cover at most and both still be read


class Taken:
    """Texts and lines already on the paper, in mm. One is made for each drawing while its labels are set."""

    def __init__(self) -> None:
        self._texts: list[shapely.Polygon] = []
        self._lines: list[shapely.LineString] = []
        self._text_boxes: list[Box] = []
        self._line_boxes: list[Box] = []

    def text(self, corners: Sequence[Point]) -> None:
        """Note the room a text takes."""
        self._texts.append(shapely.Polygon(corners))
        self._text_boxes.append(box_of(corners))

    def line(self, *points: Point) -> None:
        """Note a line."""
        if any(length(minus(point, points[0])) > 0 for point in points[1:]):
            self._lines.append(shapely.LineString(points))
            self._line_boxes.append(box_of(points))

    def best(self, places: Iterable[tuple[Sequence[Point], Choice]]) -> Choice:
        """Return the choice whose room covers least of what stands already, earlier ones preferred, and take that room.

        Raises ValueError when there are no places.
        """
        _, corners, choice = self._least(places)
        self.text(corners)
        return choice

    def legible(self, places: Iterable[tuple[Sequence[Point], Choice]]) -> Choice | None:
        """Return the best choice as `best` does; None, and no room is taken, where even that would hide another text.

        Raises ValueError when there are no places.
        """
        words, corners, choice = self._least(places)
        if words > _LEGIBLE:
            return None
        self.text(corners)
        return choice

    def _least(self, places: Iterable[tuple[Sequence[Point], Choice]]) -> tuple[float, Sequence[Point], Choice]:
        """The best of some places: mm2 of other texts it covers, its room, and the choice."""
        best: tuple[float, tuple[float, Sequence[Point], Choice]] | None = None
        for i, (corners, choice) in enumerate(places):
            words, lines = self._covered(corners)
            cost = _WORD_COST * words + _LINE_COST * lines + i * _WAIT_COST
            if best is None or cost < best[0]:
                best = cost, (words, corners, choice)
            if words == lines == 0.0:
                break  # whatever comes later has waited longer
        if best is None:
            raise ValueError("no place was offered")
        return best[1]

    def _covered(self, corners: Sequence[Point]) -> tuple[float, float]:
        """What a room covers: mm2 of texts, mm of lines."""
        around = box_of(corners)
        texts = [text for text, box in zip(self._texts, self._text_boxes, strict=True) if _meet(box, around)]
        lines = [line for line, box in zip(self._lines, self._line_boxes, strict=True) if _meet(box, around)]
        if not texts and not lines:
            return 0.0, 0.0
        room = shapely.Polygon(corners)
        covered = shapely.area(shapely.intersection(texts, room)).sum() if texts else 0.0
        crossed = shapely.length(shapely.intersection(lines, room)).sum() if lines else 0.0
        return float(covered), float(crossed)


def _meet(a: Box, b: Box) -> bool:
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]
