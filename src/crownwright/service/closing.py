"""How the readings close, in words for somebody on a roof."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil

from crownwright.quantity.display import System
from crownwright.quantity.findings import Finding
from crownwright.quantity.lengths import Style, print_length
from crownwright.quantity.units import INCH
from crownwright.survey.model import Closure, NextReading, Survey, Suspect
from crownwright.survey.readings import QuickReadings

SLIP = "survey.slip."
MOST_SLIPS = 2  # suspects told in a summary; the calculation sheet has them all


def closes(survey: Survey) -> bool:
    """Whether the readings can be used as they are."""
    return survey.closure.closes and not survey.suspects


def closing_words(survey: Survey, units: System) -> tuple[str, ...]:
    """How the tapes close; and which reading is off, where one is."""
    if isinstance(survey.readings, QuickReadings):
        return ("A doorstep survey: good enough to talk price. Climb and read the top before you cut a board.",)
    return words_of(survey.closure, survey.suspects, survey.findings, units)


def words_of(closure: Closure, suspects: Sequence[Suspect], findings: Iterable[Finding], units: System) -> tuple[str, ...]:
    """How tapes close, from what the adjustment found; ``findings`` hold what is said of each suspect."""
    if closure.freedom <= 0:
        return ("Nothing checks the tapes: a slip of an inch would not show.",)
    within = at_most(closure.worst, units)
    if closure.closes and not suspects:
        return (sentence(f"The tapes close within {within}"),)
    slips = [f"{sentence(f.subject)} {sentence(f.action)}" for f in findings if f.key.startswith(SLIP)]
    return (sentence(f"The tapes do not close: they miss by up to {within}"), *slips[:MOST_SLIPS])


def next_words(reading: NextReading) -> str:
    """One reading still wanted, and why."""
    return sentence(f"{reading.ask}: {reading.gains}")


def at_most(metres: float, units: System) -> str:
    """The next sixteenth (or mm) up: "within" may not be rounded down."""
    step = INCH / 16 if units == "us" else 0.001
    return length_words(max(ceil(metres / step - 1e-6), 1) * step, units)


def length_words(metres: float, units: System) -> str:
    """A length as it would be typed back in: sixteenths, or mm."""
    style: Style = "in." if units == "us" else "mm"
    return print_length(metres, style)


def sentence(text: str) -> str:
    """The text begun with a capital and with one full stop at its end; an inch brings its own."""
    return text[:1].upper() + (text[1:] if text.endswith((".", "?")) else text[1:] + ".")
