"""The newest of what was made and may be asked for again (parts of plans, drawings, prices), so that it is made once."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from typing import TypeVar, cast

T = TypeVar("T")


class Kept:
    """Keeps the newest ``most`` answers by their key (none: nothing). What is made twice at the same moment does no harm.

    >>> kept = Kept()
    >>> kept.get("a", lambda: 1), kept.get("a", lambda: 2)
    (1, 1)
    """

    def __init__(self, most: int = 256) -> None:
        self._lock = threading.Lock()
        self._made: OrderedDict[Hashable, object] = OrderedDict()
        self._most = most

    def get(self, key: Hashable, make: Callable[[], T]) -> T:
        """The answer of that key, made now if it was not yet."""
        if not self._most:
            return make()
        with self._lock:
            if key in self._made:
                self._made.move_to_end(key)
                return cast(T, self._made[key])
        answer = make()
        with self._lock:
            self._made[key] = answer
            while len(self._made) > self._most:
                self._made.popitem(last=False)
        return answer
