"""The hours of a forecast as a picture that can be pressed: days across, hours down; and the moments of a pour as clocks."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from crownwright.cure.model import CurePlan, Moment
from crownwright.cure.on_the_day import Revision
from crownwright.cure.window import Window
from crownwright.web.views.dates import USUAL, clock, short

SOONEST = 7
"""Best hours that are listed."""


@dataclass(frozen=True, slots=True)
class Hour:
    """One hour of one day: ``mark`` its rank among the best, "•" where it will do, else the letter of what refuses it; ``value``
    what choosing it sends ("" where it will not do); ``says`` it in words.
    """

    mark: str
    value: str
    says: str
    chosen: bool
    kind: str


@dataclass(frozen=True, slots=True)
class Reason:
    """Why hours are refused: its letter, the rule, what to do, how many hours."""

    letter: str
    rule: str
    action: str
    count: int


@dataclass(frozen=True, slots=True)
class HoursShown:
    """``days`` across and ``rows`` (hour, one `Hour` or None for each day) down, why hours are refused, and how many will do."""

    days: tuple[tuple[str, str], ...]
    rows: tuple[tuple[str, tuple[Hour | None, ...]], ...]
    reasons: tuple[Reason, ...]
    fine: int
    count: int


def hours_shown(cure: CurePlan, locale: str = USUAL) -> HoursShown:
    """Every hour of the forecast; hours of the day at which no day will do, before the first and after the last, are left out."""
    reasons = _reasons(cure.windows)
    letters = {reason.rule: reason.letter for reason in reasons}
    best = {cure.windows[i].at: n for n, i in enumerate(cure.best, 1)}
    days = sorted({window.at.date() for window in cure.windows})
    by_place = {(window.at.date(), window.at.hour): window for window in cure.windows}
    fine = [window.at.hour for window in cure.windows if window.ok]
    first, last = (min(fine) - 1, max(fine) + 1) if fine else (6, 18)
    chosen = cure.pour.at if cure.pour is not None else None
    rows = tuple(
        (f"{hour:02d}", tuple(_hour(by_place.get((day, hour)), letters, best, chosen, locale) for day in days))
        for hour in range(max(first, 0), min(last, 23) + 1)
    )
    heads = tuple((f"{day:%a}", short(day, locale)) for day in days)
    return HoursShown(heads, rows, reasons, len(fine), len(cure.windows))


def _hour(
    window: Window | None, letters: dict[str, str], best: dict[datetime, int], chosen: datetime | None, locale: str
) -> Hour | None:
    if window is None:
        return None
    when = clock(window.at, locale)
    here = chosen is not None and window.at == chosen
    if not window.ok:
        rule = window.refused[0].rule
        return Hour(letters[rule], _typed(window.at), f"{when}: {rule}", here, "no")
    rank = best.get(window.at, 0)
    mark = str(rank) if 0 < rank <= 3 else "•"
    says = f"{when}: will do" + (f", in {window.sure:.0%} of forecasts like this one" if window.sure is not None else "")
    return Hour(mark, _typed(window.at), says, here, "best" if 0 < rank <= 3 else "yes")


def _reasons(windows: tuple[Window, ...]) -> tuple[Reason, ...]:
    counts: dict[str, int] = {}
    actions: dict[str, str] = {}
    for window in windows:
        for reason in window.refused[:1]:
            counts[reason.rule] = counts.get(reason.rule, 0) + 1
            actions[reason.rule] = reason.action
    ranked = sorted(counts, key=lambda rule: (-counts[rule], rule))
    return tuple(Reason(chr(ord("a") + k), rule, actions[rule], counts[rule]) for k, rule in enumerate(ranked))


def _typed(at: datetime) -> str:
    return f"{at:%Y-%m-%dT%H:%M}"


@dataclass(frozen=True, slots=True)
class BestHour:
    """One of the best hours: when, what of the bed, how sure; ``value`` what choosing it sends."""

    when: str
    bed: str
    sure: str
    value: str
    chosen: bool


def best_hours(cure: CurePlan, locale: str = USUAL) -> tuple[BestHour, ...]:
    """The best hours from the best down."""
    chosen = cure.pour.at if cure.pour is not None else None
    return tuple(_told(cure.windows[i], cure.windows[i].at == chosen, locale) for i in cure.best[:SOONEST])


def followed(cure: CurePlan, locale: str = USUAL) -> BestHour | None:
    """The hour whose pour is followed, whether it is among the best or not; None where there is none."""
    if cure.pour is None:
        return None
    at = cure.pour.at
    return _told(next((window for window in cure.windows if window.at == at), cure.pour), True, locale)


def _told(window: Window, chosen: bool, locale: str) -> BestHour:
    bed = f"bed laid {clock(window.bed, locale)}" if window.bed else ""
    sure = f"{window.sure:.0%}" if window.sure is not None else ""
    return BestHour(clock(window.at, locale), bed, sure, _typed(window.at), chosen)


@dataclass(frozen=True, slots=True)
class Clock:
    """A moment as a running clock shows it: ``key``, what to do, when (words and ISO time), the span it may fall in, how far it
    has moved, and whether it is past (``done`` says when it was logged as done).
    """

    key: str
    label: str
    when: str
    at: str
    between: str
    moved: str
    past: bool
    done: str


LOGGED = {"struck": "struck off", "float": "floated", "trowel": "trowelled", "final": "covered", "strip": "stripped",
          "uncover": "uncovered"}  # fmt: skip
"""Which event of the log says that a moment is over."""


def clocks(
    cure: CurePlan, revision: Revision | None, now: datetime, done: dict[str, datetime], locale: str = USUAL
) -> tuple[Clock, ...]:
    """Every moment of a pour in order of time, as planned or as the log has moved it; ``done`` events as logged."""
    moments = cure.moments if revision is None else revision.moments
    moved = {} if revision is None else {m.key: m.by for m in revision.moved}
    return tuple(_clock(moment, moved.get(moment.key), now, done, locale) for moment in moments)


def _clock(moment: Moment, by: timedelta | None, now: datetime, done: dict[str, datetime], locale: str) -> Clock:
    over = done.get(LOGGED.get(moment.key, ""))
    span = ""
    if moment.early is not None and moment.late is not None and moment.early != moment.late:
        late = f"{moment.late:%H:%M}" if moment.late.date() == moment.early.date() else clock(moment.late, locale)
        span = f"between {moment.early:%H:%M} and {late}"
    at = moment.at
    return Clock(
        key=moment.key,
        label=moment.label,
        when=clock(at, locale),
        at=at.isoformat() if at is not None else "",
        between=span,
        moved=_by(by),
        past=at is not None and at <= now,
        done=clock(over, locale) if over is not None else "",
    )


def _by(by: timedelta | None) -> str:
    if by is None or abs(by.total_seconds()) < 60:
        return ""
    return f"{span_words(abs(by.total_seconds()))} {'later' if by.total_seconds() > 0 else 'earlier'} than planned"


def span_words(seconds: float) -> str:
    """A span as people say it.

    >>> span_words(4500), span_words(540), span_words(190000)
    ('1 h 15 min', '9 min', '2 d 5 h')
    """
    minutes = round(seconds / 60)
    if minutes >= 48 * 60:
        days, hours = divmod(round(minutes / 60), 24)
        return f"{days} d {hours} h" if hours else f"{days} d"
    hours, minutes = divmod(minutes, 60)
    return f"{hours} h {minutes} min" if hours and minutes else f"{hours} h" if hours else f"{minutes} min"
