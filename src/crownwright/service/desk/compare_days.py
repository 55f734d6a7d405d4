"""What the change between two revisions did to the days: the best hours of each, and the pour by the clock."""

from __future__ import annotations

from dataclasses import dataclass

from crownwright.quantity.problems import Problem
from crownwright.service.days_to_pour import DaysTold
from crownwright.service.desk.days_of import days_of
from crownwright.service.desk.open_desk import Desk


@dataclass(frozen=True, slots=True)
class DaysCompared:
    """The days by two revisions under the same weather: how many ``hours`` will do, the ``best`` of them, and each moment of the
    pour (what it is, by the first, by the second; "" where it has none).
    """

    weather: str
    hours: tuple[int, int]
    best: tuple[tuple[str, ...], tuple[str, ...]]
    clock: tuple[tuple[str, str, str], ...]


def compare_days(desk: Desk, job: str, first: int, second: int, wait: float | None = None) -> DaysCompared | Problem | None:
    """Compare the days of two revisions; a problem where there is no weather, or one cannot be planned; None where they are not
    worked out within ``wait`` seconds (left out: it waits).

    It takes a second or two for each the first time. KeyError when there is none of that number.
    """
    one, other = [days_of(desk, job, number=number, sure=False, wait=wait) for number in (first, second)]
    if one.coming or other.coming:
        return None
    for days in (one, other):
        if days.told is None:
            return days.problems[0] if days.problems else Problem("days", "there are no days", "Put right what stops the plan")
    assert one.told is not None
    assert other.told is not None
    before, after = (dict(map(_moment, told.clock)) for told in (one.told, other.told))
    clock = tuple((what, before.get(what, ""), after.get(what, "")) for what in dict.fromkeys((*before, *after)))
    return DaysCompared(other.weather, (_fine(one.told), _fine(other.told)), (one.told.best, other.told.best), clock)


def _moment(line: tuple[str, str]) -> tuple[str, str]:
    """What happens, and when: the line of the clock the other way round, so that the same thing stands beside itself.

    >>> _moment(("Sun May 17, 18:15", "float: bleed water gone (between 17:49 and 18:55)"))
    ('float: bleed water gone', 'Sun May 17, 18:15, between 17:49 and 18:55')
    """
    at, says = line
    what, _, between = says.removesuffix(")").partition(" (between ")
    return what, f"{at}, between {between}" if between else at


def _fine(told: DaysTold) -> int:
    return sum(window.ok for window in told.days.cure.windows)
