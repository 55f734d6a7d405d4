"""The roof and what stands round the chimney: read while he is up there, each left out where it cannot be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from crownwright.service.up_top.model import Ask, Step

PITCHES = tuple((f"{rise} in 12", f"{rise}:12") for rise in (2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16))
_KEYS = (
    ("roof_pitch", "Roof pitch", "How steep is the roof?", "height over the roof, and how you stand there"),
    ("ridge_away", "To the ridge", "From the nearest face to the ridge, level", "height over the ridge"),
    ("roof_below_string", "Roof, uphill side", "From the string down to the roof, uphill side", "height over the roof"),
    (
        "roof_below_string_low",
        "Roof, downhill side",
        "From the string down to the roof on the downhill side",
        "wind on the stack",
    ),
    (
        "width_along_ridge",
        "Stack, along the ridge",
        "Stack along the ridge, at the roof",
        "whether it wants a cricket",
    ),
    ("stack_least_width", "Stack, least width", "Least width of the stack where it leaves the roof", "how the stack stands"),
    ("eave_height", "Eave", "Height of the eave above ground", "ladder and lift"),
)


def around_steps(values: Mapping[str, Any]) -> Iterator[Step]:
    """A step for each thing read round the chimney."""
    table = values.get("surroundings")
    table = table if isinstance(table, Mapping) else {}
    for key, name, ask, why in _KEYS:
        typed = str(getattr(table.get(key), "typed", table.get(key, "")))
        options = PITCHES if key == "roof_pitch" else ()
        if typed and options and typed not in dict(options):
            options = ((typed, typed), *options)
        before = {key: typed} if typed else None
        yield Step(f"around:{key}", "around", name, ask, why, "surroundings", (Ask(key, name, typed, options),), {}, before)
