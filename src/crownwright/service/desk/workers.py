"""Processes that work beside the one that answers pages, each with what it made lately at hand."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from functools import partial
from multiprocessing import get_context
from typing import Any, TypeAlias, TypeVar, cast

from crownwright.service.desk.calm import awake, begin_planning
from crownwright.service.desk.parcel import packed, unpacked

T = TypeVar("T")
Errand: TypeAlias = "tuple[Callable[..., Any], tuple[object, ...]]"
"""A function that stands at the top of a module, so that another process can be told to call it, and its arguments."""


class Workers:
    """So many processes, called when they are needed; with none the work is done here."""

    def __init__(self, count: int) -> None:
        self._lock = threading.Lock()
        self.all = tuple(Worker() for _ in range(count))

    def do(self, do: Callable[..., T], *args: object) -> T:
        """What ``do(*args)`` returns, worked out there."""
        return cast(T, self.begin((do, args))[0]())

    def begin(self, *errands: Errand) -> tuple[Callable[[], Any], ...]:
        """Give errands to the process that has the fewest in hand, which does them in their order.

        Each answer is waited for when it is asked for, so that the first can be used while the next is worked out.
        """
        if not self.all:
            return tuple(partial(do, *args) for do, args in errands)
        with self._lock:
            least = min(self.all, key=lambda one: one.in_hand)
            return tuple(least.begin(*errand) for errand in errands)

    def ready(self) -> None:
        """Call them, where they are not there."""
        for one in self.all:
            one.ready()

    def close(self) -> None:
        """Send them home."""
        for one in self.all:
            one.close()


class Worker:
    """One process. Where it was killed (out of memory) it is called anew, once for each errand it had in hand."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._pool: ProcessPoolExecutor | None = None
        self.in_hand = 0

    def begin(self, do: Callable[..., Any], args: tuple[object, ...]) -> Callable[[], Any]:
        """Send it an errand; what is returned waits for the answer."""
        with self._lock:
            self.in_hand += 1
        pool, future = self._send(do, args)
        future.add_done_callback(self._done)

        def answer() -> Any:
            try:
                return unpacked(future.result())
            except BrokenProcessPool:
                self._let_go(pool)
                return unpacked(self._send(do, args)[1].result())

        return answer

    def ready(self) -> ProcessPoolExecutor:
        """Call it, where it is not there."""
        with self._lock:
            if self._pool is None:
                self._pool = ProcessPoolExecutor(1, get_context("spawn"), begin_planning)
                self._pool.submit(awake)
            return self._pool

    def close(self) -> None:
        """Send it home."""
        if self._pool is not None:
            self._pool.shutdown(wait=True, cancel_futures=True)

    def _send(self, do: Callable[..., Any], args: tuple[object, ...]) -> tuple[ProcessPoolExecutor, Future[bytes]]:
        pool = self.ready()
        try:
            return pool, pool.submit(_sent, do, *args)
        except BrokenProcessPool:
            self._let_go(pool)
            pool = self.ready()
            return pool, pool.submit(_sent, do, *args)

    def _let_go(self, pool: ProcessPoolExecutor) -> None:
        with self._lock:
            self._pool = None if self._pool is pool else self._pool

    def _done(self, _future: Future[bytes]) -> None:
        with self._lock:
            self.in_hand -= 1


def _sent(do: Callable[..., object], *args: object) -> bytes:
    return packed(do(*args))
