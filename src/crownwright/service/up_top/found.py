"""What was found on a chimney, as it stands in a job half typed: every place where a thing may be found, and all that was."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from crownwright.repair.defects import Defect, defects
from crownwright.service.up_top.lines import corners_of, items_of
from crownwright.service.up_top.typed import Values, is_plain, plain_item, typed_text
from crownwright.survey.names import side_names

PLACES = ("face", "flue")


@dataclass(frozen=True, slots=True)
class Measure:
    """One thing told of a finding: its ``key`` in the job file, what it is called, what it is (a "length", a "count", a "text"),
    and what is ``typed`` there.
    """

    key: str
    label: str
    kind: Literal["length", "count", "text"]
    typed: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """A thing at a place, found or not. ``key`` names it for good, ``name`` is said to the mason, ``where`` is its place ("AB",
    "F1", or "" for the chimney); ``path`` leads to it in the job file, where it says ``item``; ``found`` whether it stands
    there; ``tells`` what more can be told of it; ``photos`` the names of its photos.
    """

    key: str
    name: str
    where: str
    path: str
    item: Mapping[str, Any]
    found: bool
    tells: tuple[Measure, ...]
    photos: tuple[str, ...] = ()

    @property
    def says(self) -> str:
        """What was told of it, in the order it is asked."""
        return ", ".join(f"{one.label.lower()} {one.typed}" for one in self.tells if one.typed)


def places_of(values: Values) -> dict[str, list[tuple[Defect, list[Finding]]]]:
    """Part by part every kind with each place it may be found at, first of its kind there."""
    parts: dict[str, list[tuple[Defect, list[Finding]]]] = {}
    for kind in defects().values():
        here = [_finding(kind, says, _those(values, says), 1) for says in _says(kind, values)]
        parts.setdefault(kind.part, []).append((kind, here))
    return parts


def found_of(values: Values) -> tuple[Finding, ...]:
    """All that was found, in the order of the list of kinds; several of one kind at one place by number."""
    out = []
    for kind in defects().values():
        for says in _says(kind, values):
            those = _those(values, says)
            out += [_finding(kind, says, those, n) for n in range(1, len(those) + 1)]
    return tuple(out)


def finding_of(values: Values, key: str) -> Finding | None:
    """The finding of a key, found already or to be found; None where nothing has that key."""
    name, _, number = key.partition("#")
    nth = int(number) if number.isdecimal() and len(number) < 3 else 1
    for kind in defects().values():
        for says in _says(kind, values):
            if "|".join(says.values()) == name:
                those = _those(values, says)
                return _finding(kind, says, those, nth) if 1 <= nth <= len(those) + 1 else None
    return None


def next_there(values: Values, one: Finding) -> str:
    """The key of one more of the same kind at the same place."""
    name = one.key.partition("#")[0]
    return f"{name}#{1 + sum(other.key.partition('#')[0] == name for other in found_of(values))}"


def _finding(kind: Defect, says: Mapping[str, str], those: Sequence[Values], nth: int) -> Finding:
    item: Values = those[nth - 1] if nth <= len(those) else {}
    which = ",".join(f"{key}={value}" for key, value in says.items())
    end = f"#{nth}" if nth > 1 else ""
    where = next((says[place] for place in PLACES if place in says), "")
    photos = item.get("photos")
    return Finding(
        "|".join(says.values()) + end,
        kind.name.capitalize() + (f" on {where}" if where else "") + (f", {nth}" if nth > 1 else ""),
        where,
        f"repair.seen[{which}{end}]",
        plain_item(item) or dict(says),
        bool(item),
        tuple(_tells(kind, item)),
        tuple(str(name) for name in photos) if isinstance(photos, list) else (),
    )


def _tells(kind: Defect, item: Values) -> Iterator[Measure]:
    lengths = (
        ("measure", kind.measure), ("over", kind.over), ("offset", "one side out of the other by" if kind.offset else ""),
        ("along", "how far along the face" if kind.place == "face" else ""),
    )  # fmt: skip
    for key, label in lengths:
        if label:
            yield Measure(key, label.capitalize(), "length", typed_text(item.get(key)))
    if kind.place == "face":
        yield Measure("course", "Course from the top", "count", typed_text(item.get("course")))
        yield Measure("to_course", "Down to course", "count", typed_text(item.get("to_course")))
    yield Measure("note", "A word on it", "text", typed_text(item.get("note")))


def _says(kind: Defect, values: Values) -> Iterator[dict[str, str]]:
    """Where a thing may be found: on each face, at each flue, or once."""
    table = values.get("readings")
    table = table if isinstance(table, Mapping) else {}
    if kind.place == "face":
        names = list(side_names(corners_of(table)))
    elif kind.place == "flue":
        names = [str(flue.get("name", "")) for flue in items_of(table, "flues") if isinstance(flue, Mapping)]
    else:
        yield {"what": kind.name}
        return
    yield from ({"what": kind.name, kind.place: name} for name in dict.fromkeys(names) if is_plain(name))


def _those(values: Values, says: Mapping[str, str]) -> list[Values]:
    """The items that say so."""
    repair = values.get("repair")
    seen = items_of(repair, "seen") if isinstance(repair, Mapping) else []
    return [one for one in seen if isinstance(one, Mapping) and all(str(one.get(key)) == told for key, told in says.items())]
