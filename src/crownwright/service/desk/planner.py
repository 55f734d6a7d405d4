"""Plans by the text they follow from: the same text is planned once, and not by the process that answers pages if it can be."""

from __future__ import annotations

import hashlib
import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from typing import TYPE_CHECKING, Any, TypeAlias, TypeVar

from crownwright.service.desk.calm import awake, begin_planning

if TYPE_CHECKING:
    from crownwright.service.open_job import Opened
    from crownwright.service.plan_a_job import Planned

KEPT = 96  # plans; about a third of a megabyte each
Answer: TypeAlias = "tuple[Opened, Planned | None]"
T = TypeVar("T")


def plan_text(text: str, cut_list: bool) -> Answer:
    """Read a job file's text and plan it; no plan where the text has faults."""
    from crownwright.service.open_job import open_text  # loaded when the first plan is asked for: listing a book needs none of it
    from crownwright.service.plan_a_job import plan_a_job

    opened = open_text(text, "job.toml")
    return opened, None if opened.job is None else plan_a_job(opened.job, text, cut_list=cut_list)


class Planner:
    """Plans texts, keeps the newest answers, and lets two that ask for the same text wait for one answer."""

    def __init__(self, processes: int = 0) -> None:
        self._lock = threading.Lock()
        self._kept: OrderedDict[Hashable, Future[Any]] = OrderedDict()
        self._processes = processes
        self._pool = _pool(processes) if processes else None

    def plan(self, text: str, *, cut_list: bool = True) -> Answer:
        """The job read from a text, and its plan."""
        return self.work((hashlib.sha256(text.encode()).hexdigest(), cut_list), plan_text, text, cut_list)

    def work(self, key: Hashable, do: Callable[..., T], *args: object) -> T:
        """What ``do(*args)`` returns, worked out once for each ``key``; ``do`` stands at the top of a module, so that another
        process can be told to do it.
        """
        with self._lock:
            kept = self._kept.get(key)
            mine = kept is None
            future: Future[T] = Future() if kept is None else kept
            self._kept[key] = future
            self._kept.move_to_end(key)
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
        if mine:
            self._do(key, future, do, args)
        return future.result()

    def _do(self, key: Hashable, future: Future[T], do: Callable[..., T], args: tuple[object, ...]) -> None:
        try:
            future.set_result(self._elsewhere(do, args) if self._processes else do(*args))
        except BaseException as error:
            with self._lock:
                self._kept.pop(key, None)
            future.set_exception(error)

    def _elsewhere(self, do: Callable[..., T], args: tuple[object, ...]) -> T:
        """Do it in another process. Where one was killed (out of memory), the rest are gone too: new ones are called, once."""
        pool = self._ready()
        try:
            return pool.submit(do, *args).result()
        except BrokenProcessPool:
            with self._lock:
                self._pool = None if self._pool is pool else self._pool
            return self._ready().submit(do, *args).result()

    def _ready(self) -> ProcessPoolExecutor:
        with self._lock:
            if self._pool is None:
                self._pool = _pool(self._processes)
            return self._pool

    def close(self) -> None:
        """Send the planning processes home."""
        if self._pool is not None:
            self._pool.shutdown(wait=True, cancel_futures=True)


def _pool(processes: int) -> ProcessPoolExecutor:
    pool = ProcessPoolExecutor(processes, get_context("spawn"), begin_planning)
    for _ in range(processes):
        pool.submit(awake)
    return pool
