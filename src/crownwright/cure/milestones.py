"""The hours that matter in each pour, read off its clock: set, frost-hardy, strong enough to strip."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from crownwright.cure.columns import EDGE, MIDDLE
from crownwright.cure.heat import History
from crownwright.cure.inputs import CureChoices, MixInCure
from crownwright.cure.strength import clock_for, set_clocks, when

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Milestones:
    """Ages in s of each pour, (pours,), infinite where not reached while it was followed.

    ``initial`` and ``final`` set of the top face over the middle; ``initial_edge`` and ``final_edge`` at the edge, which the
    weather reaches sooner; ``hardy`` when the youngest concrete of the edge stands one freezing, ``ready`` when it has the
    strength that stripping asks for - both with the chance taken; ``strip`` that or the floor of days, whichever is later.
    """

    initial: Floats
    final: Floats
    initial_edge: Floats
    final_edge: Floats
    hardy: Floats
    ready: Floats
    strip: Floats


def milestones(history: History, mix: MixInCure, choices: CureChoices) -> Milestones:
    """Return the ages that matter."""
    initial, final = set_clocks(mix)
    hardy = clock_for(mix, history.curve, choices.limits.frost_strength, choices.low)
    ready = clock_for(mix, history.curve, choices.strip_strength, choices.low)
    top = history.clock_top
    edge = history.clock_least[:, EDGE]
    at_ready = when(history.age, edge, ready)
    return Milestones(
        when(history.age, top[:, MIDDLE], initial),
        when(history.age, top[:, MIDDLE], final),
        when(history.age, top[:, EDGE], initial),
        when(history.age, top[:, EDGE], final),
        when(history.age, edge, hardy),
        at_ready,
        np.maximum(at_ready, choices.strip_floor),
    )
