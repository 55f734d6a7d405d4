"""The tapes of a top: its sides and diagonals, the ties of its flues, and what the survey asks for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from crownwright.service.up_top.model import Ask, Step
from crownwright.service.up_top.typed import is_plain, others, plain_item, typed_text
from crownwright.survey.model import NextReading
from crownwright.survey.names import LETTERS


class Tapes:
    """The tapes as typed, handed out pair by pair."""

    def __init__(self, items: list[Any]) -> None:
        self.items = [item if isinstance(item, Mapping) else {} for item in items]
        self.left = dict.fromkeys(range(len(items)))

    def _same(self, start: str, end: str) -> list[int]:
        return [i for i, t in enumerate(self.items) if {t.get("start"), t.get("end")} == {start, end}]

    def step(self, start: str, end: str, why: str) -> Step:
        """The first tape between two points, taken or not."""
        found = next((i for i in self._same(start, end) if i in self.left), None)
        if found is not None:
            return self._taken(found, why)
        return self._new(start, end, f"Tape {start} to {end}", why, f"tape:{start}-{end}")

    def wanted(self, reading: NextReading) -> Step | None:
        """A tape that the survey asks for: one more between these points."""
        if reading.kind != "tape":
            return None
        before = self._same(reading.start, reading.end)
        key = f"tape:{reading.start}-{reading.end}" + (f"#{len(before) + 1}" if before else "")
        start, end = reading.start, reading.end
        if before:  # as it was called before
            start, end = (str(self.items[before[0]].get(k)) for k in ("start", "end"))
        return self._new(start, end, reading.ask, reading.gains, key, wanted=True)

    def rest(self) -> Iterator[Step]:
        """Tapes that were typed beside those planned."""
        for i in list(self.left):
            yield self._taken(i, "one more tape checks the others")

    def _taken(self, i: int, why: str) -> Step:
        self.left.pop(i, None)
        item = self.items[i]
        start, end = (str(item.get(k, "?")) for k in ("start", "end"))
        again = [j for j in self._same(start, end) if j <= i]
        nth = f"#{len(again)}" if len(again) > 1 else ""
        name = pair_name(start, end) + (" again" if nth else "")
        return Step(
            f"tape:{start}-{end}{nth}", "tape", name, f"Tape {start} to {end}", why, f"readings.tapes[{i}]",
            (Ask("reads", name, typed_text(item.get("reads"))),), others(item, ("reads",)), plain_item(item), start, end,
        )  # fmt: skip

    def _new(self, start: str, end: str, ask: str, why: str, key: str, wanted: bool = False) -> Step:
        nth = 1 + sum(t.get("start") == start and t.get("end") == end for t in self.items)
        path = f"readings.tapes[start={start},end={end}{f'#{nth}' if nth > 1 else ''}]"
        path = path if is_plain(start) and is_plain(end) else "readings.tapes[+]"
        name = pair_name(start, end) + (" again" if "#" in key else "")
        fixed = {"start": start, "end": end}
        return Step(key, "tape", name, ask, why, path, (Ask("reads", name),), fixed, None, start, end, wanted=wanted)


def pair_name(start: str, end: str) -> str:
    """Two points as a mason says them.

    >>> pair_name("A", "B"), pair_name("A", "F1a")
    ('AB', 'A to F1a')
    """
    return start + end if len(start) == len(end) == 1 else f"{start} to {end}"


def corner_tapes(corners: tuple[str, ...], tapes: Tapes) -> Iterator[Step]:
    """Sides, then diagonals."""
    n = len(corners)
    for i in range(n):
        yield tapes.step(corners[i], corners[(i + 1) % n], "a side of the stone, from corner to corner")
    pairs = {tuple(sorted((i, (i + 2) % n))): None for i in range(n)} if n > 3 else {}
    for i, j in sorted(pairs):
        yield tapes.step(corners[i], corners[j], "a diagonal: it squares the sides up and shows whether they fit")


def ties(flue: Any, corners: tuple[str, ...], tapes: Tapes) -> Iterator[Step]:
    """Tapes that place a flue: each of its corners from the corner it looks at; a round one's centre from up to four."""
    own = points(flue)
    n = len(corners)
    for k in range(min(n, 4)):
        point = own[k] if len(own) == 4 else own[0] if own else ""
        if point:
            corner = corners[k if n <= 4 else (k * n) // 4]
            yield tapes.step(corner, point, f"places {flue.get('name')}")


def points(flue: Any) -> tuple[str, ...]:
    """Names of the points a flue is tied by."""
    if not isinstance(flue, Mapping) or not isinstance(flue.get("name"), str):
        return ()
    name = flue["name"]
    return (name,) if flue.get("shape") == "round" else tuple(name + letter for letter in LETTERS)
