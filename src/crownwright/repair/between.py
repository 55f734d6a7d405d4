"""What the first survey is worth while the top is still to be rebuilt: the band a price has to bear until it is read again."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import INCH
from crownwright.quantity.working import Cite, Figure
from crownwright.repair.rebuild import RebuildPlan
from crownwright.repair.stack import Stack
from crownwright.repair.tell import Input, figure

LEVEL_SD = 0.5 * INCH
"""How far the mean level of a rebuilt top lies from where it was, one standard error (a judgement)."""
JUDGED = Cite("judgement", "how level a rebuilt top comes out", "derived")
NINE_IN_TEN = (0.05, 0.95)


@dataclass(frozen=True, slots=True)
class Between:
    """Bags of concrete with the spread of the first survey, and with that of a top not yet laid; how much wider that makes the
    band of bags.
    """

    surveyed: Uncertain
    bags: Uncertain
    figures: tuple[Figure, ...]

    @property
    def wider(self) -> float:
        """Standard error now over that of the survey alone."""
        return self.bags.sd / self.surveyed.sd if self.surveyed.sd > 0 else 1.0


def price_between(rebuild: RebuildPlan | None, stack: Stack, bags: Uncertain | None, per_bag: float | None) -> Between | None:
    """Return the band that holds until the rebuilt top has been read; None where nothing is rebuilt or no pour is planned.

    The survey's spread of the concrete, and beside it the area of the top times how far its new level may lie from the old:
    s = hypot(s0, A sd/y).
    """
    if rebuild is None or bags is None or per_bag is None:
        return None
    area = stack.area.mean - stack.void(0.0)
    level = area * LEVEL_SD / per_bag
    now = Uncertain(bags.mean, hypot(bags.sd, level))
    terms: tuple[Input, ...] = (
        ("n", "bags by the first survey", bags.mean, "1"), ("s0", "its standard error, bags", bags.sd, "1"),
        ("A", "top of the stone", area, "m2"), ("sd", "how far the new top lies from the old", LEVEL_SD, "m"),
        ("y", "made by one bag", per_bag, "m3"),
    )  # fmt: skip
    low, high = (max(now.quantile(chance), 0.0) for chance in NINE_IN_TEN)
    formula = "n ± 1.645 hypot(s0, A sd/y)"
    figures = (
        figure("repair.between.bags", "bags until the rebuilt top is read", now, "1", "hypot(s0, A sd/y)", *terms, cite=JUDGED),
        figure("repair.between.bags_low", "bags, once in twenty fewer", low, "1", formula, *terms, cite=JUDGED),
        figure("repair.between.bags_high", "bags, once in twenty more", high, "1", formula, *terms, cite=JUDGED),
    )
    return Between(bags, now, figures)
