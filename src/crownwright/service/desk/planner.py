"""Plans by the text they follow from: the same text is planned once, and not by the process that answers pages if it can be."""

from __future__ import annotations

import hashlib
import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from concurrent.futures import Future
from functools import partial
from typing import TYPE_CHECKING, Any, TypeAlias, TypeVar

from crownwright.quantity.kept import Kept
from crownwright.service.desk.workers import Workers

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

    def forget(self, key: Hashable) -> None:
        """Let go of an answer."""
        with self._lock:
            self._kept.pop(key, None)


class Planner:
    """Plans texts, keeps the newest answers, and lets two that ask for the same text wait for one answer. What takes seconds has
    a process of its own, so that no plan waits behind it.
    """

    def __init__(self, processes: int = 0) -> None:
        self._plans, self._days = _Answers(KEPT), _Answers(KEPT_LONG)
        self._workers, self._slow = Workers(processes), Workers(min(processes, 1))
        self._workers.ready()

    def plan(self, text: str, *, cut_list: bool = True) -> Answer:
        """The job read from a text, and its plan."""
        return self.work(_plan_key(text, cut_list), plan_text, text, cut_list)

    def drawn(self, text: str, *names: str) -> tuple[Answer, Callable[[], Pictures]]:
        """Its plan, and what waits for the drawings of those names: they are made where it was planned while the plan is used."""
        key, begun = _plan_key(text), list[Callable[[], Pictures]]()

        def planned() -> Answer:
            plan, drawings = self._workers.begin((plan_text, (text, True)), (draw_text, (text, names)))
            begun.append(drawings)
            answer: Answer = plan()
            return answer

        answer = self._once(key, planned)
        drawings = begun[0] if begun else partial(self._workers.do, draw_text, text, names)
        return answer, partial(self._once, (key, names), drawings)

    def work(self, key: Hashable, do: Callable[..., T], *args: object) -> T:
        """What ``do(*args)`` returns, worked out once for each ``key``; ``do`` stands at the top of a module, so that another
        process can be told to do it.
        """
        return self._once(key, partial(self._workers.do, do, *args))

    def begin(self, key: Hashable, do: Callable[..., T], *args: object) -> Future[T]:
        """The same for what takes seconds: begun beside all else, and its answer as it comes."""
        future, mine = self._days.claim(key)
        if mine:
            threading.Thread(target=_bring, args=(future, partial(self._slow.do, do, *args)), daemon=True).start()
        return future

    def close(self) -> None:
        """Send the planning processes home."""
        self._workers.close()
        self._slow.close()

    def _once(self, key: Hashable, bring: Callable[[], T]) -> T:
        """What ``bring`` gives, once for each key; what failed is told to all who wait for it, and then tried anew."""
        future, mine = self._plans.claim(key)
        if mine:
            _bring(future, bring)
            if future.exception() is not None:
                self._plans.forget(key)
        answer: T = future.result()
        return answer


def _plan_key(text: str, cut_list: bool = True) -> Hashable:
    return hashlib.sha256(text.encode()).hexdigest(), cut_list


def _bring(future: Future[T], bring: Callable[[], T]) -> None:
    try:
        future.set_result(bring())
    except BaseException as error:
        future.set_exception(error)
