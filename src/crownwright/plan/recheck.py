"""Exchange findings or figures of a plan for the same ones worked out again, by key."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol, TypeVar


class _Keyed(Protocol):
    @property
    def key(self) -> str: ...


K = TypeVar("K", bound=_Keyed)


def exchanged(now: Sequence[K], old: Sequence[K], new: Sequence[K]) -> tuple[K, ...]:
    """Return ``now`` with what is in ``old`` as it is in ``new``: changed in place, gone where it is gone, what is new after
    what it follows there. What is not in ``old`` is left alone. Keys are unique in each.
    """
    will, was = {one.key: one for one in new}, {one.key for one in old}
    found = [will.get(one.key, one) for one in now if one.key not in was or one.key in will]
    at = {one.key: k for k, one in enumerate(found)}
    after = -1
    for one in new:
        if one.key in at:
            after = at[one.key]
        elif one.key not in was:
            after += 1
            found.insert(after, one)
            at = {other.key: k for k, other in enumerate(found)}
    return tuple(found)
