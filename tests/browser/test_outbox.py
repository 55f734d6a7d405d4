"""What is typed on a phone reaches the book once, whatever the network does; what meets another's reading is shown to both."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect
from tests.browser.conftest import PHONE, Served
from tests.browser.outage import visit

from crownwright.service.desk.begin_job import begin_job
from crownwright.service.desk.model import By, Change, Entry
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.desk.settle_conflict import conflicts_of
from crownwright.service.desk.up_top_of import up_top_of

KEPT = """async () => Boolean(await caches.match(location.href))
  && (await (await caches.open('parts')).keys()).some((part) => part.url.endsWith('strip.js'))"""
"""Whether the worker has the page and its last part."""


@contextmanager
def phone(browser: Browser, home: str, **more: object) -> Iterator[BrowserContext]:
    """A phone with an outbox of its own."""
    size = {"width": PHONE[0], "height": PHONE[1]}
    context = browser.new_context(base_url=home, viewport=size, has_touch=True, is_mobile=True, reduced_motion="reduce", **more)  # type: ignore[arg-type]
    context.set_default_timeout(15_000)
    yield context
    context.close()


def read(page: Page, *keys: str) -> None:
    for key in keys:
        page.locator(f'#pad [data-key="{key}"]').tap()
    page.locator("#pad .enter").tap()


def reading(page: Page, key: str) -> str:
    return page.locator(f'.reading[data-key="{key}"] b').inner_text()


def says(desk_top: object, key: str) -> str:
    step = desk_top.top.step(key)  # type: ignore[attr-defined]
    return str(step.says)


@pytest.mark.parametrize("seed", [1, 2])
def test_nothing_is_lost_or_doubled_while_the_network_comes_and_goes(browser: Browser, empty: Served, seed: int) -> None:
    with phone(browser, empty.home, service_workers="block") as context:
        outcome = visit(context, empty.desk, empty.home, seed, cuts=6)
    assert (outcome.missing, outcome.doubled, outcome.waiting, outcome.conflicts) == ((), (), 0, 0)
    assert sum(outcome.cuts.values()) >= 4


def test_the_page_goes_on_asking_without_a_network_and_opens_again(browser: Browser, empty: Served) -> None:
    """With the worker that loopback allows: closed and opened with the network off, half a value typed still stands."""
    begin_job(empty.desk, By("E. Marr"), "roof", "Roof")
    with phone(browser, empty.home) as context:
        page = context.new_page()
        page.goto("/job/roof/up-top")
        for _ in range(100):
            if page.evaluate(KEPT):
                break
            page.wait_for_timeout(100)
        context.set_offline(True)
        read(page, "4", "5", "3/4")
        expect(page.locator("#ask-says")).to_have_text("Tape B to C")
        page.locator('#pad [data-key="3"]').tap()
        page.close()
        page = context.new_page()
        page.goto("/job/roof/up-top")
        expect(page.locator("#ask-says")).to_have_text("Tape B to C")
        expect(page.locator("#values input")).to_have_value("3")
        assert reading(page, "tape:A-B") == "45 3/4"
        context.set_offline(False)
        page.evaluate("dispatchEvent(new Event('online'))")
        expect(page.locator(".reading.waiting")).to_have_count(0)
    assert says(up_top_of(empty.desk, "roof"), "tape:A-B") == "45 3/4"


def test_two_phones_on_one_reading_both_keep_theirs_and_see_it(browser: Browser, empty: Served) -> None:
    begin_job(empty.desk, By("E. Marr"), "roof", "Roof")
    with phone(browser, empty.home, service_workers="block") as context:
        page = context.new_page()
        page.goto("/job/roof/up-top")
        context.set_offline(True)
        read(page, "4", "5", "3/4")
        other = Entry("other-1", "roof", 1, (Change("readings.tapes[start=A,end=B].reads", "46", was=None),))
        save_entry(empty.desk, By("J. Pike", "phone-2"), other)
        context.set_offline(False)
        page.evaluate("dispatchEvent(new Event('online'))")
        slip = page.locator("#outbox")
        expect(slip).to_contain_text("Another device has 46; you typed 45 3/4")
        assert says(up_top_of(empty.desk, "roof"), "tape:A-B") == "46"
        (conflict,) = conflicts_of(empty.desk, "roof")
        assert ("46" in conflict.theirs, "45 3/4" in conflict.mine) == (True, True)


def test_what_the_book_refuses_is_kept_with_the_reason(browser: Browser, empty: Served) -> None:
    begin_job(empty.desk, By("E. Marr"), "roof", "Roof")
    with phone(browser, empty.home, service_workers="block") as context:
        page = context.new_page()
        page.goto("/job/roof/up-top")
        told = '{"accepted": false, "where": "entry", "what": "the entry is too long", "remedy": "Send it in parts"}'
        page.route("**/entries", lambda route: route.fulfill(status=422, content_type="application/json", body=told))
        read(page, "4", "5")
        expect(page.locator("#outbox")).to_contain_text("Not taken: the entry is too long. Send it in parts")
        page.unroute("**/entries")
        page.get_by_role("button", name="Send it again").tap()
        expect(page.locator("#outbox")).to_be_hidden()
    assert says(up_top_of(empty.desk, "roof"), "tape:A-B") == "45"


def test_without_a_database_of_its_own_the_browser_keeps_readings_all_the_same(browser: Browser, empty: Served) -> None:
    begin_job(empty.desk, By("E. Marr"), "roof", "Roof")
    with phone(browser, empty.home, service_workers="block") as context:
        page = context.new_page()
        page.add_init_script("Object.defineProperty(window, 'indexedDB', { get() { throw new Error('shut'); } })")
        page.goto("/job/roof/up-top")
        context.set_offline(True)
        read(page, "4", "5")
        expect(page.locator("#outbox")).to_contain_text("1 entry waits")
        assert page.evaluate("JSON.parse(localStorage.getItem('crownwright-rows')).length") == 1
        context.set_offline(False)
        page.evaluate("dispatchEvent(new Event('online'))")
        expect(page.locator("#outbox")).to_be_hidden()
    assert says(up_top_of(empty.desk, "roof"), "tape:A-B") == "45"


@pytest.mark.parametrize("address", ["/", "/job/roof", "/job/roof/history"])
def test_what_waits_is_told_on_every_page_and_goes_from_there(browser: Browser, empty: Served, address: str) -> None:
    begin_job(empty.desk, By("E. Marr"), "roof", "Roof")
    with phone(browser, empty.home, service_workers="block") as context:
        context.route("**/entries", lambda route: route.abort("internetdisconnected"))
        page = context.new_page()
        page.goto("/job/roof/up-top")
        read(page, "4", "5")
        expect(page.locator("#outbox")).to_contain_text("1 entry waits")
        page.goto(address)
        expect(page.locator("#outbox")).to_contain_text("1 entry waits")
        assert page.locator("#outbox a").count() == (address == "/"), "in the book it is told that it belongs to a job"
        assert page.locator("#outbox").evaluate("slip => slip.scrollWidth <= slip.clientWidth")
        context.unroute("**/entries")
        page.evaluate("dispatchEvent(new Event('online'))")
        expect(page.locator("#outbox")).to_be_hidden()
    assert says(up_top_of(empty.desk, "roof"), "tape:A-B") == "45"
