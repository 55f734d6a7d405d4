"""Which input matters most for the numbers a mason acts on, so that he knows what to measure again."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import sqrt

from crownwright.checks.choices import StrapChoices
from crownwright.checks.clamp import Clamp
from crownwright.codes.capstan import clamp_force
from crownwright.codes.friction import friction
from crownwright.concrete.model import ConcretePlan
from crownwright.concrete.weight import DENSITY_SD
from crownwright.quantity.uncertain import Uncertain

Inputs = Mapping[str, Uncertain]


@dataclass(frozen=True, slots=True)
class Pull:
    """One input's pull on a number: how far one standard error of it moves the number, and its share of the variance (0..1)."""

    name: str
    moves: float
    share: float


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """A number a mason acts on (``key`` of its figure), its standard error from all inputs, and their pulls, greatest first."""

    key: str
    label: str
    value: float
    sd: float
    unit: str
    pulls: tuple[Pull, ...]


def sensitivity(key: str, label: str, unit: str, of: Callable[[Mapping[str, float]], float], inputs: Inputs) -> Sensitivity:
    """Move each input by one standard error each way, the others at their means, and rank what that does.

    First-order propagation: the inputs are taken as independent and the number as near straight over a standard error.

    >>> box = sensitivity("v", "volume", "m3", lambda at: at["l"] * at["w"], {"l": Uncertain(2.0, 0.1), "w": Uncertain(1.0, 0.1)})
    >>> [(one.name, round(one.share, 2)) for one in box.pulls]
    [('w', 0.8), ('l', 0.2)]
    """
    means = {name: one.mean for name, one in inputs.items()}

    def moved(name: str, by: float) -> float:
        return of({**means, name: means[name] + by})

    moves = {name: (moved(name, one.sd) - moved(name, -one.sd)) / 2 for name, one in inputs.items()}
    variance = sum(move**2 for move in moves.values())
    pulls = (Pull(name, move, move**2 / variance if variance else 0.0) for name, move in moves.items())
    return Sensitivity(key, label, of(means), sqrt(variance), unit, tuple(sorted(pulls, key=lambda one: -one.share)))


def bags_sensitivity(plan: ConcretePlan) -> Sensitivity:
    """Bags the pour takes (unrounded): the volume as surveyed, the yield of a bag, what is spilled."""
    choices, per_bag = plan.choices, plan.need.per_bag
    inputs = {
        "volume of the cap, from the drops": plan.need.volume,
        "yield of a bag": Uncertain(per_bag, choices.yield_sd * per_bag),
        "spilled": Uncertain(choices.spill, choices.spill_sd),
    }

    def bags(at: Mapping[str, float]) -> float:
        return at["volume of the cap, from the drops"] / (at["yield of a bag"] * (1 - at["spilled"]))

    return sensitivity("concrete.bags", "bags the pour takes", "1", bags, inputs)


def weight_sensitivity(plan: ConcretePlan) -> Sensitivity:
    """Weight on the chimney, wet: the volume as surveyed and the density of the mix as placed."""
    volume = plan.need.volume
    density = plan.weight.mean / volume.mean
    inputs = {"volume of the cap, from the drops": volume, "density": Uncertain(density, DENSITY_SD * density)}

    def weight(at: Mapping[str, float]) -> float:
        return at["volume of the cap, from the drops"] * at["density"]

    return sensitivity("concrete.weight", "weight on the chimney, wet", "kg", weight, inputs)


def clamp_sensitivity(clamp: Clamp, strap: StrapChoices) -> Sensitivity:
    """Holding over load: hand tension, what stays of it, friction on the stone and of the strap, the weight on the form.

    Spreads of the frictions are a quarter of the range their sources give; hand tension runs from 300 to 500 daN.
    """
    stone, lost = friction("wood on stone"), friction("webbing on wood or steel edge")
    inputs = {
        "pull at the ratchet": Uncertain(strap.pull, 500.0),
        "share that stays": Uncertain(strap.kept, 0.1),
        "wood on stone": Uncertain((stone.low + stone.high) / 2, (stone.high - stone.low) / 4),
        "strap on the blocks": Uncertain((lost.low + lost.high) / 2, (lost.high - lost.low) / 4),
        "weight on the form": Uncertain(clamp.load, 0.1 * clamp.load),
    }

    def factor(at: Mapping[str, float]) -> float:
        press = clamp.straps * clamp_force(at["pull at the ratchet"] * at["share that stays"], at["strap on the blocks"])
        return at["wood on stone"] * press / at["weight on the form"]

    return sensitivity("checks.clamp.dry", "holding over load", "1", factor, inputs)
