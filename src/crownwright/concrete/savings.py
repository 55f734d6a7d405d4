"""What another reading would save: "four more drops take one bag off"."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import sqrt

from crownwright.concrete.count import Need, Promise, bag_number
from crownwright.quantity.uncertain import Uncertain

MOST_MORE = 24
"""Nobody reads more drops than this for a bag."""


@dataclass(frozen=True, slots=True)
class Saving:
    """``more`` readings bring the spread of the volume to ``sd`` (m3) and the count to ``bags``, ``saved`` fewer than now."""

    more: int
    sd: float
    bags: int
    saved: int

    @property
    def sentence(self) -> str:
        """The saving as a mason would say it.

        >>> Saving(4, 0.004, 9, 1).sentence
        'four more drops take one bag off'
        """
        drops = f"{_word(self.more)} more drop{'s take' if self.more > 1 else ' takes'}"
        return f"{drops} {_word(self.saved)} bag{'s' if self.saved > 1 else ''} off"


def sd_with_drops(total: float, from_top: float, spread_with: Callable[[int], float]) -> Callable[[int], float]:
    """Return the standard error of the volume (m3) by how many more drops are read.

    ``total`` now, of which ``from_top`` comes from the stone's top and shrinks by the survey's ``spread_with`` (a factor for so
    many more drops); the rest, from faces and flues, stays.

    >>> sd = sd_with_drops(0.005, 0.004, lambda more: 0.5)
    >>> sd(4) ** 2 == 0.003**2 + 0.002**2
    True
    """
    rest = max(total**2 - from_top**2, 0.0)
    return lambda more: sqrt(rest + (from_top * spread_with(more)) ** 2)


def reading_savings(
    need: Need,
    sd_with: Callable[[int], float],
    risk: float = 0.02,
    promise: Promise = "every pour",
    most: int = MOST_MORE,
) -> tuple[Saving, ...]:
    """Return, for each bag that more drops can take off, the fewest drops that do it; empty when none does.

    ``sd_with`` gives the standard error of the volume (m3) that the survey expects with so many more drops. The mean is taken
    to stay: what more readings do to it cannot be known beforehand.

    >>> from crownwright.concrete.count import pour_need
    >>> need = pour_need(Uncertain(0.155, 0.0155), 0.017)
    >>> [s.sentence for s in reading_savings(need, lambda more: 0.0155 * (6 / (6 + more)) ** 0.5)][:1]
    ['four more drops take one bag off']
    """

    def bags_with(more: int) -> int:
        sd = min(sd_with(more), need.volume.sd)
        return bag_number(replace(need, volume=Uncertain(need.volume.mean, sd)), risk, promise)

    now, fewest = bag_number(need, risk, promise), bags_with(most)
    savings = []
    for saved in range(1, now - fewest + 1):
        more = _first(lambda n: bags_with(n) <= now - saved, most)  # noqa: B023 (called before the loop goes on)
        savings.append(Saving(more, sd_with(more), now - saved, saved))
    return tuple(savings)


def _first(true_from: Callable[[int], bool], most: int) -> int:
    """First number from 1 to ``most`` from which on a condition holds; it holds at ``most``."""
    low, high = 0, most
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if true_from(middle) else (middle, high)
    return high


def _word(number: int) -> str:
    words = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
    return words[number] if number < len(words) else str(number)
