"""What another reading would save: "four more drops take one bag off"."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from crownwright.concrete.count import Need, Promise, bags_for
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


def reading_savings(
    need: Need,
    sd_by_drops: Callable[[int], float],
    drops: int,
    risk: float = 0.02,
    promise: Promise = "over many pours",
    most: int = MOST_MORE,
) -> tuple[Saving, ...]:
    """Return, for each bag that more drops can take off, the fewest drops that do it; empty when none does.

    ``sd_by_drops`` gives the standard error of the volume (m3) that the survey expects with that many drops; ``drops`` is how
    many there are now. The mean is taken to stay: what more readings do to it cannot be known beforehand.

    >>> from crownwright.concrete.count import pour_need
    >>> need = pour_need(Uncertain(0.175, 0.0175), 0.017)
    >>> [s.sentence for s in reading_savings(need, lambda n: 0.0175 * (6 / n) ** 0.5, 6)][:1]
    ['four more drops take one bag off']
    """
    now = bags_for(need, risk, promise).bags
    found: list[Saving] = []
    for more in range(1, most + 1):
        sd = min(sd_by_drops(drops + more), need.volume.sd)
        bags = bags_for(replace(need, volume=Uncertain(need.volume.mean, sd)), risk, promise).bags
        if now - bags > (found[-1].saved if found else 0):
            found.append(Saving(more, sd, bags, now - bags))
    return tuple(found)


def _word(number: int) -> str:
    words = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
    return words[number] if number < len(words) else str(number)
