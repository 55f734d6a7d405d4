"""A mason's thumb on a phone: taps alone, and the phone's own keyboard where a page has a plain field."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from playwright.sync_api import Locator, Page

from crownwright.service.desk.begin_job import begin_from_text
from crownwright.service.desk.model import By
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.up_top_of import up_top_of
from crownwright.service.open_job import open_demo

NO_MOUSE = """
window.mice = [];
for (const kind of ['pointerdown', 'mousemove', 'wheel']) {
  addEventListener(kind, (event) => { if (event.isTrusted && event.pointerType === 'mouse') window.mice.push(kind); }, true);
}
"""
"""Notes any press or move that came from a mouse; a tap sends mouse events of its own after the touch, which are no pointer's."""


ASKED = """(() => {
  const here = document.querySelector('.reading.here');
  if (here) return { key: '=' + here.dataset.key };
  return document.getElementById('pad').hidden ? { key: '=' } : null;  // null: the list is just being put anew
})()"""


@dataclass(frozen=True)
class Sheet:
    """What stands on the mason's slip of paper: for each reading by its key, what he reads for each question."""

    reads: Mapping[str, Mapping[str, str]]

    def of(self, kind: str) -> list[str]:
        """Keys of readings that are asked for by nobody: those one adds oneself."""
        return [key for key in self.reads if key.startswith(f"{kind}:#")]


def the_sample(desk: Desk) -> Sheet:
    """The sample chimney as its readings stand in a book of its own."""
    begin_from_text(desk, By("nobody"), "sample", open_demo().text)
    top = up_top_of(desk, "sample").top
    sides = {step.key: {"side": step.name.split()[-1]} for step in top.steps if step.key.startswith("offset:#")}
    return Sheet({step.key: sides.get(step.key, {}) | {ask.key: ask.typed for ask in step.asks} for step in top.steps})


def tap(where: Locator) -> None:
    """Bring it under the thumb and tap it, as it stands by then: a list may be put anew under a thumb."""
    where.tap()


def press(page: Page, value: str) -> None:
    """Type a length on our own keypad: 45 3/4, 3 ft, -1."""
    said = value.replace("in.", "").strip()
    found = re.fullmatch(r"([+-]?)(?:(\d+) ft)?\s*(\d*)\s*(?:(\d)/(\d+))?", said)
    assert found, value
    sign, feet, whole, over, under = found.groups()
    keys = [*(feet or ""), *(["ft"] if feet else []), *(whole or "")]
    sixteenths = int(over) * 16 // int(under) if over else 0
    parts = {2: "1/8", 4: "1/4", 6: "3/8", 8: "1/2", 10: "5/8", 12: "3/4", 14: "7/8"}
    keys += [parts[sixteenths & ~1]] if sixteenths & ~1 else []
    keys += ["+1/16"] if sixteenths & 1 else []
    keys += ["sign"] if sign == "-" else []
    for key in keys:
        page.locator(f'#pad [data-key="{key}"]').tap()


def asked(page: Page) -> str:
    """The key of the reading that is asked for now; nothing where enough is read."""
    return str(page.wait_for_function(f"() => ({ASKED})?.key").json_value()).removeprefix("=")


def answer(page: Page, reads: Mapping[str, str]) -> None:
    """Answer every question of the reading asked for, in the order the page asks them."""
    keep, key = page.locator("#pad .enter"), asked(page)
    for name, value in reads.items():
        choices = page.locator(f'#values input[name="{name}"][type=radio]')
        if choices.count():
            if value:
                tap(page.locator("#values label").filter(has=page.locator(f'input[name="{name}"][value="{value}"]')))
            continue
        field = page.locator(f'#values input[name="{name}"]')
        if field.count() and not _active(field):
            tap(field)
        if value:
            press(page, value)
        if _more(page):
            keep.tap()
    keep.tap()
    page.wait_for_function(f"key => {{ const now = {ASKED}; return now && now.key !== key; }}", arg="=" + key)


def _active(field: Locator) -> bool:
    return bool(field.evaluate("field => field.parentElement.classList.contains('active')"))


def _more(page: Page) -> bool:
    return page.locator("#pad .enter").inner_text() == "Next"
