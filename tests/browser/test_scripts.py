"""A script typed into every field that takes text: shown as typed on every page, run on none."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from tests.browser.conftest import NOW, Opener, Served
from tests.browser.test_pages import ROUTES, fill, is_page
from tests.lived_in import LivedIn, a_photo
from tests.served import served

from crownwright.service.desk.add_photo import add_photo
from crownwright.service.desk.begin_job import begin_from_text
from crownwright.service.desk.model import By, Change, Entry, Saved
from crownwright.service.desk.open_desk import open_desk
from crownwright.service.desk.pair_device import begin_pairing, pair_device
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.jobfile.syntax import parse_toml
from crownwright.service.open_job import open_demo

TYPED = '</title></script></textarea>"\'><script>window.ran = 1; alert(1)</script><img src=x onerror="window.ran = 1">'
PLACES = ("title", "customer", "place", "mason", "notes", "cap.lowest_reason", "checks.people.fall_protection")
RAN = """() => [
  window.ran ? 'it ran' : '',
  ...[...document.querySelectorAll('[onerror], img[src="x"], script:not([src])')].map((one) => one.outerHTML.slice(0, 120)),
].filter(Boolean)"""


@pytest.fixture(scope="module")
def spoilt(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A book in which every text is a script."""
    desk = open_desk(tmp_path_factory.mktemp("spoilt") / "jobs.book", clock=lambda: NOW)
    ansel, berit = By(TYPED, "phone-1"), By(TYPED, "phone-2")
    begin_from_text(desk, ansel, "sample", open_demo().text)
    top = parse_toml(open_demo().text, "").values
    changes = [Change(place, TYPED) for place in PLACES]
    changes += [Change("surroundings.higher[+]", {"what": TYPED, "away": "3 ft", "above_string": "1 ft"})]
    tape = "readings.tapes[start=A,end=B].reads"
    for by, reads in ((ansel, TYPED), (berit, TYPED + "2")):
        saved = save_entry(desk, by, Entry(f"e-{by.device}", "sample", 1, (Change(tape, reads),)))
        assert isinstance(saved, Saved)
    # A tape that reads a script stops the plan, so it is put right again: both stand among the revisions and as a conflict.
    back = Change(tape, top["readings"]["tapes"][0]["reads"])
    assert isinstance(save_entry(desk, ansel, Entry("e-back", "sample", 2, (back, *changes))), Saved)
    photo: Any = add_photo(desk, "sample", a_photo(), f"{TYPED}.jpg", TYPED)
    paired: Any = pair_device(desk, begin_pairing(desk).code, TYPED)
    there = LivedIn("sample", "", "", "", photo.id, "", paired.device.id, "", 3)
    with served(desk, owner=TYPED) as home:
        yield Served(desk, home, there)
    desk.close()


def test_no_script_that_was_typed_runs_on_any_page(spoilt: Served, app: Served, opened: Opener) -> None:
    """One window for all pages: dialogs, errors and refusals of the content policy anywhere fail the test at its end."""
    with opened(spoilt.home) as page:
        seen = 0
        for route in ROUTES:
            if "{issue}" in route:
                continue
            if not is_page(app.home, fill(route, app)):  # asked of the other book, where it is known already
                continue
            address = fill(route, spoilt)
            page.goto(address)
            assert page.evaluate(RAN) == [], address
            seen += "<script>" in page.locator("body").inner_text()
        assert seen > 8, "what was typed is to be seen on most of them"
