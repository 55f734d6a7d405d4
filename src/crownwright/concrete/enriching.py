"""What each step of portland does to a bag: the plain bag, what was chosen, what is enough, and where more does harm."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite

from crownwright.concrete.mix import Mix, enrich
from crownwright.concrete.model import ConcretePlan
from crownwright.quantity.uncertain import Uncertain


@dataclass(frozen=True, slots=True)
class Step:
    """One amount of portland: why it is looked at, and the bag with it."""

    says: str
    mix: Mix


def steps(pour: ConcretePlan) -> tuple[Step, ...]:
    """Return the bag at each amount of portland worth a look, from none up, watered to the same feel; none twice."""
    choices, limits = pour.choices, pour.enrichment
    share = Uncertain(choices.cement_share, choices.cement_share_sd)
    amounts = (
        (0.0, "plain bag"),
        (limits.enough, f"meets w/c {limits.target:g}"),
        (limits.sure, f"sure of w/c {limits.target:g}"),
        (limits.most, "stop here"),
        (choices.portland, "as chosen"),
    )
    wanted: dict[float, list[str]] = {}
    for kg, says in sorted((kg, says) for kg, says in amounts if kg is not None and isfinite(kg)):
        wanted.setdefault(kg, []).append(says)
    return tuple(
        Step("; ".join(sorted(says, reverse=True)), enrich(pour.bag, kg, choices.water, "same feel", share))
        for kg, says in wanted.items()
    )
