"""Everything the steps of the design worked out, in one place for what is told of it."""

from __future__ import annotations

from dataclasses import dataclass

from crownwright.cap.choices import CapChoices
from crownwright.cap.finish import Finish
from crownwright.cap.fit import Fit
from crownwright.cap.ground import Ground
from crownwright.cap.joint import Joint
from crownwright.cap.levels import Levels
from crownwright.cap.model import Drip, FlueFit
from crownwright.cap.spread import VolumeSpread
from crownwright.cap.steel import Steel
from crownwright.cap.volume import Amounts
from crownwright.survey.model import Survey


@dataclass(frozen=True, slots=True)
class Worked:
    """The steps' results; ``box`` is the thumb rule's volume (m3)."""

    survey: Survey
    choices: CapChoices
    fit: Fit
    joint: Joint
    ground: Ground
    levels: Levels
    top: Finish
    drip: Drip | None
    steel: Steel
    parts: Amounts
    spread: VolumeSpread
    flues: tuple[FlueFit, ...]
    box: float
