"""A roof visit in a real browser while the network is cut at random moments: what was typed beside what is in the book."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, get_args

from playwright.sync_api import BrowserContext, Error, Page, Route
from tests.browser.waits import LONGEST as PATIENCE
from tests.browser.waits import ONLINE, WAITING

from crownwright.book import revisions
from crownwright.service.desk.begin_job import begin_job
from crownwright.service.desk.model import By
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.settle_conflict import conflicts_of
from crownwright.service.jobfile.syntax import parse_toml

Cut = Literal["nothing goes out", "the answer is lost", "it hangs", "the phone goes dark"]
"""How the network fails: requests fail at once; the book keeps what was sent but its answer never comes back; nothing is heard
either way until it is given up; nothing goes out and the page itself is closed, to be opened again once there is a network."""
LONGEST = 25  # keys pressed while the network is down
AHEAD = 30  # s for the outbox to empty once the network is back
Typed = tuple[str, tuple[str, ...]]

VISIT: tuple[Typed, ...] = (
    ("tape:A-B", ("45 3/4",)),
    ("tape:B-C", ("34 5/8",)),
    ("tape:C-D", ("45 3/8",)),
    ("tape:D-A", ("34 9/16",)),
    ("tape:A-C", ("56 1/4",)),
    ("tape:B-D", ("56 7/8",)),
    ("tape:A-C", ("57 1/4",)),  # put right: what was typed last holds
    ("flue:+rectangular", ("13", "13", "9 5/8", "")),
    ("tape:A-F1a", ("12 7/8",)),
    ("tape:B-F1b", ("27 7/8",)),
    ("tape:C-F1c", ("27 7/8",)),
    ("tape:D-F1d", ("12 1/2",)),
    ("offset:AB", ("11", "1 1/8")),
    ("offset:BC", ("18 1/2", "1/4")),
    ("drop:corner:A", ("3 1/4",)),
    ("drop:corner:B", ("2",)),
    ("drop:corner:C", ("1 1/2",)),
    ("drop:+", ("AB", "23", "17", "3 1/4")),
    ("drop:+", ("AB", "19 1/2", "30", "2 1/2")),
    ("drop:+", ("AB", "23", "17", "3 1/4")),  # the same place and drop twice over: two readings, not one sent twice
    ("tape:A-B", ("45 11/16",)),
)
"""What is typed, in order: the reading touched in the list, then the value of each of its fields."""

_PRESS = """(key) => {
  const one = key === 'enter' ? document.querySelector('#pad .enter') : document.querySelector(`#pad [data-key="${key}"]`);
  if (!one || one.disabled) throw new Error(`no key ${key}`);
  one.click();
}"""
_TOUCH = """(key) => {
  const link = document.querySelector(`.reading[data-key="${key}"] a`);
  if (!link) return false;
  link.click();
  return document.querySelector('.reading.here')?.dataset.key === key;
}"""
_CHOOSE = """([k, value]) => {
  document.querySelectorAll('#values > *')[k].querySelector(`[value="${value}"]`).click();
}"""
_SHOWN = """() => [
  document.querySelector('.reading.here')?.dataset.key ?? '',
  [...document.querySelectorAll('#values .field input, #values input:checked')].map((input) => input.value).filter(Boolean),
]"""
_READY = "() => document.querySelector('.reading.here') || document.getElementById('pad')?.hidden"


@dataclass
class Network:
    """The network between phone and book, cut and mended as told; ``lost`` counts answers that were thrown away."""

    cut: Cut | None = None
    held: list[Route] = field(default_factory=list)
    lost: int = 0
    refused: int = 0

    def carry(self, route: Route) -> None:
        """Carry a request, or fail as the cut has it."""
        if self.cut is None:
            route.continue_()
        elif self.cut == "the answer is lost" and route.request.method == "POST":
            route.fetch()
            self.lost += 1
            route.abort("connectionreset")
        elif self.cut == "it hangs":
            self.held.append(route)
        else:
            self.refused += 1
            route.abort("internetdisconnected")

    def mend(self) -> None:
        """Bring the network back; what hung is given up."""
        self.cut = None
        for route in self.held:
            route.abort("timedout")
        self.held.clear()


@dataclass
class Visit:
    """A visit under way: the page, the network, when it is cut (by keys pressed) and how."""

    context: BrowserContext
    address: str
    cuts: Mapping[int, tuple[Cut, int]]
    network: Network = field(default_factory=Network)
    pressed: int = 0
    mended_at: int = -1
    done: Counter[str] = field(default_factory=Counter)

    def __post_init__(self) -> None:
        """Open the page."""
        self.context.set_default_timeout(PATIENCE)
        self.context.route("**/*", self.network.carry)
        self.page: Page = self.context.new_page()
        self._open()

    def _open(self) -> None:
        self.page.goto(self.address)
        self.page.wait_for_function(_READY)

    def press(self, key: str) -> None:
        """Press a key; the network may fail or come back just before it."""
        if self.pressed in self.cuts and self.network.cut is None:
            cut, length = self.cuts[self.pressed]
            self.network.cut, self.mended_at = cut, self.pressed + length
            self.done[cut] += 1
        self.page.evaluate(_PRESS, key)
        self.pressed += 1
        self.page.wait_for_timeout(8)  # a thumb is slower still; lets requests begin and end between keys
        if self.network.cut is not None and self.pressed >= self.mended_at:
            self.mend()

    def mend(self) -> None:
        """The network is back; where the phone went dark the page is opened anew, with what it kept."""
        dark = self.network.cut == "the phone goes dark"
        if dark:
            self.page.close()
        self.network.mend()
        if dark:
            self.page = self.context.new_page()
            self._open()
        self.page.evaluate(ONLINE)

    def type(self, key: str, values: tuple[str, ...]) -> None:
        """Touch a reading in the list and type its values; begun again where the page was opened anew in between."""
        for _ in range(5):
            page = self.page
            if self._typed(key, values) and (page is self.page or self._went_on(key, values)):
                return
        raise AssertionError(f"{key} could not be typed")

    def _went_on(self, key: str, values: tuple[str, ...]) -> bool:
        """The phone went dark with the last key: what was typed is either kept, or shown again to be kept."""
        if self.page.evaluate(_SHOWN) != [key, [value for value in values if value]]:
            return True
        while self.page.evaluate(_SHOWN)[0] == key:
            self.press("enter")
        return True

    def _typed(self, key: str, values: tuple[str, ...]) -> bool:
        page = self.page
        page.wait_for_function(_TOUCH, arg=key)  # until it is in the list: the tapes of a flue come once the flue is kept
        fields = page.evaluate("() => [...document.querySelectorAll('#values > *')].map((f) => f.matches('.chips'))")
        for k, (value, chips) in enumerate(zip(values, fields, strict=True)):
            if chips and value:
                page.evaluate(_CHOOSE, [k, value])
            elif not chips:
                page.evaluate("(k) => document.querySelectorAll('#values > *')[k].querySelector('input').click()", k)
                for one in keys_of(value):
                    self.press(one)
                    if self.page is not page:
                        return False
        if fields[-1] and not values[-1]:
            self.press("enter")  # past the question that is left open
        self.press("enter")  # the entry is made now, whatever becomes of the page after
        return True

    def finish(self) -> int:
        """Mend the network, let the outbox empty itself, and return what still waits."""
        if self.network.cut is not None:
            self.mend()
        for _ in range(AHEAD * 10):
            waiting = int(self.page.evaluate(WAITING))
            if not waiting:
                return 0
            self.page.wait_for_timeout(100)
            self.page.evaluate(ONLINE)
        return waiting


def keys_of(value: str) -> list[str]:
    """The keys of a length.

    >>> keys_of("34 9/16")
    ['3', '4', '1/2', '+1/16']
    """
    whole, _, part = value.partition(" ") if " " in value or "/" not in value else ("", "", value)
    keys = list(whole)
    if part:
        over, under = map(int, part.split("/"))
        eighths, more = divmod(over * 16 // under, 2)
        names = ("", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8")
        keys += [name for name in (names[eighths], "+1/16" if more else "") if name]
    return keys


@dataclass(frozen=True)
class Outcome:
    """What came of a visit: how many ``cuts`` of each kind, answers ``lost``, and readings that went missing or were doubled."""

    cuts: Counter[str]
    lost_answers: int
    typed: int
    missing: tuple[str, ...]
    doubled: tuple[str, ...]
    waiting: int
    conflicts: int


def visit(context: BrowserContext, desk: Desk, home: str, seed: int, cuts: int) -> Outcome:
    """Make one visit with so many cuts at random moments, and compare."""
    job = f"visit-{seed}"
    begin_job(desk, By("E. Marr"), job, f"Visit {seed}")
    chance = random.Random(seed)
    keys = sum(len(keys_of(value)) + 1 for _, values in VISIT for value in values)
    at = sorted(chance.sample(range(1, keys - 1), cuts))
    room = [following - here for here, following in zip(at, [*at[1:], keys], strict=True)]
    planned = {
        here: (chance.choice(get_args(Cut)), chance.randint(1, max(1, min(LONGEST, gap - 1))))
        for here, gap in zip(at, room, strict=True)
    }
    going = Visit(context, f"{home}/job/{job}/up-top", planned)
    for key, values in VISIT:
        going.type(key, values)
    waiting = going.finish()
    going.page.close()
    context.unroute("**/*")
    missing, doubled = compared(desk, job)
    return Outcome(going.done, going.network.lost, len(VISIT), missing, doubled, waiting, len(conflicts_of(desk, job)))


def expected() -> Counter[tuple[str, ...]]:
    """What should stand in the book: of a reading put right the last, of ones added every one."""
    holds: dict[str, tuple[str, ...]] = {}
    for n, (key, values) in enumerate(VISIT):
        holds[f"{key} {n}" if key.endswith("+") else key] = values
    return Counter((key.split(" ")[0], *(value for value in values if value)) for key, values in holds.items())


def compared(desk: Desk, job: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What was typed and is not in the book, and what is in it more often than it was typed."""
    with desk.book.reading() as c:
        text = revisions.newest(c, job).text
    table = parse_toml(text, "").values["readings"]
    there = Counter(_said(name, item) for name in ("tapes", "offsets", "drops", "flues") for item in table.get(name, ()))
    wanted = expected()
    return tuple(map(str, (wanted - there).elements())), tuple(map(str, (there - wanted).elements()))


def _said(name: str, item: Mapping[str, object]) -> tuple[str, ...]:
    """An item of the job file as the key it was typed under and its values."""
    if name == "tapes":
        return (f"tape:{item['start']}-{item['end']}", str(item["reads"]))
    if name == "flues":
        return ("flue:+rectangular", *map(str, item["outside"]), str(item["above_string"]))  # type: ignore[call-overload]
    if name == "offsets":
        return (f"offset:{item['side']}", str(item["along"]), str(item["out"]))
    if "corner" in item:
        return (f"drop:corner:{item['corner']}", str(item["below"]))
    return ("drop:+", *(str(item[key]) for key in ("side", "along", "inward", "below")))


__all__ = ["VISIT", "Cut", "Error", "Outcome", "visit"]
