"""What the checks need to know beyond the readings, each with the default of the trade. SI; None means: not told.

A check for which something was not told says so; it never guesses in silence.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from crownwright.quantity.units import INCH, LB, LBF


@dataclass(frozen=True, slots=True)
class Appliance:
    """What a flue serves: an open fireplace with its ``opening`` (width, height, m) or a stove or boiler, ``hearth_to_top`` (m).

    ``gas_entry`` (degC) and ``gas_flow`` (kg/s) of the flue gas; None takes a hot open fire, or a stove, as usual.
    """

    flue: str
    kind: Literal["open fireplace", "stove"] = "open fireplace"
    opening: tuple[float, float] | None = None
    hearth_to_top: float | None = None
    gas_entry: float | None = None
    gas_flow: float | None = None


@dataclass(frozen=True, slots=True)
class StrapChoices:
    """The strap: ``pull`` at the ratchet by hand (N), share ``kept`` after it has relaxed and been taken up once more, ``width``
    (m), ``marked`` working load limit (N; None: unmarked, by width), ``factor`` of safety asked for.
    """

    pull: float = 3000.0
    kept: float = 0.8
    width: float = 2 * INCH
    marked: float | None = None
    factor: float = 2.0


@dataclass(frozen=True, slots=True)
class People:
    """Who works up there and with what.

    ``edge_load`` N of a person (or a ladder with one) on the edge; ``mass`` kg of a person with tools. ``ladder_grade`` and
    ``ladder_length`` (m); ``fall_protection`` in the mason's words; power line ``line_volts`` and ``line_away`` (m); diameter of
    a mortar ``grinder`` (m); ``wind`` to be expected (m/s); buckets of ``bucket`` m3. ``platform`` area (m2) of a scaffold or of
    planks on roof brackets and its ``platform_duty`` (Pa; 25, 50 or 75 psf).
    """

    edge_load: float = 300 * LBF
    mass: float = 310 * LB
    ladder_grade: str | None = None
    ladder_length: float | None = None
    fall_protection: str = ""
    line_volts: float | None = None
    line_away: float | None = None
    grinder: float | None = None
    wind: float | None = None
    platform: float | None = None
    platform_duty: float | None = None
    bucket: float = 5 * 231 * INCH**3 * 2 / 3


@dataclass(frozen=True, slots=True)
class CheckChoices:
    """Everything beyond the readings.

    ``stack_material`` names a row of the table of weights (None: by the kind of masonry); ``strength_28`` and
    ``strength_at_strip`` Pa (None: from the mix; not told); ``wood`` a lumber grade. ``rain_cap`` clear height under it (m),
    ``arrestor`` free area of its screen (m2). ``covered`` and ``uncovered``: flues signed off as covered before the work and as
    open, with the appliance free again, after it.
    """

    stack_material: str | None = None
    strength_28: float | None = None
    strength_at_strip: float | None = None
    wood: str = "SPF No.1/No.2"
    strap: StrapChoices = StrapChoices()
    people: People = People()
    appliances: tuple[Appliance, ...] = ()
    rain_cap: float | None = None
    arrestor: float | None = None
    seismic: str | None = None
    covered: tuple[str, ...] = ()
    uncovered: tuple[str, ...] = ()
