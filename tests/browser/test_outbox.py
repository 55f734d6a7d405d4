"""What is typed on a phone reaches the book once, whatever the network does; what meets another's reading is shown to both."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page, expect
from tests.browser.axe import violations
from tests.browser.conftest import Served, phone
from tests.browser.measure import measure
from tests.browser.outage import visit
from tests.browser.waits import ONLINE, all_sent, until

from crownwright.service.desk.begin_job import begin_job
from crownwright.service.desk.model import By, Change, Entry
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.desk.settle_conflict import conflicts_of
from crownwright.service.desk.up_top_of import up_top_of

KEPT = """async () => Boolean(await caches.match(location.href))
  && (await (await caches.open('parts')).keys()).some((part) => part.url.endsWith('strip.js'))"""
"""Whether the worker has the page and its last part."""


HAS = """async ([pages, ends]) => {
  const urls = async (name) => (await (await caches.open(name)).keys()).map(({ url }) => url);
  const [there, parts] = [await urls('pages'), await urls('parts')];
  const has = (urls, end) => urls.some((url) => url.endsWith(end));
  return pages.every((one) => has(there, one)) && ends.every((end) => has(parts, end));
}"""
"""Whether the worker has pages, and parts, of these ends."""


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
        until(page, KEPT)
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
        page.evaluate(ONLINE)
        all_sent(page)
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
        page.evaluate(ONLINE)
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
        page.evaluate(ONLINE)
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
        page.evaluate(ONLINE)
        all_sent(page)
        expect(page.locator("#outbox")).to_be_hidden()
    assert says(up_top_of(empty.desk, "roof"), "tape:A-B") == "45"


def kept_by_the_worker(page: Page, *pages: str) -> None:
    """Wait until the worker has these pages and the last part of each."""
    ends = {"up-top": "strip.js", "found": "findings.js", "photos": "photos.js"}
    until(page, HAS, [list(pages), [ends[one] for one in pages]])


def test_the_other_pages_of_the_visit_open_without_a_network_and_any_other_says_what_is_kept(
    browser: Browser, empty: Served
) -> None:
    """Only Up top was ever opened."""
    begin_job(empty.desk, By("E. Marr"), "roof", "Roof <b>& ridge")
    with phone(browser, empty.home) as context:
        page = context.new_page()
        page.goto("/job/roof/up-top")
        kept_by_the_worker(page, "up-top", "found", "photos")
        context.set_offline(True)
        read(page, "4", "5")
        page.goto("/job/roof/found")
        expect(page.locator("h1")).to_have_text("What was found")
        expect(page.locator("#ticks .plain")).to_have_count(0)  # its script runs
        expect(page.locator("#outbox")).to_contain_text("1 entry waits")
        page.goto("/job/roof/photos")
        expect(page.locator("h1")).to_have_text("Photos")
        answer = page.goto("/job/roof/cap?x=%22%3E<script>")
        assert answer is not None
        assert answer.status == 503
        expect(page.locator("h1")).to_have_text("No network")
        expect(page.locator("#outbox")).to_contain_text("1 entry waits")
        names = [f"{name} · Roof <b>& ridge" for name in ("Up top", "What was found", "Photos")]
        assert page.locator(".kept a").all_inner_texts() == names
        assert [*measure(page).too_small(), *violations(page)] == []
        page.locator(".kept a").first.tap()
        expect(page.locator("#ask-says")).to_have_text("Tape B to C")
        context.set_offline(False)
        page.evaluate(ONLINE)
        all_sent(page)
        expect(page.locator("#outbox")).to_be_hidden()
    assert says(up_top_of(empty.desk, "roof"), "tape:A-B") == "45"


def test_without_a_worker_the_open_page_is_not_left_for_one_that_cannot_be_opened(browser: Browser, empty: Served) -> None:
    """As on plain http in the mason's own network: links and plain forms stay, the readings go on."""
    begin_job(empty.desk, By("E. Marr"), "roof", "Roof")
    with phone(browser, empty.home, service_workers="block") as context:
        page = context.new_page()
        page.goto("/job/roof/up-top")
        context.set_offline(True)
        read(page, "4", "5")
        page.get_by_role("link", name="What was found", exact=True).first.tap()
        expect(page.locator(".slow")).to_contain_text("“What was found” cannot be opened. This page goes on.")
        read(page, "3", "4")
        expect(page.locator("#ask-says")).to_have_text("Tape C to D")
        expect(page.locator(".reading.waiting")).to_have_count(2)
        context.set_offline(False)
        expect(page.locator(".slow")).to_have_count(0)
        all_sent(page)
        page.goto("/job/roof/history")
        context.set_offline(True)
        page.locator("main form button").first.tap()
        expect(page.locator(".slow")).to_contain_text("this cannot be sent")
        assert page.url.endswith("/history")


SLOW_STORE = "IDBObjectStore.prototype.add = () => new EventTarget();"
"""A store that has not taken in what it is given by the time the page is closed."""


@pytest.mark.parametrize("where", ["up-top", "pour-day", "found"])
def test_what_was_kept_in_the_instant_the_page_is_closed_is_there(browser: Browser, empty: Served, where: str) -> None:
    begin_job(empty.desk, By("E. Marr"), "roof", "Roof")
    with phone(browser, empty.home, service_workers="block") as context:
        page = context.new_page()
        page.add_init_script(SLOW_STORE)
        page.goto(f"/job/roof/{where}")
        if where == "up-top":
            read(page, "4", "5")
        elif where == "found":
            expect(page.locator("#ticks .plain")).to_have_count(0)
            page.locator("#ticks label").first.tap()
        else:
            page.get_by_role("button", name="Misted").tap()
        page.wait_for_function("localStorage.getItem('crownwright-shelf')?.includes('changes')")
        page.close()
        page = context.new_page()
        with page.expect_response("**/entries"):  # from whatever page is opened next
            page.goto("/job/roof/history")
        page.goto(f"/job/roof/{where}")
        expect(page.locator("#outbox")).to_be_hidden()
    assert up_top_of(empty.desk, "roof").revision == 2, "once, and once only"
