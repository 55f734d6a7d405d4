"""The readings of a roof visit in the order to take them, each with what is typed there so far."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import chain
from typing import Any

from crownwright.quantity.problems import Problem
from crownwright.service.up_top.around import around_steps
from crownwright.service.up_top.lines import corners_of, items_of
from crownwright.service.up_top.model import Ask, Step
from crownwright.service.up_top.stone import along, drops, inward, offsets
from crownwright.service.up_top.taped import Tapes, corner_tapes, points, ties
from crownwright.service.up_top.typed import Values, others, plain_item, typed_text
from crownwright.survey.model import NextReading
from crownwright.survey.names import side_names

SERVES = tuple((word, word) for word in ("open fireplace", "stove", "oil boiler", "gas boiler", "nothing any more"))
SHAPES = ("rectangular", "round")


def steps_of(values: Values, wanted: Sequence[NextReading], doubtful: bool) -> tuple[Step, ...]:
    """Every reading to take or taken. ``wanted`` tapes that the survey asks for stand first when the tapes do not close."""
    table = table_of(values)
    corners = corners_of(table)
    tapes = Tapes(items_of(table, "tapes"))
    planned = [*corner_tapes(corners, tapes)]
    flues = [step for i, flue in enumerate(items_of(table, "flues")) if (step := _flue(flue, i))]
    tied = [tie for flue in items_of(table, "flues") for tie in ties(flue, corners, tapes)]
    more = list(tapes.rest())
    whole = all(step.taken for step in (*planned, *tied))
    asked = [step for reading in wanted if (step := tapes.wanted(reading))] if whole or doubtful else []
    front, back = (asked, []) if doubtful else ([], asked)
    rest = (offsets(table, corners), drops(table, corners), around_steps(values))
    return tuple(chain(front, planned, flues, tied, more, back, *rest))


def adds_of(values: Values) -> tuple[Step, ...]:
    """Readings that may be added as often as wanted."""
    table = table_of(values)
    corners = corners_of(table)
    name = next_flue(table)
    sides = tuple((side, side) for side in side_names(corners))
    ends = tuple((p, p) for p in (*corners, *chain.from_iterable(points(f) for f in items_of(table, "flues"))))
    return (
        *(_new_flue(name, shape) for shape in SHAPES),
        Step(
            "tape:+", "tape", "Another tape", "Tape between two points", "one more tape checks the others", "readings.tapes[+]",
            (Ask("start", "From", options=ends), Ask("end", "To", options=ends), Ask("reads", "The tape reads")),
        ),
        Step(
            "offset:+", "offset", "Another offset", "Another stone: out of the string",
            "shows the face between its corners", "readings.offsets[+]",
            (Ask("side", "Side", options=sides), along(), Ask("out", "Out of the string", signed=True)), tap="side",
        ),
        Step(
            "drop:+", "drop", "Another drop", "Anywhere on the stone: down to it", "narrows the concrete's volume",
            "readings.drops[+]",
            (Ask("side", "Side", options=sides), along(), inward(), Ask("below", "Down to the stone", signed=True)), tap="top",
        ),
    )  # fmt: skip


def new_ties(values: Values) -> dict[str, tuple[Step, ...]]:
    """By shape, the tapes that the next flue will want."""
    table = table_of(values)
    name, corners = next_flue(table), corners_of(table)
    return {shape: tuple(ties({"name": name, "shape": shape}, corners, Tapes([]))) for shape in SHAPES}


def table_of(values: Values) -> Values:
    """The table [readings] as typed."""
    table = values.get("readings")
    return table if isinstance(table, Mapping) else {}


def next_flue(table: Values) -> str:
    """A name for one more flue."""
    taken = {str(flue.get("name")) for flue in items_of(table, "flues") if isinstance(flue, Mapping)}
    return next(f"F{n}" for n in range(1, len(taken) + 2) if f"F{n}" not in taken)


def _new_flue(name: str, shape: str) -> Step:
    fixed = {"name": name, "shape": shape}
    return Step(
        f"flue:+{shape}", "flue", f"A {shape} flue", f"{name}, {shape}: its size and height", "the cap is cast round it",
        f"readings.flues[name={name}]", flue_asks(fixed), fixed,
    )  # fmt: skip


def _flue(item: Any, i: int) -> Step | None:
    if not isinstance(item, Mapping):
        return None
    name = str(item.get("name", f"flue {i + 1}"))
    asks = flue_asks(item)
    return Step(
        f"flue:{name}", "flue", f"{name}, {item.get('shape', 'rectangular')}", f"Size and height of {name}",
        "the cap is cast round it", f"readings.flues[{i}]", asks, others(item, [a.key for a in asks]), plain_item(item), name,
    )  # fmt: skip


def flue_asks(item: Values) -> tuple[Ask, ...]:
    """What is asked of a flue."""
    outside = item.get("outside")
    sizes = [typed_text(size) for size in outside] if isinstance(outside, list) else []
    sizes += [""] * 2
    name = item.get("name")
    if item.get("shape") == "round":
        size: tuple[Ask, ...] = (Ask("outside.0", f"{name}: outside, right across", sizes[0]),)
    else:
        size = (
            Ask("outside.0", f"{name}: outside, along {name}a to {name}b", sizes[0]),
            Ask("outside.1", f"{name}: outside, along {name}b to {name}c", sizes[1]),
        )
    return (
        *size,
        Ask("above_string", f"{name}: its top above the string", typed_text(item.get("above_string"))),
        Ask("serves", f"{name}: what burns into it", typed_text(item.get("serves")), SERVES, may=True),
    )


def with_trouble(steps: tuple[Step, ...], trouble: Mapping[str, tuple[Problem, ...]]) -> tuple[Step, ...]:
    """Steps with the problems of the places in the job file they stand at ("readings.tapes[3]")."""
    return tuple(replace(step, problems=trouble[step.path]) if step.path in trouble else step for step in steps)
