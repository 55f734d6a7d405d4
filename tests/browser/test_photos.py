"""Photos on a phone whose browser has no place for them: said at once, sent where that can be, and never called kept."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page, expect
from tests.browser.axe import violations
from tests.browser.conftest import Served, phone
from tests.browser.measure import measure
from tests.lived_in import a_photo

from crownwright.service.desk.add_photo import list_photos
from crownwright.service.desk.begin_job import begin_job
from crownwright.service.desk.model import By

SHUT = "Object.defineProperty(window, 'indexedDB', { get() { throw new Error('shut'); } })"
FULL = "IDBObjectStore.prototype.add = () => { throw new DOMException('no room', 'QuotaExceededError'); }"
PHOTO = {"name": "IMG 1.jpg", "mimeType": "image/jpeg", "buffer": a_photo()}


def roof_page(page: Page, name: str, refuses: str) -> None:
    page.add_init_script(refuses)
    page.goto(f"/job/roof/{name}")
    expect(page.locator("[role=alert]").first).to_be_attached()  # its script runs


def test_a_browser_that_keeps_none_says_so_before_any_is_taken(browser: Browser, empty: Served) -> None:
    begin_job(empty.desk, By("E. Marr"), "roof", "Roof")
    with phone(browser, empty.home, service_workers="block") as context:
        page = context.new_page()
        roof_page(page, "photos", SHUT)
        expect(page.get_by_role("alert")).to_contain_text("This phone’s browser keeps no photos")
        assert [*measure(page).too_small(), *violations(page)] == []


@pytest.mark.parametrize("refuses", [SHUT, FULL])
def test_a_photo_that_cannot_be_kept_is_told_at_once_and_goes_when_there_is_a_network(
    browser: Browser, empty: Served, refuses: str
) -> None:
    """Twice chosen, once without a network; the second time its answer is lost, and sent again it is still one photo."""
    begin_job(empty.desk, By("E. Marr"), "roof", "Roof")
    with phone(browser, empty.home, service_workers="block") as context:
        page = context.new_page()
        roof_page(page, "photos", refuses)
        context.set_offline(True)
        page.locator("#photo").set_input_files(PHOTO)  # type: ignore[arg-type]
        keep = page.get_by_role("button", name="Keep", exact=True)
        keep.tap()
        told = page.get_by_role("alert")
        expect(told).to_contain_text("The photo is not kept, and not sent")
        expect(told).to_contain_text("Take it with the phone’s own camera")
        assert page.locator("#photo").evaluate("chosen => chosen.files.length") == 1, "it is still chosen"
        context.set_offline(False)
        page.route("**/photos", lambda route: (route.fetch(), route.abort("connectionreset")))
        with page.expect_event("requestfailed"):
            keep.tap()
        expect(told).to_contain_text("not sent")
        page.unroute("**/photos")
        keep.tap()
        expect(told).to_be_hidden()
        expect(page.locator("#kept img")).to_have_count(1)
    assert len(list_photos(empty.desk, "roof")) == 1


def test_on_the_page_of_findings_too(browser: Browser, empty: Served) -> None:
    begin_job(empty.desk, By("E. Marr"), "roof", "Roof")
    with phone(browser, empty.home, service_workers="block") as context:
        page = context.new_page()
        roof_page(page, "found", FULL)
        context.set_offline(True)
        page.locator("#ticks label").first.tap()
        page.locator("#with-script input").set_input_files(PHOTO)  # type: ignore[arg-type]
        expect(page.locator("#with-script [role=alert]")).to_contain_text("The photo is not kept, and not sent")
    assert list_photos(empty.desk, "roof") == ()
