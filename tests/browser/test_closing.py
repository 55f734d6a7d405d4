"""What the phone works out by itself, held against the book's own adjustment of the same readings; and how it tells it."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pytest
from playwright.sync_api import Browser, Page, expect
from tests.browser.axe import violations
from tests.browser.conftest import Served, phone
from tests.browser.measure import measure
from tests.browser.outage import keys_of
from tests.browser.waits import ONLINE
from tests.survey.conftest import TrueTop

from crownwright.quantity.lengths import Bare, parse_length
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import INCH
from crownwright.service.desk.begin_job import begin_job
from crownwright.service.desk.model import By
from crownwright.service.up_top.on_phone import phone_numbers
from crownwright.survey.closing import Closing, close_tapes
from crownwright.survey.readings import Flue, Length, Readings, Tape
from crownwright.web.page import static

LOOKED = """async ([address, tops, numbers]) => {
  const { adjust, explaining } = await import(address);
  return tops.map((top) => {
    const found = adjust(top, numbers);
    return found && { ...found, net: null, x: null, off: explaining(found, numbers).map(({ key, likely }) => [key, likely]) };
  });
}"""
CALLED = """async ([address, name, rows]) => { const it = await import(address); return rows.map((row) => it[name](...row)); }"""
REST = 1e-5
"""Of the sum of squares: both stop when a step is no more than 1e-6 m, in readings good to 3e-3 m."""
TOPS = 18


@dataclass(frozen=True)
class Case:
    """Tapes of a chimney that nobody knows, one of them off ``by`` an inch or three, or none; and what the book makes of them."""

    readings: Readings
    slip: str
    by: float
    book: Closing

    def top(self) -> dict[str, Any]:
        """The readings as the phone has them."""
        said = [{"key": said_of(t), "start": t.start, "end": t.end, "reads": t.reads.metres} for t in self.readings.tapes]
        flues = [{"name": f.name, "shape": f.shape, "outside": [s.metres for s in f.outside]} for f in self.readings.flues]
        return {"corners": list(self.readings.corners), "flues": flues, "tapes": said}


def said_of(tape: Tape) -> str:
    return f"{tape.start}-{tape.end}"


def a_top(chance: np.random.Generator) -> TrueTop:
    """Out of square by some degrees, with one to three flues in a row, one of four of them round; a tape read to the eighth."""
    long, across = chance.uniform(34, 70), chance.uniform(26, 44)
    corners = np.array([[0, 0], [long, 0], [long, across], [0, across]]) + chance.normal(0, 0.9, (4, 2))
    named = dict(zip("ABCD", map(tuple, corners.tolist()), strict=True))
    top = TrueTop(named, sd=0.125, step=0.125, seed=int(chance.integers(1 << 30)))
    count = int(chance.integers(1, 4))
    for k in range(count):
        x, y = long * (k + 0.5) / count + chance.normal(0, 0.8), across / 2 + chance.normal(0, 1.5)
        size = min(long / count - 4, chance.uniform(8, 17))
        if chance.random() < 0.25:
            top.rounds[f"F{k + 1}"] = (x, y, size)
        else:
            top.flues[f"F{k + 1}"] = (x, y, float(chance.normal(0, 0.05)), size, chance.uniform(8, 14))
    return top


def case(seed: int) -> Case:
    chance = np.random.default_rng(seed)
    top = a_top(chance)
    tapes = [top.tape(*pair) for pair in ("AB", "BC", "CD", "DA", "AC", "BD")] + list(top.ties())
    sizes = {name: ("rectangular", flue[3:]) for name, flue in top.flues.items()} | {
        name: ("round", flue[2:]) for name, flue in top.rounds.items()
    }
    flues = tuple(
        Flue(name, shape, tuple(top.length(inches) for inches in outside), Length(8 * INCH))  # type: ignore[arg-type]
        for name, (shape, outside) in sizes.items()
    )
    slip, by = "", 0.0
    if seed % 3:
        k = int(chance.integers(len(tapes)))
        slip = said_of(tapes[k])
        by = float(chance.choice([-3, -1, 1, 3])) * INCH
        tapes[k] = replace(tapes[k], reads=Length(tapes[k].reads.metres + by))
    readings = Readings(tuple("ABCD"), "rubble stone", tuple(tapes), (), (), flues)
    book, _ = close_tapes(readings)
    assert book is not None
    return Case(readings, slip, by, book)


@pytest.fixture(scope="module")
def tab(browser: Browser, app: Served) -> Iterator[Page]:
    """A page of the app in which its modules can be asked."""
    context = browser.new_context(base_url=app.home)
    page = context.new_page()
    page.goto("/")
    yield page
    context.close()


@pytest.fixture(scope="module")
def looked(tab: Page) -> list[tuple[Case, dict[str, Any]]]:
    cases = [case(seed) for seed in range(TOPS)]
    numbers = json.loads(json.dumps(phone_numbers(cases[0].readings)))
    return list(zip(cases, tab.evaluate(LOOKED, [static("js/closing.js"), [c.top() for c in cases], numbers]), strict=True))


def test_the_phone_adjusts_as_the_book_does(looked: list[tuple[Case, dict[str, Any]]]) -> None:
    for one, told in looked:
        closure = one.book.closure
        assert told["freedom"] == closure.freedom
        # a flue's turn may settle in two valleys: the phone may find the lower one, but never stops in a higher
        assert told["statistic"] <= closure.statistic * (1 + REST) + REST
        if told["statistic"] > closure.statistic * (1 - REST) - REST:
            assert told["worst"] == pytest.approx(closure.worst, abs=1e-5)
            assert (told["statistic"] <= told["most"]) == closure.closes
    same = sum(abs(told["statistic"] - one.book.closure.statistic) <= REST * (1 + told["statistic"]) for one, told in looked)
    assert same >= 0.8 * TOPS


def test_what_the_phone_names_is_what_is_off(looked: list[tuple[Case, dict[str, Any]]]) -> None:
    named = [(one, told["off"][0]) for one, told in looked if len(told["off"]) == 1]
    assert len(named) >= 5, "some can be told"
    for one, (key, likely) in named:
        assert key == one.slip
        reads = next(t.reads.metres for t in one.readings.tapes if said_of(t) == key)
        assert abs(reads - likely - one.by) < 0.65 * INCH  # five standard errors of a tape


def test_good_tapes_are_not_suspected(looked: list[tuple[Case, dict[str, Any]]]) -> None:
    good = [told for one, told in looked if not one.slip and not one.book.suspects]
    assert len(good) >= 5
    assert all(told["closes"] for told in good)


def test_sides_and_diagonals_alone_cannot_tell_which(tab: Page) -> None:
    """One reading too many shows that one is off, and not which: any of the six would explain it."""
    reads = {"AB": 45.75, "BC": 34.625, "CD": 45.375, "DA": 34.5625, "AC": 56.25, "BD": 58.875}
    tapes = tuple(Tape(a, b, Length(inches * INCH)) for (a, b), inches in reads.items())
    readings = Readings(tuple("ABCD"), "brick", tapes)
    book, _ = close_tapes(readings)
    assert book is not None
    one = Case(readings, "", 0.0, book)
    numbers = json.loads(json.dumps(phone_numbers(readings)))
    (phone,) = tab.evaluate(LOOKED, [static("js/closing.js"), [one.top()], numbers])
    assert (phone["closes"], phone["freedom"]) == (False, 1)
    assert len(phone["off"]) == len(reads)


LENGTHS: tuple[tuple[str, Bare], ...] = tuple(
    (text, bare)
    for bare in ("in", "mm", "cm", "m")
    for text in (
        "51 1/2", "51.5", "1/16", "11/16", "4' 3 1/2\"", "4'", "3 ft", "4 ft 3", "51 1/2\"", "51 in", "51 1/2 in.", "1310 mm",
        "131 cm", "1.31 m", ".5 m", "131", "1.5", "-1", "-1 1/8", "-30 mm", "0", "- 2 in",
    )
)  # fmt: skip


def test_lengths_are_read_as_the_book_reads_them(tab: Page) -> None:
    """Where the book knows a length the phone knows the same; where it knows none the phone makes none up."""
    read = tab.evaluate(CALLED, [static("js/tape.js"), "metres", [list(row) for row in LENGTHS]])
    for (text, bare), told in zip(LENGTHS, read, strict=True):
        book = parse_length(text, bare)
        if isinstance(book, Problem):
            assert math.isnan(told), (text, bare)
        else:
            assert told == pytest.approx(book.metres, abs=1e-12), (text, bare)


def test_bounds_are_the_triangle_s_over_every_chain(tab: Page) -> None:
    """Worked by hand: by A and C, with AB = 3, BC = 4 and CD = 10, AC lies between 1 and 7, AD between 10 - 7 and 3 + 4 + 10."""
    tapes = [{"start": a, "end": b, "reads": d} for (a, b), d in {"AB": 3, "BC": 4, "CD": 10}.items()]
    flue = {"name": "F1", "shape": "rectangular", "outside": [0.3, 0.4]}
    top = {"corners": list("ABCD"), "flues": [flue], "tapes": [*tapes, {"start": "A", "end": "F1a", "reads": 2}]}
    pairs = [["A", "C"], ["A", "D"], ["A", "F1c"], ["B", "F1a"]]
    found = tab.evaluate(CALLED, [static("js/expected.js"), "bounds", [[top, *pair] for pair in pairs]])
    assert np.array(found) == pytest.approx(np.array([[1, 7], [3, 17], [1.5, 2.5], [1, 5]]))


@pytest.fixture
def roof(browser: Browser, empty: Served) -> Iterator[Page]:
    """Up top of a new job, on a phone without a network and without a worker."""
    begin_job(empty.desk, By("E. Marr"), "roof", "Roof")
    with phone(browser, empty.home, service_workers="block") as context:
        page = context.new_page()
        page.goto("/job/roof/up-top")
        expect(page.locator("#pad .enter")).to_be_visible()
        context.set_offline(True)
        yield page


def read(page: Page, *typed: str) -> None:
    for value in typed:
        for key in keys_of(value):
            page.locator(f'#pad [data-key="{key}"]').tap()
        page.locator("#pad .enter").tap()


def asks(page: Page, text: str) -> None:
    expect(page.locator("#ask-says")).to_have_text(text)


def test_without_a_network_it_says_as_he_types_whether_it_closes(roof: Page) -> None:
    read(roof, "45 3/4", "34 5/8", "45 3/8", "34 9/16", "57 1/4")
    asks(roof, "Tape B to D")
    for key in keys_of("56 7/8"):
        roof.locator(f'#pad [data-key="{key}"]').tap()
    expect(roof.locator("#says-now")).to_contain_text("Not yet checked against the book: The tapes close within")
    for _ in range(3):
        roof.locator('#pad [data-key="back"]').tap()
    for key in keys_of("59 7/8"):
        roof.locator(f'#pad [data-key="{key}"]').tap()
    expect(roof.locator("#says-now")).to_contain_text("The tapes do not close: they miss by up to")
    expect(roof.locator("#says-now")).to_contain_text("cannot be told from these")
    roof.locator("#pad .enter").tap()
    expect(roof.locator("#closes")).to_contain_text("On this phone, not yet checked against the book")
    expect(roof.locator("#closes")).to_contain_text("do not close")
    assert [*measure(roof).too_small(), *violations(roof)] == [], "readings that wait are as large as any"
    lie = roof.locator(".reading.waiting").evaluate_all("all => all.map(one => getComputedStyle(one).position)")
    assert set(lie) == {"static"}


def test_the_reading_that_is_off_is_asked_again_and_the_book_has_the_last_word(roof: Page) -> None:
    """A flue tied and AC slipped by three inches: the rest closes without AC alone."""
    read(roof, "45 3/4", "34 5/8", "45 1/2", "34 1/2", "60 5/8", "56 7/8")
    roof.locator('.reading[data-key="flue:+rectangular"] a').tap()
    read(roof, "13", "13", "9 5/8")
    roof.locator("#pad .enter").tap()
    for tie, reads in {"A-F1a": "13 1/4", "B-F1b": "26 7/8", "C-F1c": "27 1/2", "D-F1d": "13 1/4"}.items():
        roof.locator(f'.reading[data-key="tape:{tie}"] a').tap()  # touched: whatever is asked by then
        read(roof, reads)
        if tie == "C-F1c":  # by AC, which is off
            expect(roof.locator("#says-now")).to_contain_text("by the tapes so far it cannot be less than 29 in.")
            roof.locator("#pad .enter").tap()
    asks(roof, "Read AC again")
    expect(roof.locator("#closes")).to_contain_text("It is AC: it reads 60 5/8 in., and 57 11/16 in. would close")
    expect(roof.locator(".reading.suspect.here")).to_have_attribute("data-key", "tape:A-C")
    roof.context.set_offline(False)
    roof.evaluate(ONLINE)
    expect(roof.locator("#closes")).to_contain_text("Tape AC reads 60 5/8 in.; 57 5/8 in. closes")
    expect(roof.locator("#closes")).not_to_contain_text("not yet checked")
    roof.context.set_offline(True)
    read(roof, "57 5/8")
    expect(roof.locator("#closes")).to_contain_text("The tapes close within")
    expect(roof.locator(".reading.suspect")).to_have_count(0)


@pytest.mark.parametrize(
    ("key", "keys", "says"),
    [
        ("tape:A-B", ("4", "5", "ft"), "45': 360 in. is the most that is usual here"),
        ("drop:corner:A", ("3", "ft"), "3': 12 13/16 in. is the most that is usual here"),
        ("tape:A-C", ("9", "8"), "98: by the tapes so far it cannot be more than 80 3/8 in"),
    ],
)
def test_a_foot_typed_for_an_inch_is_asked_once_more_and_then_stands(
    roof: Page, key: str, keys: tuple[str, ...], says: str
) -> None:
    if key == "tape:A-C":
        read(roof, "45 3/4", "34 5/8")
    roof.locator(f'.reading[data-key="{key}"] a').tap()
    for one in keys:
        roof.locator(f'#pad [data-key="{one}"]').tap()
    roof.locator("#pad .enter").tap()
    expect(roof.locator("#says-now")).to_have_text(
        f"{says}{'' if says.endswith('.') else '.'} Look again; press once more if it stands."
    )
    expect(roof.locator(".reading.here")).to_have_attribute("data-key", key)
    roof.locator("#pad .enter").tap()
    expect(roof.locator(f'.reading[data-key="{key}"]')).to_have_class("reading taken waiting")
