"""NFPA 211 (2019), levels of inspection: what each takes in, so that none is claimed that was not done.

Level 1 is the readily accessible parts of chimney, appliance and connection, the flue sound and clear. Level 2 takes in besides
the accessible attic, crawl space and basement, the chimney outside and inside, and the flue by camera or its equal. Level 3 opens
what is concealed, and only where a hazard is suspected that cannot be judged otherwise. Read second-hand.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from crownwright.quantity.working import Cite

CITE = Cite("nfpa_211_2019", "levels of inspection")
_CLOSE = ("close to", "by hand", "by camera", "opened up")
_CAMERA = ("by camera", "opened up")
_ROOM = ("close to", "by hand", "by camera", "opened up", "not there")
_ANY = ("from the ground", *_CLOSE)

ASKS: Mapping[int, Mapping[str, tuple[str, ...]]] = {
    1: {"faces": _ANY, "flue inside": _CLOSE, "appliance": _CLOSE},
    2: {
        "cap": _CLOSE,
        "faces": _CLOSE,
        "flue tops": _CLOSE,
        "flue inside": _CAMERA,
        "appliance": _CLOSE,
        "attic": _ROOM,
        "crawl space": _ROOM,
        "basement": _ROOM,
    },
    3: {"concealed parts": ("opened up",)},
}
"""What each level asks beyond the one before it: part -> the ways of looking that will do. How a part is reached is our reading
of the clauses; the standard says it in words of access."""
WHEN = {
    1: "every year, at a cleaning, when the same appliance stays and nothing has changed",
    2: "change of fuel, appliance or liner; sale of the house; after a chimney fire, an earthquake or a malfunction",
    3: "only where a hazard is suspected that cannot be judged otherwise",
}


@dataclass(frozen=True, slots=True)
class Level:
    """The level reached (0: none), and what the next still ``wants``, part by part."""

    reached: int
    wants: tuple[str, ...]


def level(looked: Mapping[str, str]) -> Level:
    """Return the highest level whose parts were all looked at, and what the next one wants. ``looked`` part -> how.

    >>> level({"cap": "by hand", "faces": "by hand", "flue tops": "close to"})
    Level(reached=0, wants=('flue inside', 'appliance'))
    """
    reached = 0
    for number, asked in ASKS.items():
        wants = tuple(part for part, ways in asked.items() if looked.get(part) not in ways)
        if wants:
            return Level(reached, wants)
        reached = number
    return Level(reached, ())
