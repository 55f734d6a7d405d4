"""Plans by the text they follow from: the same text is planned once, and not by the process that answers pages if it can be."""

from __future__ import annotations

import hashlib
import threading
from collections import OrderedDict
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from typing import TYPE_CHECKING, TypeAlias

from crownwright.service.desk.calm import awake, calm

if TYPE_CHECKING:
    from crownwright.service.open_job import Opened
    from crownwright.service.plan_a_job import Planned

KEPT = 96  # plans; about a third of a megabyte each
Answer: TypeAlias = "tuple[Opened, Planned | None]"


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
        self._kept: OrderedDict[tuple[str, bool], Future[Answer]] = OrderedDict()
        self._processes = processes
        self._pool = _pool(processes) if processes else None

    def plan(self, text: str, *, cut_list: bool = True) -> Answer:
        """The job read from a text, and its plan."""
        key = (hashlib.sha256(text.encode()).hexdigest(), cut_list)
        with self._lock:
            kept = self._kept.get(key)
            mine = kept is None
            future: Future[Answer] = Future() if kept is None else kept
            self._kept[key] = future
            self._kept.move_to_end(key)
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
        if mine:
            self._work(key, text, cut_list, future)
        return future.result()

    def _work(self, key: tuple[str, bool], text: str, cut_list: bool, future: Future[Answer]) -> None:
        try:
            future.set_result(self._elsewhere(text, cut_list) if self._processes else plan_text(text, cut_list))
        except BaseException as error:
            with self._lock:
                self._kept.pop(key, None)
            future.set_exception(error)

    def _elsewhere(self, text: str, cut_list: bool) -> Answer:
        """Plan in another process. Where one was killed (out of memory), the rest are gone too: new ones are called, once."""
        pool = self._ready()
        try:
            return pool.submit(plan_text, text, cut_list).result()
        except BrokenProcessPool:
            with self._lock:
                self._pool = None if self._pool is pool else self._pool
            return self._ready().submit(plan_text, text, cut_list).result()

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
    pool = ProcessPoolExecutor(processes, get_context("spawn"), calm)
    for _ in range(processes):
        pool.submit(awake)
    return pool
