"""Send answers between processes: as pickles, but with each frozen, slotted dataclass as its values and no more.

The library's own way asks every object for its fields by name on either side, which takes longer than all the rest of the
sending: a plan has two thousand objects.
"""

from __future__ import annotations

import gc
import io
import pickle
from collections.abc import Callable
from dataclasses import fields
from functools import cache
from operator import attrgetter
from typing import Any


def packed(answer: object) -> bytes:
    """Return an answer as bytes for `unpacked`."""
    into = io.BytesIO()
    _Packer(into, pickle.HIGHEST_PROTOCOL).dump(answer)
    return into.getvalue()


def unpacked(parcel: bytes) -> Any:
    """Return what was packed. Only for what a process of our own has packed: a pickle can do anything.

    >>> from crownwright.quantity.uncertain import Uncertain
    >>> unpacked(packed((Uncertain(0.17, 0.005), None)))
    (Uncertain(mean=0.17, sd=0.005), None)
    """
    gc.disable()  # thousands of new objects and none to throw away: looking for some takes as long as the rest
    try:
        return pickle.loads(parcel)
    finally:
        gc.enable()


class _Packer(pickle.Pickler):
    def reducer_override(self, one: object) -> Any:
        """How one object goes: a slotted dataclass as its kind and values, everything else as ever."""
        kind: Any = type(one)
        values = _values(kind)
        return NotImplemented if values is None else (_made_again, values(one))


@cache
def _values(kind: type) -> Callable[[object], tuple[Any, ...]] | None:
    """What gives the kind and the fields of a frozen dataclass, where those are all that it holds; else None."""
    settings = getattr(kind, "__dataclass_params__", None)
    if settings is None or not settings.frozen or kind.__dictoffset__ != 0:
        return None
    return attrgetter("__class__", *(field.name for field in fields(kind)))


@cache
def _setters(kind: type) -> tuple[Callable[[object, object], None], ...]:
    return tuple(getattr(kind, field.name).__set__ for field in fields(kind))


def _made_again(kind: type, *values: object) -> object:
    one: object = object.__new__(kind)
    for put, value in zip(_setters(kind), values, strict=True):
        put(one, value)
    return one
