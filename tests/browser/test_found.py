"""What was found, ticked and measured with a glove and no network: kept on the phone first, and in the book once."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect
from tests.browser.axe import violations
from tests.browser.conftest import PHONE, Served, phone
from tests.browser.measure import measure
from tests.browser.waits import ONLINE, all_sent
from tests.lived_in import a_photo

from crownwright.service.desk.add_photo import list_photos
from crownwright.service.desk.begin_job import begin_from_text
from crownwright.service.desk.model import By, Change, Entry
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.desk.settle_conflict import conflicts_of
from crownwright.service.desk.try_changes import values_of
from crownwright.service.desk.up_top_of import up_top_of
from crownwright.service.open_job import open_demo

ON_AB = "repair.seen[what=open joints,face=AB]"


def seen(desk: Desk) -> list[dict[str, Any]]:
    found = values_of(up_top_of(desk, "sample").text).get("repair", {}).get("seen", [])
    return [{key: getattr(value, "typed", value) for key, value in one.items()} for one in found]


@pytest.fixture
def found(browser: Browser, empty: Served) -> Iterator[Page]:
    """The page on a phone without a network, on plain http: no worker."""
    begin_from_text(empty.desk, By("E. Marr"), "sample", open_demo().text)
    with phone(browser, empty.home, service_workers="block") as context:
        page = context.new_page()
        page.goto("/job/sample/found")
        expect(page.locator("#ticks .plain")).to_have_count(0)
        context.set_offline(True)
        yield page


def tick(page: Page, key: str) -> None:
    page.locator("#ticks label").filter(has=page.locator(f'[name="tick:{key}"]')).tap()


def press(page: Page, field: str, *keys: str) -> None:
    page.locator(f"#tell-{field}").tap()
    for key in keys:
        page.locator(f'#pad [data-key="{key}"]').tap()


def sent(page: Page) -> None:
    page.context.set_offline(False)
    page.evaluate(ONLINE)
    all_sent(page)


def test_a_finding_is_ticked_measured_and_photographed_without_a_network(found: Page, empty: Served) -> None:
    tick(found, "open joints|AB")
    expect(found.locator("#more-says")).to_have_text("Open joints on AB")
    press(found, "measure", "3/4")
    press(found, "course", "1", "2")
    found.locator("#tell-note").fill("by the flashing")
    photo = {"name": "IMG 1.jpg", "mimeType": "image/jpeg", "buffer": a_photo()}
    found.locator("#with-script input").set_input_files(photo)  # type: ignore[arg-type]
    expect(found.locator("#so-far")).to_contain_text("Open joints on AB")
    expect(found.locator("#so-far .of")).to_have_count(1)
    expect(found.locator("#tell-measure")).to_have_value("3/4")
    press(found, "to_course", "1", "4")
    found.locator("#tell .do").tap()
    expect(found.locator("#more")).to_be_hidden()
    tick(found, "no drip")
    expect(found.locator(".reading.waiting")).to_have_count(2)
    sent(found)
    expect(found.locator(".reading.waiting")).to_have_count(0)
    (photo_,) = list_photos(empty.desk, "sample")
    assert photo_.note == "Open joints on AB"
    told = {"measure": "3/4", "course": 12, "to_course": 14, "note": "by the flashing", "photos": [photo_.name]}
    assert seen(empty.desk) == [{"what": "open joints", "face": "AB"} | told, {"what": "no drip"}]


def test_a_tick_is_taken_off_again_and_a_second_one_stands_beside_the_first(found: Page, empty: Served) -> None:
    tick(found, "no drip")
    expect(found.locator("#more")).to_be_visible()
    tick(found, "no drip")
    expect(found.locator("#more")).to_be_hidden()
    tick(found, "open joints|AB")
    press(found, "measure", "1/2")
    found.locator("#tell .do").tap()
    found.locator('#so-far [data-key="open joints|AB"] a').tap()
    found.locator("#another").tap()
    expect(found.locator("#more-says")).to_have_text("Open joints on AB, 2")
    press(found, "measure", "1")
    found.locator("#tell .do").tap()
    expect(found.locator(".reading.waiting")).to_have_count(2)
    sent(found)
    both = {"what": "open joints", "face": "AB"}
    assert seen(empty.desk) == [both | {"measure": "1/2"}, both | {"measure": "1"}]


def looked(desk: Desk) -> list[dict[str, str]]:
    repair = values_of(up_top_of(desk, "sample").text).get("repair", {})
    return [dict(one) for one in repair.get("looked", [])]


def test_what_was_looked_at_and_how_goes_the_same_way(found: Page, empty: Served) -> None:
    """Two ways of one part, one of them taken off again before there is a network; and one more taken off in the book."""
    cap, faces = "repair.looked[part=cap,how=by hand]", "repair.looked[part=faces,how=close to]"
    found.locator("#looked summary").tap()
    assert measure(found).too_small() == []
    for path in (cap, faces, "repair.looked[part=faces,how=from the ground]", faces):
        found.locator("#looks label").filter(has=found.locator(f'[data-path="{path}"]')).tap()
    expect(found.locator("#outbox")).to_contain_text("4 entries wait")
    expect(found.locator("#looks :checked")).to_have_count(2)
    sent(found)
    told = [{"part": "cap", "how": "by hand"}, {"part": "faces", "how": "from the ground"}]
    assert looked(empty.desk) == told
    expect(found.locator("#looks :checked")).to_have_count(2)
    found.reload()
    found.locator("#looked summary").tap()
    found.locator("#looks label").filter(has=found.locator(f'[data-path="{cap}"]')).tap()
    all_sent(found)
    assert looked(empty.desk) == told[1:]


def test_half_a_measure_stands_when_the_page_is_opened_anew(found: Page) -> None:
    tick(found, "open joints|AB")
    press(found, "measure", "3", "1/4")
    page = found.context.new_page()
    found.close()
    page.context.set_offline(False)
    page.route("**/entries", lambda route: route.abort("internetdisconnected"))
    page.goto("/job/sample/found")
    expect(page.locator("#more-says")).to_have_text("Open joints on AB")
    expect(page.locator("#tell-measure")).to_have_value("3 1/4")


def test_the_same_tick_on_two_phones_is_one_and_two_measures_are_shown_to_both(found: Page, empty: Served) -> None:
    tick(found, "open joints|AB")
    press(found, "measure", "3/4")
    found.locator("#tell .do").tap()
    expect(found.locator("#more")).to_be_hidden()
    theirs = (Change(f"{ON_AB}.what", "open joints", was=None), Change(f"{ON_AB}.measure", "1", was=None))
    save_entry(empty.desk, By("J. Pike", "phone-2"), Entry("other-1", "sample", 1, theirs))
    found.context.set_offline(False)
    found.evaluate(ONLINE)
    expect(found.locator("#outbox")).to_contain_text("Another device has 1; you typed 3/4")
    assert seen(empty.desk) == [{"what": "open joints", "face": "AB", "measure": "1"}]
    (conflict,) = conflicts_of(empty.desk, "sample")
    assert "3/4" in conflict.mine


def test_it_is_for_gloves_and_glare(found: Page) -> None:
    """With the keypad up, and with what waits; as it opens it is measured with all pages."""
    tick(found, "open joints|AB")
    press(found, "measure", "3/4")
    shown = measure(found)
    assert (shown.too_small(), shown.wide <= PHONE[0]) == ([], True)
    room = found.locator("#values .active").evaluate(
        "one => document.getElementById('pad').getBoundingClientRect().top - one.getBoundingClientRect().bottom"
    )
    assert room >= 0, "what is typed into stands above the pad"
    found.locator("#tell .do").tap()
    expect(found.locator("#more")).to_be_hidden()
    found.evaluate("scrollTo(0, 0)")
    assert violations(found) == []
