"""A finding: something compared with a rule. It never says that a thing is without risk; it says what was compared with what."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import isnan

from crownwright.quantity.working import Cite


class Verdict(StrEnum):
    """What the comparison came to."""

    OK = "ok"
    SHORT = "short"
    CANNOT_TELL = "cannot tell"
    WAIVED = "waived"


@dataclass(frozen=True, slots=True)
class Waiver:
    """Who decided to go on without the rule, and why. The finding stays on the papers."""

    by: str
    reason: str


@dataclass(frozen=True, slots=True)
class Finding:
    """A rule, what it asks for, what is there, the verdict and what to do.

    ``at_least`` and ``at_most`` bound ``provided`` (all in the SI ``unit``; None where there is no bound, or nothing to
    measure). ``subject`` is what was looked at, in trade words; ``action`` what to do about it, as an instruction; ``parts``
    are findings this one is made of.
    """

    key: str
    rule: str
    cite: Cite
    subject: str
    verdict: Verdict
    action: str = ""
    at_least: float | None = None
    at_most: float | None = None
    provided: float | None = None
    unit: str = "1"
    blocks: bool = False
    waiver: Waiver | None = None
    parts: tuple[Finding, ...] = ()

    @property
    def short_by(self) -> float:
        """How far ``provided`` lies outside its bounds, in ``unit``; 0.0 inside them or where nothing was measured."""
        return 0.0 if self.provided is None else _short_by(self.provided, self.at_least, self.at_most)


def compare(
    key: str,
    rule: str,
    cite: Cite,
    subject: str,
    provided: float | None,
    *,
    at_least: float | None = None,
    at_most: float | None = None,
    unit: str = "1",
    action: str = "",
    blocks: bool = False,
    slack: float = 1e-9,
) -> Finding:
    """Compare a provided value with its bounds.

    Returns a `Finding` that is ok, short, or cannot tell when ``provided`` is None or not a number. ``slack`` (same unit)
    forgives rounding of the last digit, nothing else.

    >>> compare("cap.edge", "edge thickness", Cite("astm_c1283", "8.1"), "outer edge", 0.05, at_least=0.0508, unit="m").verdict
    <Verdict.SHORT: 'short'>
    """
    verdict = _verdict(provided, at_least, at_most, slack)
    told = None if verdict is Verdict.CANNOT_TELL else provided
    return Finding(key, rule, cite, subject, verdict, action, at_least, at_most, told, unit, blocks and verdict is not Verdict.OK)


def _verdict(provided: float | None, at_least: float | None, at_most: float | None, slack: float) -> Verdict:
    if provided is None or isnan(provided):
        return Verdict.CANNOT_TELL
    return Verdict.SHORT if _short_by(provided, at_least, at_most) > slack else Verdict.OK


def _short_by(provided: float, at_least: float | None, at_most: float | None) -> float:
    low = 0.0 if at_least is None else at_least - provided
    high = 0.0 if at_most is None else provided - at_most
    return max(low, high, 0.0)
