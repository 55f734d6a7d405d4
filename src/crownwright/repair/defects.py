"""What is found on a chimney, by name: where it belongs, what is measured of it, how bad it is called, what it calls for."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Any, Literal

from crownwright.quantity.units import INCH
from crownwright.quantity.working import Cite
from crownwright.sources.tables import pick

SOUND = "sound"
"""What is entered where nothing was found wrong with a place."""
Place = Literal["cap", "face", "flue", "flashing", "stack"]
_UNITS = MappingProxyType({"in": INCH, "mm": 0.001})


@dataclass(frozen=True, slots=True)
class Grade:
    """One grade of a finding: from which measure (m) it begins, or from which size across (``over_from``, m); ``offset`` when a
    step between the two sides is enough for it. ``call`` in a word, ``do`` as an instruction; ``fine`` asks for nothing;
    ``blocks`` keeps a cap from being cast until ``see`` has looked. ``local`` says by whose rule it begins there, where that
    is not the published one.
    """

    name: str
    begins: float
    call: str
    do: str
    cite: Cite
    fine: bool = False
    blocks: bool = False
    offset: bool = False
    over_from: float | None = None
    see: str = ""
    local: str = ""


@dataclass(frozen=True, slots=True)
class Defect:
    """One kind of finding. ``measure`` and ``over`` say what is measured ("" for nothing), ``most`` the largest that is believed,
    m. ``causes`` are names of other defects and causes in plain words; ``leak`` when it is a sign of water and no cause itself.
    """

    name: str
    part: str
    place: Place
    says: str
    measure: str
    over: str
    most: float | None
    offset: bool
    causes: tuple[str, ...]
    leak: bool
    grades: tuple[Grade, ...]

    @property
    def may_block(self) -> bool:
        """Whether its worst grade keeps a cap from being cast."""
        return any(grade.blocks for grade in self.grades)

    def grade(self, measure: float | None, over: float | None = None, offset: float | None = None) -> Grade | None:
        """Return the worst grade that the measures (m) reach; None where they do not tell.

        A step between the two sides, or the size across, may make it worse than the measure alone.
        """
        known = [grade for grade in self.grades if self._reaches(grade, measure, over, offset)]
        if known and (measure is not None or known[-1] is self.grades[-1]):
            return known[-1]
        return self.grades[0] if len(self.grades) == 1 else None

    def _reaches(self, grade: Grade, measure: float | None, over: float | None, offset: float | None) -> bool:
        by_measure = measure is not None and measure >= grade.begins - 1e-9
        by_over = grade.over_from is not None and over is not None and over > grade.over_from
        return by_measure or by_over or (grade.offset and offset is not None and offset > 0)


@cache
def defects() -> Mapping[str, Defect]:
    """Return every kind of finding by name, in the order of the chimney from the top down."""
    raw = tomllib.loads(resources.files(__package__ or "").joinpath("defects.toml").read_text("utf-8"))
    return MappingProxyType({name: _defect(name, row) for name, row in raw.items()})


def defect(name: str) -> Defect:
    """Return one kind of finding; KeyError lists those there are.

    >>> crack = defect("cap crack")
    >>> crack.grade(0.02 * INCH).name, crack.grade(0.001 * INCH, offset=0.001).call
    ('open', 'recast')
    """
    return pick(defects(), name, "finding")


def _defect(name: str, row: Mapping[str, Any]) -> Defect:
    size = _UNITS[row.get("unit", "in")]
    most = row.get("most")
    return Defect(
        name=name,
        part=row["part"],
        place=row["place"],
        says=row["says"],
        measure=row.get("measure", ""),
        over=row.get("over", ""),
        most=None if most is None else most * size,
        offset=row.get("offset", False),
        causes=tuple(row["causes"]),
        leak=row.get("leak", False),
        grades=tuple(_grade(one, size) for one in row["grades"]),
    )


def _grade(row: Mapping[str, Any], size: float) -> Grade:
    across = row.get("over_from")
    return Grade(
        name=row["grade"],
        begins=row.get("from", 0) * size,
        call=row["call"],
        do=row["do"],
        cite=Cite(row["document"], row.get("clause", ""), row.get("standing", "read")),
        fine=row.get("fine", False),
        blocks=row.get("blocks", False),
        offset=row.get("offset", False),
        over_from=None if across is None else across * size,
        see=row.get("see", ""),
    )
