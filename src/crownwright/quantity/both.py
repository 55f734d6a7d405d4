"""Measures inside a sentence that is made before it is known who reads it: said both ways, then one way taken out."""

from __future__ import annotations

import re

from crownwright.quantity.display import System
from crownwright.quantity.lengths import print_length
from crownwright.quantity.units import INCH

_US = r"in\.(?: to the foot)?|ft|sq ft|°F|mph|psi|psf|lbf|lb|lb/cu ft|lb/sq ft h"
_METRIC = r"mm(?: per m)?|m/s|m²|m|°C|MPa|kPa|kN|kg|kg/m³|kg/m² h"
_BOTH = re.compile(
    rf"(?P<us>-?\d(?:[\d /.,]|to )*(?:{_US})) \((?P<metric>-?\d(?:[\d .]|to )*(?:{_METRIC}))\)(?P<stop>\.(?=\s|$))?"
)


def both(metres: float) -> str:
    """A length to the nearest sixteenth and millimetre.

    >>> both(0.04445)
    '1 3/4 in. (44 mm)'
    """
    return f"{print_length(metres, 'in.')} ({print_length(metres, 'mm')})"


def both_falls(rate: float) -> str:
    """A fall (rise over run) as it is set out.

    >>> both_falls(0.25)
    '3 in. to the foot (250 mm per m)'
    """
    return f"{print_length(rate * 12 * INCH, 'in.')} to the foot ({print_length(rate, 'mm')} per m)"


def in_one(sentence: str, system: System) -> str:
    """The sentence with each measure said both ways left in one.

    >>> told = f"Cut it down by {both(0.04445)} for {both_falls(0.25)}."
    >>> in_one(told, "us"), in_one(told, "metric")
    ('Cut it down by 1 3/4 in. for 3 in. to the foot.', 'Cut it down by 44 mm for 250 mm per m.')
    >>> in_one("No surface under 31 °F (-1 °C) before 500 psi (3.4 MPa)", "metric")
    'No surface under -1 °C before 3.4 MPa'

    An inch at the end of a sentence brings its own full stop.

    >>> told = f"Cut it down by {both(0.04445)}. Then read it again."
    >>> in_one(told, "us"), in_one(told, "metric")
    ('Cut it down by 1 3/4 in. Then read it again.', 'Cut it down by 44 mm. Then read it again.')
    """
    return _BOTH.sub(lambda found: f"{found[system]}{found['stop'] or ''}".replace("in..", "in."), sentence)
