"""How bad what was found is, by thresholds with source; what it calls for; what keeps a cap from being cast; who must see it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from crownwright.codes.cap_rules import Rule
from crownwright.codes.nfpa_211_levels import Level
from crownwright.quantity.findings import Finding, Verdict, Waiver
from crownwright.quantity.working import Cite, Figure, Term
from crownwright.repair.causes import Chain, chains, look_for
from crownwright.repair.defects import SOUND, Defect, Grade
from crownwright.repair.inspection import check_level, figure_level, level_of, level_says
from crownwright.repair.record import RepairRecord, Seen
from crownwright.repair.thresholds import Threshold, local_grades, together

LEAK = Cite("bia_tn46", "efflorescence: salts that come back show water not yet found")


@dataclass(frozen=True, slots=True)
class Judged:
    """One finding as entered (its ``number`` in the record from 1), what kind it is, how bad, and what was compared."""

    number: int
    seen: Seen
    kind: Defect
    grade: Grade | None
    finding: Finding

    @property
    def where(self) -> str:
        """Where it is, in words."""
        return place_words(self.seen, self.kind)

    @property
    def serious(self) -> bool:
        """Whether it asks for anything."""
        return self.grade is None or not self.grade.fine


@dataclass(frozen=True, slots=True)
class Condition:
    """The condition of a chimney: the inspection ``level`` reached and what may be printed of it, every finding ``judged``, the
    ``chains`` of causes among them.
    """

    level: Level
    level_says: str
    judged: tuple[Judged, ...]
    chains: tuple[Chain, ...]
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]

    def calling(self, *calls: str) -> tuple[Judged, ...]:
        """Return what calls for one of these works."""
        return tuple(one for one in self.judged if one.grade is not None and one.grade.call in calls)


def judge(record: RepairRecord, local: Sequence[Rule] = ()) -> Condition:
    """Judge everything found. A finding of unknown name is left to the check; "sound" asks for nothing.

    ``local`` rules of the authority may let a grade begin at another measure (`repair.thresholds`).
    """
    kinds = local_grades(local)
    judged = tuple(_judged(n, seen, kinds[seen.what], record) for n, seen in enumerate(record.seen, 1) if seen.what in kinds)
    serious = [one.kind.name for one in judged if one.serious]
    cracks = _together(judged, together(local))
    findings = (*check_level(record), *(one.finding for one in judged), *cracks, *_leaks(judged, serious))
    figures = (figure_level(record), *(figure for one in judged if (figure := _figure(one)) is not None))
    return Condition(level_of(record), level_says(record), judged, chains(serious), findings, figures)


def place_words(seen: Seen, kind: Defect | None = None) -> str:
    """Where something was found, in words: "face AB, courses 1 to 3", "flue F1", "the cap"."""
    if seen.face:
        last = seen.to_course
        courses = "" if seen.course is None else f", course {seen.course}"
        if seen.course is not None and last is not None and last != seen.course:
            courses = f", courses {seen.course} to {last}"
        return f"face {seen.face}{courses}"
    if seen.flue:
        return f"flue {seen.flue}"
    part = seen.part or (kind.place if kind is not None else "chimney")
    return f"the {part}"


def _judged(number: int, seen: Seen, kind: Defect, record: RepairRecord) -> Judged:
    grade = _grade(seen, kind, record)
    return Judged(number, seen, kind, grade, _finding(number, seen, kind, grade, record))


def _grade(seen: Seen, kind: Defect, record: RepairRecord) -> Grade | None:
    if seen.growing and kind.may_block:
        return kind.grades[-1]
    measure, over, offset = (None if part is None else part.metres for part in (seen.measure, seen.over, seen.offset))
    grade = kind.grade(measure, over, offset)
    if kind.name == "chimney fire" and level_of(record).reached >= 2 and grade is not None:
        do = "The level 2 inspection after it has been done; renew the joint at the liner, which a fire tears"
        return replace(grade, name="after a fire, inspected", call="seal", do=do, blocks=False, see="")
    return grade


def _finding(number: int, seen: Seen, kind: Defect, grade: Grade | None, record: RepairRecord) -> Finding:
    low, high = _bounds(kind, grade)
    measure = None if seen.measure is None else seen.measure.metres
    held = _held_against(kind, grade)
    rule = f"{kind.name}, {kind.measure}" if kind.measure else kind.name
    rule = f"{rule}: {held.local}" if held is not None and held.local else rule
    subject = place_words(seen, kind)
    key = f"repair.seen.{number}"
    if grade is None:
        worst = kind.grades[-1]
        action = f"Measure the {kind.measure}: what it calls for hangs on it"
        draft = Finding(key, rule, worst.cite, subject, Verdict.CANNOT_TELL, action, low, high, None, "m", kind.may_block)
    else:
        verdict = Verdict.OK if grade.fine else Verdict.SHORT
        action = f"{grade.do}. To be seen by: {grade.see}" if grade.see else grade.do
        cite = held.cite if held is not None and held.local else grade.cite
        draft = Finding(key, rule, cite, subject, verdict, action, low, high, measure, "m", grade.blocks)
    return waived(draft, kind.name, record)


def waived(finding: Finding, name: str, record: RepairRecord) -> Finding:
    """Return the finding as somebody decided to go on without it, by its key or its name; it stays on the papers."""
    waiver = next((Waiver(one.by, one.reason) for one in record.waived if one.what in (finding.key, name)), None)
    if waiver is None or finding.verdict is Verdict.OK:
        return finding
    return replace(finding, verdict=Verdict.WAIVED, waiver=waiver, blocks=False)


def _bounds(kind: Defect, grade: Grade | None) -> tuple[float | None, float | None]:
    """The bound that the measure is held against: the end of what is fine; where nothing is, where the grade reached begins."""
    held = _held_against(kind, grade)
    if held is None:
        return None, None
    return (held.begins, None) if held.fine else (None, held.begins or None)


def _held_against(kind: Defect, grade: Grade | None) -> Grade | None:
    """The grade at whose beginning the measure is held against it."""
    if not kind.measure or len(kind.grades) < 2:
        return None
    if kind.grades[-1].fine:
        return kind.grades[-1]
    return kind.grades[1] if grade is None or kind.grades[0].fine or grade is kind.grades[0] else grade


def _together(judged: tuple[Judged, ...], limit: Threshold) -> tuple[Finding, ...]:
    """Cracks of one face that are slight one by one, added up."""
    found = []
    cracks = [one for one in judged if one.kind.name == "masonry crack" and one.seen.measure is not None]
    for face in dict.fromkeys(one.seen.face for one in cracks):
        widths = [one.seen.measure.metres for one in cracks if one.seen.face == face and one.seen.measure is not None]
        if len(widths) < 2 or max(widths) >= limit.begins:
            continue
        wide = sum(widths) >= limit.begins - 1e-9
        verdict, act = (Verdict.SHORT, "Cast nothing on it before an engineer has seen it") if wide else (Verdict.OK, "")
        rule = f"{len(widths)} cracks together"
        face_words = f"face {face}"
        found.append(
            Finding(
                f"repair.cracks.{face}", rule, limit.cite, face_words, verdict, act, None, limit.begins, sum(widths), "m", wide
            )
        )
    return tuple(found)


def _leaks(judged: tuple[Judged, ...], serious: list[str]) -> tuple[Finding, ...]:
    """Signs of water none of whose causes was found."""
    found = []
    for one in judged:
        causes = look_for(one.kind.name, serious) if one.kind.leak else ()
        if causes:
            action = f"Look for where the water comes in: {', '.join(causes)}. Sealing the wall does not end it."
            key = f"repair.leak.{one.number}"
            found.append(Finding(key, f"cause of {one.kind.name}", LEAK, one.where, Verdict.CANNOT_TELL, action))
    return tuple(found)


def _figure(one: Judged) -> Figure | None:
    """What was measured, as a figure: as entered, with what it was held against."""
    if one.seen.measure is None:
        return None
    terms = tuple(Term("", grade.name, grade.begins, "m", grade.cite) for grade in one.kind.grades)
    over = () if one.seen.over is None else (Term("", one.kind.over, one.seen.over.metres, "m"),)
    label = f"{one.kind.name}, {one.where}: {one.kind.measure}"
    entered = Cite("entered", standing="entered")
    formula = "as measured; a grade begins where named below"
    return Figure(f"repair.measure.{one.number}", label, one.seen.measure.metres, "m", formula, (*over, *terms), entered)


def nothing_wrong(seen: Seen) -> bool:
    """Whether it was entered that a place is sound."""
    return seen.what == SOUND
