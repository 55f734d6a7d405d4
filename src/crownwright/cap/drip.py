"""The drip: a quarter-round on the soffit board leaves a groove under the edge, where water lets go before the wall."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from crownwright.cap.choices import CapChoices
from crownwright.cap.fit import Fit
from crownwright.cap.model import Drip
from crownwright.geometry.hull import frame

Array = NDArray[np.float64]


def drip_of(fit: Fit, choices: CapChoices) -> Drip | None:
    """Place the groove: the lip as wide as asked all round, so that one spacer sets the moulding; None for a size of 0."""
    if choices.drip_size <= 0:
        return None
    inset = choices.drip_lip + choices.drip_size / 2
    axes = frame(fit.turn)
    local = fit.corners @ axes.T
    low, high = local.min(0) + inset, local.max(0) - inset
    line = np.array([low, [high[0], low[1]], high, [low[0], high[1]]]) @ axes
    setback = tuple(side.sure - choices.drip_lip - choices.drip_size for side in fit.sides)
    return Drip(choices.drip_size, setback, choices.drip_lip, line)
