"""Cautions that go with wet cement, dry bags, heat and weight: each with what it hangs on and its source. Never a permit."""

from __future__ import annotations

from dataclasses import dataclass

from crownwright.concrete.bags import Bag
from crownwright.quantity.units import celsius
from crownwright.quantity.working import PRACTICE, Cite

HEAT_CARE = celsius(80.0)
"""Air, degC, from which the heat caution is shown (a proposed first trigger of 2024; from memory)."""
HEAVY = 23.0
"""kg: the load constant of the lifting equation, what most can lift close, at waist height, now and then."""


@dataclass(frozen=True, slots=True)
class Caution:
    """``key``, what can happen and what to do, and where that comes from."""

    key: str
    words: str
    cite: Cite


WET_CEMENT = Caution(
    "wet_cement",
    "Wet cement burns, and the pain may come hours later. Waterproof gloves dry inside, sleeves, boots, eye protection; wash at "
    "once with clean water and neutral soap. In the eye: rinse for 15 to 20 minutes and see a doctor.",
    Cite("wet_cement", "skin and eyes"),
)
SILICA = Caution(
    "silica",
    "Dry bags give off silica dust that scars the lungs. Open them low and with the wind behind you, wet the drum first, do not "
    "sweep dry; wear a respirator where dust hangs. Mixing bags has no ready-made control in the rule: the limits apply.",
    Cite("silica_bagged", "permissible limit 50, action level 25 micrograms a cubic metre", "from memory"),
)
HEAT = Caution(
    "heat",
    "Hot work: water within reach, a cup every 15 minutes, shade and rest, a man new to it eased in, nobody alone. Confusion "
    "or no sweat is an emergency: cool him and call.",
    Cite("osha_heat", "water and rest"),
)
LIFTING = Caution(
    "lifting",
    "A full bag is over the load that the lifting equation starts from before anything is taken off for reach or height: two "
    "men, or smaller bags. Nothing is carried up a ladder in the hand; buckets go up by rope or hoist with nobody below.",
    Cite("niosh_94_110", "load constant 51 lb; not made for ladders"),
)
FLUES = Caution(
    "flues",
    "Cover the flues before the pour and uncover them after: a plugged flue kills. Lock out whatever burns into them until then.",
    PRACTICE,
)
LOCAL = Caution(
    "local",
    "The local code and a licensed engineer go before anything printed here.",
    PRACTICE,
)


def cautions(bag: Bag, air: float) -> tuple[Caution, ...]:
    """Return the cautions for a pour with this bag; ``air`` degC, the highest of the day.

    >>> from crownwright.concrete.bags import bag
    >>> [c.key for c in cautions(bag("40 lb"), 15.0)]
    ['wet_cement', 'silica', 'flues', 'local']
    """
    heat = (HEAT,) if air >= HEAT_CARE else ()
    heavy = (LIFTING,) if bag.mass > HEAVY else ()
    return (WET_CEMENT, SILICA, *heavy, *heat, FLUES, LOCAL)
