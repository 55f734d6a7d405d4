"""What changes where the top was only looked at from the doorstep: which cap is planned, and how sure its volume is.

Readings that were never taken have wide spreads, and a cap that keeps every minimum at those spreads is thicker than the one
that will be built once the top is read. A price needs the likely cap; and the likely cap may still turn out another one.
"""

from __future__ import annotations

from dataclasses import replace
from math import hypot

from crownwright.cap.choices import CapChoices
from crownwright.cap.spread import VolumeSpread

LIKELY = 0.80
"""Chance with which the planned minimums are kept: volumes planned with it are those of caps later built, on the mean (judgement,
set on virtual chimneys: `bench.doorstep`)."""
UNDECIDED = 0.09
"""Standard error of the volume, relative, for what the full readings decide: soffit, edge board, wash (judgement, set so)."""


def likely(choices: CapChoices) -> CapChoices:
    """The choices with no more certainty asked of the minimums than makes the likely cap."""
    return replace(choices, sure=min(choices.sure, LIKELY))


def undecided(spread: VolumeSpread, volume: float) -> VolumeSpread:
    """The spread of a volume (m3) with what is not decided yet."""
    more = UNDECIDED * volume
    return replace(spread, undecided=more, total=hypot(spread.total, more))
