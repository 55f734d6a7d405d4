"""The worker that keeps pages on a phone, and a phone that is not known any more: nothing of the book stays on it."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect
from tests.browser.conftest import NOW, phone
from tests.browser.test_outbox import kept_by_the_worker
from tests.browser.waits import until
from tests.served import served

from crownwright.service.desk.begin_job import begin_job
from crownwright.service.desk.model import By
from crownwright.service.desk.open_desk import open_desk
from crownwright.service.desk.pair_device import Paired, begin_pairing, pair_device, revoke_device
from crownwright.web import guard

PAGES = "async () => (await (await caches.open('pages')).keys()).map(({ url }) => new URL(url).pathname)"


def test_a_phone_that_is_sent_to_the_door_keeps_no_page_and_no_door_in_place_of_one(
    browser: Browser, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Let in, its pages kept; shut out while one of them is open. A page it opens is answered with a redirect, which the worker
    is handed unopened.
    """
    monkeypatch.setattr(guard, "_is_here", lambda _: False)  # as if it came from the network
    desk = open_desk(tmp_path / "jobs.book", clock=lambda: NOW)
    begin_job(desk, By("E. Marr"), "roof", "Roof")
    paired = pair_device(desk, begin_pairing(desk).code, "Ansel's phone")
    assert isinstance(paired, Paired)
    with served(desk, lan=True) as home, phone(browser, home) as context:
        context.add_cookies([{"name": guard.DEVICE, "value": paired.token, "url": home}])
        page = context.new_page()
        page.goto("/job/roof/up-top")
        kept_by_the_worker(page, "up-top", "found", "photos")
        revoke_device(desk, paired.device.id)
        page.goto("/job/roof/up-top")
        assert page.url == f"{home}/pair"
        expect(page.locator("h1")).to_be_visible()
        until(page, f"async () => (await ({PAGES})()).length === 0")
        context.set_offline(True)
        for address in ("/job/roof/up-top", "/job/roof/found", "/job/roof"):
            answer = page.goto(address)
            assert answer is not None
            assert (answer.status, page.locator("h1").inner_text()) == (503, "No network")
            assert page.locator(".kept a").count() == 0
        context.set_offline(False)
        page.goto("/job/roof/up-top")
        assert page.url == f"{home}/pair", "nothing that was kept stands between it and the door"
        assert page.evaluate(PAGES) == []
    desk.close()
