"""The keypad page as a glove meets it: every state of it measured, nothing typed hidden under the pad."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect
from tests.browser.axe import violations
from tests.browser.conftest import PHONE, Opener, Served
from tests.browser.measure import measure

from crownwright.service.desk.begin_job import begin_job
from crownwright.service.desk.model import By

STATES = (("us", "tape:A-B"), ("us", "flue:+rectangular"), ("us", "offset:AB"), ("us", "drop:highest"), ("metric", "drop:+"))
ROOM = """field => {
  const box = field.getBoundingClientRect();
  return [box.top, document.querySelector('#pad').getBoundingClientRect().top - box.bottom];
}"""
"""px over a field to the window's top, and under it to the pad."""
WIDTHS = (PHONE, (320, 640), (1280, 800))


def shown(page: Page, units: str, key: str) -> None:
    page.goto(f"/job/{units}/up-top?at={key}".replace("+", "%2B"))
    expect(page.locator("#pad .enter")).to_be_visible()


@pytest.mark.parametrize(("units", "key"), STATES)
def test_every_key_is_a_glove_wide_and_read_in_the_sun(empty: Served, opened: Opener, units: str, key: str) -> None:
    begin_job(empty.desk, By("E. Marr"), units, "Roof", units=units)  # type: ignore[arg-type]
    for size in WIDTHS if (units, key) == STATES[0] else (PHONE,):
        with opened(empty.home, size=size) as page:
            shown(page, units, key)
            found = measure(page)
            assert [*found.too_small(), *violations(page)] == []
            assert found.wide <= size[0]


def test_what_is_typed_into_stands_above_the_pad(empty: Served, opened: Opener) -> None:
    begin_job(empty.desk, By("E. Marr"), "us", "Roof")
    with opened(empty.home) as page:
        for key in ("tape:A-B", "offset:AB", "flue:+rectangular", "drop:+"):
            shown(page, "us", key)
            for field in page.locator("#values .field input").all():
                field.tap()
                high, low = field.evaluate(ROOM)
                assert high >= -1, key
                assert low >= -1, key
            foot = page.locator("#pad .enter").evaluate("one => innerHeight - one.getBoundingClientRect().bottom")
            assert foot >= 0, key


def test_the_pad_types_every_sixteenth_as_a_tape_reads(empty: Served, opened: Opener) -> None:
    begin_job(empty.desk, By("E. Marr"), "us", "Roof")
    with opened(empty.home) as page:
        shown(page, "us", "tape:A-B")
        read = page.locator("#values input")
        for keys, says in (
            (("5", "1", "1/2"), "51 1/2"),
            (("5", "1", "1/2", "+1/16"), "51 9/16"),
            (("+1/16",), "1/16"),
            (("4", "ft", "3", "7/8", "+1/16"), "4' 3 15/16\""),
            (("4", "ft"), "4'"),
            (("5", "1", "in"), '51"'),
            (("7", "8", "back", "9"), "79"),
        ):
            page.evaluate("localStorage.clear()")
            page.reload()
            expect(page.locator("#pad .enter")).to_be_visible()
            for key in keys:
                page.locator(f'#pad [data-key="{key}"]').tap()
            expect(read).to_have_value(says)
