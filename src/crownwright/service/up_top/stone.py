"""How the stone lies: how far its faces stand out of the strings, how far its top lies under the level string."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from crownwright.service.up_top.lines import items_of
from crownwright.service.up_top.model import Ask, Step, Tap
from crownwright.service.up_top.typed import Values, is_plain, others, plain_item, typed_text
from crownwright.survey.names import side_names


def offsets(table: Values, corners: tuple[str, ...]) -> Iterator[Step]:
    """The proudest stone of each side, then any other offset that was read."""
    items = items_of(table, "offsets")
    proudest = {item.get("side"): i for i, item in reversed(list(enumerate(items))) if _says(item, proudest=True)}
    for side in side_names(corners):
        i = proudest.pop(side, None)
        item = items[i] if i is not None else {}
        path = f"readings.offsets[{i}]" if item else f"readings.offsets[side={side},proudest=True]"
        yield Step(
            f"offset:{side}", "offset", f"Proudest stone along {side}",
            f"Along {side}: the stone that stands out furthest", "touch where it is, then how far out of the string it stands",
            path if item or is_plain(side) else "readings.offsets[+]", offset_asks(item),
            others(item, ("along", "out")) or {"side": side, "proudest": True}, plain_item(item), side=side, tap="side",
        )  # fmt: skip
    taken = {i for i, item in enumerate(items) if _says(item, proudest=True)} - set(proudest.values())
    for i, item in enumerate(items):
        if i not in taken and isinstance(item, Mapping):
            side = str(item.get("side"))
            yield Step(
                f"offset:#{i}", "offset", f"Offset along {side}", f"Along {side}: out of the string",
                "shows the face between its corners", f"readings.offsets[{i}]", offset_asks(item),
                others(item, ("along", "out")), plain_item(item), side=side, tap="side",
            )  # fmt: skip


def offset_asks(item: Values) -> tuple[Ask, ...]:
    """What is asked of an offset."""
    return along(item), Ask("out", "Out of the string (minus: in)", typed_text(item.get("out")), signed=True)


def along(item: Values | None = None) -> Ask:
    """How far along its side a place is."""
    return Ask("along", "How far along", typed_text((item or {}).get("along")))


def inward(item: Values | None = None) -> Ask:
    """How far in from the string."""
    return Ask("inward", "How far in from the string", typed_text((item or {}).get("inward")), may=True)


def _says(item: Any, **those: Any) -> bool:
    return isinstance(item, Mapping) and all(item.get(key) == value for key, value in those.items())


@dataclass(frozen=True, slots=True)
class _Wanted:
    """A drop that is to be looked for: what its line says beside place and reading, and how it is asked."""

    key: str
    name: str
    ask: str
    why: str
    fixed: Values = field(default_factory=dict)
    tap: Tap = ""

    def path(self) -> str:
        """Where a new one goes: named by what it says, so that two phones meet on it."""
        if not self.fixed or not all(is_plain(str(value)) for value in self.fixed.values()):
            return "readings.drops[+]"
        return f"readings.drops[{','.join(f'{key}={value}' for key, value in self.fixed.items())}]"


def _sought(corners: tuple[str, ...]) -> Iterator[_Wanted]:
    """The drops that every top wants."""
    yield _Wanted(
        "drop:highest",
        "Highest hump",
        "The highest hump of the whole top",
        "touch where it is, then how far under the string; it sets the cap's height",
        {"extreme": "highest"},
        "top",
    )
    why = "touch where it is, then how far down; it sets how low the cap's underside must reach"
    for side in side_names(corners):
        fixed = {"side": side, "extreme": "lowest edge"}
        ask = f"Along {side}: the lowest sound edge"
        yield _Wanted(f"drop:lowest:{side}", f"Lowest edge along {side}", ask, why, fixed, "side")
    for corner in corners:
        ask = f"At corner {corner}: down to the stone"
        yield _Wanted(f"drop:corner:{corner}", f"Drop at {corner}", ask, "shows how the stone lies", {"corner": corner})


_INSIDE = _Wanted(
    "drop:inside",
    "A drop inside",
    "In the middle, between the flues: down to the stone",
    "narrows the concrete's volume",
    tap="top",
)


def drops(table: Values, corners: tuple[str, ...]) -> Iterator[Step]:
    """The highest hump, the lowest edge of each side, the corners, one inside, then any other."""
    items = items_of(table, "drops")
    left = dict.fromkeys(i for i, item in enumerate(items) if isinstance(item, Mapping))
    for wanted in _sought(corners):
        i = next((i for i in left if _answers(items[i], wanted)), None)
        if i is None:
            yield _new_drop(wanted, corners)
        else:
            left.pop(i)
            yield _read_drop(items[i], i, wanted, corners)
    if not any(typed_text(items[i].get("inward")) for i in left):
        yield _new_drop(_INSIDE, corners)
    for i in left:
        where = said_place(items[i])
        wanted = _Wanted(f"drop:#{i}", f"Drop {where}", f"The drop {where}", "narrows the concrete's volume")
        yield _read_drop(items[i], i, wanted, corners)


def _answers(item: Values, wanted: _Wanted) -> bool:
    return _says(item, **wanted.fixed) and ("extreme" in wanted.fixed or "extreme" not in item)


def _new_drop(wanted: _Wanted, corners: Sequence[str]) -> Step:
    asks = _drop_asks({}, wanted.fixed, corners)
    fixed = wanted.fixed
    return Step(
        wanted.key, "drop", wanted.name, wanted.ask, wanted.why, wanted.path(), asks, fixed,
        start=str(fixed.get("corner", "")), side=str(fixed.get("side", "")), tap=wanted.tap,
    )  # fmt: skip


def _read_drop(item: Values, i: int, wanted: _Wanted, corners: Sequence[str]) -> Step:
    asks = _drop_asks(item, wanted.fixed, corners)
    beside = others(item, [a.key for a in asks])
    return Step(
        wanted.key, "drop", wanted.name, wanted.ask, wanted.why, f"readings.drops[{i}]", asks, beside,
        plain_item(item), str(item.get("corner", "")), side=str(item.get("side", "")), tap=wanted.tap,
    )  # fmt: skip


def said_place(item: Values) -> str:
    """Where a drop was read, in a few words."""
    if item.get("corner"):
        return f"at {item['corner']}"
    if item.get("side"):
        inward = typed_text(item.get("inward"))
        return f"along {item['side']} at {typed_text(item.get('along'))}" + (f", {inward} in from the string" if inward else "")
    return f"where tapes from {item.get('first')} and {item.get('second')} meet"


def _drop_asks(item: Values, fixed: Values, corners: Sequence[str]) -> tuple[Ask, ...]:
    below = Ask("below", "Down to the stone (minus: above the string)", typed_text(item.get("below")), signed=True)
    if item.get("corner") or fixed.get("corner"):
        return (below,)
    if "first" in item or "second" in item:
        tied = (Ask(f"{k}_reads", f"From {item.get(k)}", typed_text(item.get(f"{k}_reads"))) for k in ("first", "second"))
        return (*tied, below)
    if fixed.get("side"):
        return along(item), below
    sides = tuple((side, side) for side in side_names(tuple(corners)))
    return Ask("side", "Side", typed_text(item.get("side")), sides), along(item), inward(item), below
