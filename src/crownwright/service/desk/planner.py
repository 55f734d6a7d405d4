"""Plans by the text they follow from: the same text is planned once, and not by the process that answers pages if it can be."""

from __future__ import annotations

import hashlib
import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from typing import TYPE_CHECKING, Any, TypeAlias, TypeVar, cast

from crownwright.quantity.kept import Kept
from crownwright.service.desk.calm import awake, begin_planning
from crownwright.service.desk.parcel import packed, unpacked

if TYPE_CHECKING:
    from crownwright.service.draw_a_plan import Picture
    from crownwright.service.open_job import Opened
    from crownwright.service.plan_a_job import Planned

KEPT = 128  # plans, about a third of a megabyte each, and what was drawn of them
KEPT_LONG = 32  # days of jobs; about half a megabyte each
PARTS = Kept(400)  # survey, cap, form and its checks of a hundred jobs; about 0.1 MB each
PLANNED = Kept(16)  # plans that may be drawn next
Answer: TypeAlias = "tuple[Opened, Planned | None]"
Pictures: TypeAlias = "tuple[Picture, ...]"
T = TypeVar("T")


def plan_text(text: str, cut_list: bool) -> Answer:
    """Read a job file's text and plan it; no plan where the text has faults. Parts made lately are taken over."""
    from crownwright.service.open_job import open_text  # loaded when the first plan is asked for: listing a book needs none of it
    from crownwright.service.plan_a_job import plan_a_job

    def make() -> Answer:
        opened = open_text(text, "job.toml")
        return opened, None if opened.job is None else plan_a_job(opened.job, text, cut_list=cut_list, kept=PARTS)

    return PLANNED.get((text, cut_list), make)


def draw_text(text: str, names: tuple[str, ...]) -> Pictures:
    """Plan a job file's text and draw what is named of it; none where there is no plan, or it does not go so far."""
    from crownwright.service.draw_a_plan import pictures_named

    _, planned = plan_text(text, cut_list=True)
    return () if planned is None else pictures_named(planned.plan, *names)


def plan_and_draw(text: str, names: tuple[str, ...]) -> tuple[Answer, Pictures]:
    """Both at once: what is drawn is drawn where it was planned."""
    return plan_text(text, cut_list=True), draw_text(text, names)


class _Answers:
    """The newest ``most`` answers by what they follow from, those under way too; what failed is told once and then tried anew."""

    def __init__(self, most: int) -> None:
        self._lock = threading.Lock()
        self._kept: OrderedDict[Hashable, Future[Any]] = OrderedDict()
        self._most = most

    def claim(self, key: Hashable) -> tuple[Future[Any], bool]:
        """The answer of that key as it comes, and whether it is the caller who has to bring it."""
        with self._lock:
            kept = self._kept.get(key)
            future: Future[Any] = Future() if kept is None else kept
            self._kept[key] = future
            self._kept.move_to_end(key)
            if future.done() and future.exception() is not None:
                del self._kept[key]
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)
        return future, kept is None

    def put(self, key: Hashable, answer: object) -> None:
        """Keep an answer that came with another."""
        future, mine = self.claim(key)
        if mine:
            future.set_result(answer)

    def forget(self, key: Hashable) -> None:
        """Let go of an answer."""
        with self._lock:
            self._kept.pop(key, None)


class _Workers:
    """So many processes beside this one, called when they are needed; none: the work is done here."""

    def __init__(self, count: int) -> None:
        self._lock = threading.Lock()
        self._count = count
        self._pool: ProcessPoolExecutor | None = None

    def do(self, do: Callable[..., T], args: tuple[object, ...]) -> T:
        """Do it there. Where one was killed (out of memory), the rest are gone too: new ones are called, once."""
        if not self._count:
            return do(*args)
        pool = self.ready()
        try:
            return cast(T, unpacked(pool.submit(_sent, do, *args).result()))
        except BrokenProcessPool:
            with self._lock:
                self._pool = None if self._pool is pool else self._pool
            return cast(T, unpacked(self.ready().submit(_sent, do, *args).result()))

    def ready(self) -> ProcessPoolExecutor:
        """Call them, where they are not there."""
        with self._lock:
            if self._pool is None:
                self._pool = _pool(self._count)
            return self._pool

    def close(self) -> None:
        """Send them home."""
        if self._pool is not None:
            self._pool.shutdown(wait=True, cancel_futures=True)


class Planner:
    """Plans texts, keeps the newest answers, and lets two that ask for the same text wait for one answer. What takes seconds has
    a process of its own, so that no plan waits behind it.
    """

    def __init__(self, processes: int = 0) -> None:
        self._plans, self._days = _Answers(KEPT), _Answers(KEPT_LONG)
        self._workers, self._slow = _Workers(processes), _Workers(min(processes, 1))
        if processes:
            self._workers.ready()

    def plan(self, text: str, *, cut_list: bool = True) -> Answer:
        """The job read from a text, and its plan."""
        return self.work(_plan_key(text, cut_list), plan_text, text, cut_list)

    def drawn(self, text: str, *names: str) -> tuple[Answer, Pictures]:
        """Its plan and the drawings of those names: one errand for both, where neither is there yet."""
        key = _plan_key(text)
        plan, mine = self._plans.claim(key)
        if not mine:
            return plan.result(), self.work((key, names), draw_text, text, names)
        try:
            answer, pictures = self._workers.do(plan_and_draw, (text, names))
        except BaseException as error:
            plan.set_exception(error)
            self._plans.forget(key)
            raise
        plan.set_result(answer)
        self._plans.put((key, names), pictures)
        return answer, pictures

    def work(self, key: Hashable, do: Callable[..., T], *args: object) -> T:
        """What ``do(*args)`` returns, worked out once for each ``key``; ``do`` stands at the top of a module, so that another
        process can be told to do it.
        """
        future, mine = self._plans.claim(key)
        if mine:
            _bring(future, self._workers, do, args)
            if future.exception() is not None:
                self._plans.forget(key)
        answer: T = future.result()
        return answer

    def begin(self, key: Hashable, do: Callable[..., T], *args: object) -> Future[T]:
        """The same for what takes seconds: begun beside all else, and its answer as it comes."""
        future, mine = self._days.claim(key)
        if mine:
            threading.Thread(target=_bring, args=(future, self._slow, do, args), daemon=True).start()
        return future

    def close(self) -> None:
        """Send the planning processes home."""
        self._workers.close()
        self._slow.close()


def _plan_key(text: str, cut_list: bool = True) -> Hashable:
    return hashlib.sha256(text.encode()).hexdigest(), cut_list


def _bring(future: Future[T], workers: _Workers, do: Callable[..., T], args: tuple[object, ...]) -> None:
    try:
        future.set_result(workers.do(do, args))
    except BaseException as error:
        future.set_exception(error)


def _sent(do: Callable[..., object], *args: object) -> bytes:
    return packed(do(*args))


def _pool(processes: int) -> ProcessPoolExecutor:
    pool = ProcessPoolExecutor(processes, get_context("spawn"), begin_planning)
    for _ in range(processes):
        pool.submit(awake)
    return pool
