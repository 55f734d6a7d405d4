"""Visits from the cure's own times: bed and pour by the window chosen, stripping when the concrete is ready and men are at work.

Ids are those of `visits_of`: a calendar made before the days were planned is moved by one made after.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import datetime, time, timedelta

from crownwright.plan.days import DaysPlan
from crownwright.sheets.calendar import Visit
from crownwright.sheets.calendar_visits import CARE_YEARS, visits_of

HOUR = timedelta(hours=1)
STRIP_HOURS = 4
"""Taking the form apart, sealing and clearing away (common practice, no source)."""


def visits_by_cure(
    job: str, title: str, place: str, days: DaysPlan, *, revision: int = 0, care_years: Iterable[int] = CARE_YEARS
) -> tuple[Visit, ...]:
    """Return the visits of a pour that was followed, local times without a zone; none where no hour was chosen or found.

    A time past the end of the forecast keeps the usual day, and says so.
    """
    cure = days.cure
    if cure.pour is None:
        return ()
    pour = _local(cure.pour.at)
    usual = visits_of(job, title, place, pour, bed=_local(cure.pour.bed) if cure.pour.bed else None, care_years=care_years)
    strip = _working(_at(days, "strip"), days)
    if strip is not None:
        usual = visits_of(job, title, place, pour, bed=_local(cure.pour.bed) if cure.pour.bed else None, care_years=care_years,
                          strip_after_days=(strip.date() - pour.date()).days)  # fmt: skip
    return tuple(replace(visit, revision=revision) for visit in _moved(usual, days, pour, strip))


def _moved(usual: tuple[Visit, ...], days: DaysPlan, pour: datetime, strip: datetime | None) -> Iterator[Visit]:
    """Each visit at the cure's time; a word on how sure it is."""
    for visit in usual:
        if visit.key == "pour":
            leave = _at(days, "leave")
            end = leave if leave is not None and leave > pour else pour + 5 * HOUR
            yield replace(visit, end=end, says=f"{visit.says} {_clock(days)}".strip())
        elif visit.key == "strip" and strip is not None:
            yield replace(visit, start=strip, end=strip + STRIP_HOURS * HOUR, says=f"{visit.says} {_between(days)}".strip())
        elif visit.key == "strip":
            yield replace(visit, says=f"{visit.says} The forecast does not reach that far: the usual day.")
        else:
            yield visit
    over = _at(days, "uncover")
    if over is not None:
        pourer = usual[0]
        what = pourer.what.partition(": ")[2]
        yield Visit(pourer.job, "uncover", f"End of the damp cure: {what}", over.date(), None, pourer.place)


def _clock(days: DaysPlan) -> str:
    """The finishing times of the day."""
    told = [(m.label.partition(":")[0], m.at) for m in days.cure.moments if m.key in ("float", "trowel", "final")]
    clock = "; ".join(f"{label} {_local(at):%H:%M}" for label, at in told if at is not None)
    return f"{clock[:1].upper()}{clock[1:]}." if clock else ""


def _between(days: DaysPlan) -> str:
    moment = next((m for m in days.cure.moments if m.key == "strip"), None)
    if moment is None or moment.early is None or moment.late is None:
        return ""
    if moment.early == moment.late:
        return f"Ready from {_local(moment.early):%b %d, %H:%M} on."
    return f"Ready between {_local(moment.early):%b %d, %H:%M} and {_local(moment.late):%b %d, %H:%M}."


def _at(days: DaysPlan, key: str) -> datetime | None:
    moment = next((m for m in days.cure.moments if m.key == key), None)
    return _local(moment.at) if moment is not None and moment.at is not None else None


def _working(at: datetime | None, days: DaysPlan) -> datetime | None:
    """The first hour at work from a time on, early enough to be done that day; whole hours."""
    if at is None:
        return None
    first, last = days.choices.cure.earliest, days.choices.cure.latest
    whole = (at + HOUR - timedelta.resolution).replace(minute=0, second=0, microsecond=0)
    begin = datetime.combine(whole.date(), time(first + 1 if first < 23 else first))
    if whole <= begin:
        return begin
    return whole if whole.hour + STRIP_HOURS <= last else begin + timedelta(days=1)


def _local(at: datetime) -> datetime:
    return at.replace(tzinfo=None, second=0, microsecond=0)
