"""What the checks of a form work out from survey, cap and form alone: the clamp, its screws, how it comes off."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from crownwright.cap.model import CapDesign
from crownwright.checks.clamp import Clamp, clamp_of
from crownwright.checks.screws import Hold, holds
from crownwright.checks.strip import order_of
from crownwright.checks.strip_model import StripOrder
from crownwright.form.model import FormDesign
from crownwright.survey.model import Survey


@dataclass(frozen=True)
class FormCase:
    """A form on its chimney with the ``edge_load`` (N) on it and the ``wood`` it is made of.

    It keeps what both findings and figures ask of it, so it is frozen but not slotted.
    """

    survey: Survey
    cap: CapDesign
    form: FormDesign
    edge_load: float
    wood: str

    @cached_property
    def clamp(self) -> Clamp:
        """What presses on the straps and what they hold."""
        return clamp_of(self.survey, self.cap, self.form, self.edge_load)

    @cached_property
    def held(self) -> Mapping[str, tuple[Hold, ...]]:
        """What each sidewall's screws are worth."""
        return holds(self.form, self.wood)

    @cached_property
    def comes_off(self) -> StripOrder:
        """The order in which its parts come off the concrete."""
        return order_of(self.survey, self.cap, self.form)
