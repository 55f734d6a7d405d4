"""From which measure a finding is how bad, where the local authority has its own rule for it: laid over the published grades."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise
from types import MappingProxyType

from crownwright.codes.cap_rules import Rule
from crownwright.quantity.both import both
from crownwright.quantity.units import INCH
from crownwright.quantity.working import Cite
from crownwright.repair.defects import Defect, Grade, defects
from crownwright.sources.bibliography import spell

MARK = "repair."
"""What the names of these rules begin with."""
TOGETHER = "repair.masonry cracks together"
CRACKS_TOGETHER = 0.25 * INCH
"""Small cracks of one face that add up to this are an engineer's, m."""
CRACKS = Cite("inspection_guides", "wall crack sizes: small ones that sum to 1/4 in.")


@dataclass(frozen=True, slots=True)
class Threshold:
    """The ``grade`` of the finding ``of`` that begins at ``begins`` (m), by ``cite``."""

    of: str
    grade: str
    begins: float
    cite: Cite


@cache
def thresholds() -> Mapping[str, Threshold]:
    """Return every threshold by the name of its rule: the finding, and its grade where it has more than two.

    >>> [round(thresholds()[name].begins / INCH, 4) for name in ("repair.masonry crack", "repair.cap crack.open")]
    [0.125, 0.012]
    """
    found = {TOGETHER: Threshold("masonry crack", "together", CRACKS_TOGETHER, CRACKS)}
    for name, kind in defects().items():
        for grade in kind.grades:
            if grade.begins > 0:
                key = f"{MARK}{name}" if len(kind.grades) == 2 else f"{MARK}{name}.{grade.name}"
                found[key] = Threshold(name, grade.name, grade.begins, grade.cite)
    return MappingProxyType(found)


def local_grades(rules: Sequence[Rule]) -> Mapping[str, Defect]:
    """Return every kind of finding with the grades that local rules let begin elsewhere; each such grade says by whom and why."""
    moved = {rule.name: rule for rule in rules if rule.name in thresholds() and rule.at_least is not None}
    if not moved:
        return defects()
    kinds = defects().items()
    return {name: replace(kind, grades=tuple(_grade(kind, grade, moved) for grade in kind.grades)) for name, kind in kinds}


def together(rules: Sequence[Rule]) -> Threshold:
    """Return from which sum on the small cracks of one face are an engineer's."""
    usual = thresholds()[TOGETHER]
    own = next((rule for rule in rules if rule.name == TOGETHER and rule.at_least is not None), None)
    return usual if own is None or own.at_least is None else replace(usual, begins=own.at_least, cite=own.cite)


def out_of_order(rules: Sequence[Rule]) -> Iterator[tuple[str, str]]:
    """Yield each local rule by which a worse grade would begin before the one it is worse than: its name, and what is wrong."""
    grades = local_grades(rules)
    own = {rule.name for rule in rules}
    for name, one in thresholds().items():
        kind = grades.get(one.of)
        if name in own and name != TOGETHER and kind is not None:
            for slight, bad in pairwise(kind.grades):
                if one.grade in (slight.name, bad.name) and bad.begins <= slight.begins:
                    yield name, f"“{bad.name}” would begin at {both(bad.begins)}, “{slight.name}” at {both(slight.begins)}"


def _grade(kind: Defect, grade: Grade, moved: Mapping[str, Rule]) -> Grade:
    names = (name for name, one in thresholds().items() if name in moved and (one.of, one.grade) == (kind.name, grade.name))
    name = next(names, None)
    rule = None if name is None else moved[name]
    if rule is None or rule.at_least is None:
        return grade
    usual = f"in place of {both(grade.begins)} ({spell(grade.cite)})"
    return replace(grade, begins=rule.at_least, cite=rule.cite, local=f"{rule.says}, {usual}")
