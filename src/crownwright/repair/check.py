"""What is wrong with the findings entered, at once: unknown names and places, measures out of range, contradictions.

Nothing entered is dropped or altered: a finding with a fault in it stays in the record as it was.
"""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches
from itertools import combinations

from crownwright.cap.words import say
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import INCH
from crownwright.repair.check_work import check_work
from crownwright.repair.defects import SOUND, Defect, defects
from crownwright.repair.record import RepairRecord, Seen
from crownwright.repair.stack import Stack
from crownwright.survey.readings import Length

_PARTS = ("cap", "faces", "flue tops", "flue inside", "flashing")
_MISSING_LINER = ("cracked liner", "open liner bed", "broken liner top", "short flue")


def check_record(record: RepairRecord, stack: Stack) -> tuple[Problem, ...]:
    """Return every problem of a repair record against the stack it is of, in the order it was entered."""
    found = [*_looked(record), *_claimed(record)]
    for n, seen in enumerate(record.seen, 1):
        found += _seen(f"repair.seen[{n}]", seen, stack)
    found += _contradictions(record.seen)
    return (*found, *check_work(record, stack))


def _looked(record: RepairRecord) -> Iterator[Problem]:
    told: dict[str, str] = {}
    for n, look in enumerate(record.looked, 1):
        if told.get(look.part, look.how) != look.how and "not there" in (look.how, told[look.part]):
            what = f"the {look.part} is told as looked at {told[look.part]}, and as looked at {look.how}"
            yield Problem(f"repair.looked[{n}]", what, "It is either there or not: take one of the two out")
        told[look.part] = look.how


def _claimed(record: RepairRecord) -> Iterator[Problem]:
    if record.claimed is not None and record.claimed not in (1, 2, 3):
        yield Problem("repair.claimed", f"there is no inspection level {record.claimed}", "Levels are 1, 2 and 3")


def _seen(where: str, seen: Seen, stack: Stack) -> Iterator[Problem]:
    kind = defects().get(seen.what)
    if kind is None and seen.what != SOUND:
        near = get_close_matches(seen.what, defects(), n=1, cutoff=0.5)
        remedy = f"Did you mean “{near[0]}”?" if near else "docs/repair.md lists the names"
        yield Problem(f"{where}.what", f"“{seen.what}” is no finding known here", remedy)
    yield from _place(where, seen, kind, stack)
    if kind is not None:
        yield from _measures(where, seen, kind)


def _place(where: str, seen: Seen, kind: Defect | None, stack: Stack) -> Iterator[Problem]:
    if seen.face and seen.face not in stack.faces:
        back = seen.face[::-1]
        hint = f"It is {back} the other way round" if back in stack.faces else f"Faces: {', '.join(stack.faces)}"
        yield Problem(f"{where}.face", f"there is no face {seen.face}", hint)
    if kind is not None and kind.place == "face" and not seen.face:
        yield Problem(f"{where}.face", f"{kind.name} is found on a face, and none is named", f"Faces: {', '.join(stack.faces)}")
    names = [flue.name for flue in stack.flues]
    flues = f"Flues: {', '.join(names)}" if names else "The readings have no flue: add it there, or take this out"
    if seen.flue and seen.flue not in names:
        yield Problem(f"{where}.flue", f"there is no flue {seen.flue}", flues)
    if kind is not None and kind.place == "flue" and not seen.flue:
        yield Problem(f"{where}.flue", f"{kind.name} is found in a flue, and none is named", flues)
    if seen.part and seen.part not in _PARTS:
        yield Problem(f"{where}.part", f"“{seen.part}” is no part known here", f"Parts: {', '.join(_PARTS)}")
    if seen.what == SOUND and not (seen.face or seen.flue or seen.part):
        yield Problem(where, "something is sound, but not what", f"Name a face, a flue, or a part: {', '.join(_PARTS)}")
    yield from _course(where, seen, stack)
    yield from _along(where, seen, stack)


def _course(where: str, seen: Seen, stack: Stack) -> Iterator[Problem]:
    first, last, most = seen.course, seen.to_course, stack.courses
    for key, course in (("course", first), ("to_course", last)):
        if course is not None and course < 1:
            yield Problem(f"{where}.{key}", f"there is no course {course}", "Count from the top: the topmost course is 1")
        elif course is not None and most is not None and course > most:
            what = f"there is no course {course}: the stack has about {most} above the roof"
            yield Problem(f"{where}.{key}", what, "Count again from the top, or read the course's height again")
    if first is not None and last is not None and last < first:
        yield Problem(f"{where}.to_course", f"course {last} lies above course {first}", "Courses are counted from the top down")
    if last is not None and first is None:
        yield Problem(f"{where}.course", f"it reaches to course {last}, but no course is told to begin", "Add course")


def _along(where: str, seen: Seen, stack: Stack) -> Iterator[Problem]:
    if seen.along is None or seen.face not in stack.faces:
        return
    run = stack.faces[seen.face]
    if not 0 <= seen.along.metres <= run.mean + 3 * run.sd:
        what = f"{say(seen.along.metres)} along face {seen.face} lies off it: it is {say(run.mean)} long"
        yield Problem(f"{where}.along", what, f"Measure from corner {seen.face[0]}")


def _measures(where: str, seen: Seen, kind: Defect) -> Iterator[Problem]:
    told = (("measure", seen.measure, kind.measure), ("over", seen.over, kind.over))
    for key, length, asks in told:
        if length is not None and not asks:
            yield Problem(f"{where}.{key}", f"nothing like that is measured of {kind.name}", f"Take {key} out, or put it in note")
    if seen.offset is not None and not kind.offset:
        yield Problem(f"{where}.offset", f"no offset is measured of {kind.name}", "Take offset out, or put it in note")
    yield from _range(f"{where}.measure", seen.measure, kind.most, kind.measure)
    yield from _range(f"{where}.over", seen.over, None, kind.over)
    yield from _range(f"{where}.offset", seen.offset, 12 * INCH, "how far one side stands out of the other")
    if seen.share is not None and not 0 < seen.share <= 1:
        yield Problem(f"{where}.share", f"{seen.share:g} is not a share of the place", "Write it like 40 %")
    if kind.may_block and kind.grade(*_sizes(seen)) is None:
        what = f"{kind.name} is told without its {kind.measure}, and a cap may not be cast over a large one"
        yield Problem(f"{where}.measure", what, f"Measure the {kind.measure}")


def _sizes(seen: Seen) -> tuple[float | None, float | None, float | None]:
    return tuple(None if part is None else part.metres for part in (seen.measure, seen.over, seen.offset))  # type: ignore[return-value]


def _range(where: str, length: Length | None, most: float | None, what: str) -> Iterator[Problem]:
    if length is None:
        return
    if length.metres < 0:
        yield Problem(where, f"“{length.typed or say(length.metres)}” is less than nothing", "Look at the sign")
    elif most is not None and length.metres > most:
        typed = length.typed or say(length.metres)
        yield Problem(where, f"“{typed}” is too much for it ({what}; at most {say(most)})", "Look at the number and its unit")


def _contradictions(seen: tuple[Seen, ...]) -> Iterator[Problem]:
    """Findings that cannot both be true; what is history (a fire in the flue) contradicts nothing."""
    for (i, one), (j, other) in combinations(enumerate(seen, 1), 2):
        what = _clash(one, other) or _clash(other, one)
        if what:
            yield Problem(
                f"repair.seen[{j}]", f"it contradicts seen[{i}]: {what}", "Look again, and take out the one that is wrong"
            )


def _clash(one: Seen, other: Seen) -> str:
    """Why the two cannot both be, "" where they can."""
    kind = defects().get(other.what)
    if kind is None:
        return ""
    if one.what == SOUND and _covers(one, other, kind) and other.what not in ("chimney fire", "low chimney"):
        return f"{_where(one)} is told as sound, and {other.what} as found there"
    if one.what == "no cap" and kind.part == "cap" and other.what != "no cap":
        return f"there is no cap, and {other.what} as found on it"
    if one.what == "missing liner" and other.what in _MISSING_LINER and one.flue == other.flue:
        return f"flue {one.flue} has no liner, and a {other.what} as found in it"
    return ""


def _covers(sound: Seen, other: Seen, kind: Defect) -> bool:
    """Whether the place told as sound takes in where the other was found."""
    if sound.flue:
        return sound.flue == other.flue
    if sound.face:
        return sound.face == other.face and _courses_meet(sound, other)
    return sound.part == kind.part or (sound.part == "faces" and bool(other.face))


def _courses_meet(one: Seen, other: Seen) -> bool:
    if one.course is None or other.course is None:
        return True
    return one.course <= (other.to_course or other.course) and other.course <= (one.to_course or one.course)


def _where(seen: Seen) -> str:
    return f"flue {seen.flue}" if seen.flue else f"face {seen.face}" if seen.face else f"the {seen.part}"
