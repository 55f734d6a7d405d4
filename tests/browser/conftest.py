"""A phone in a real browser: no page reaches out, nothing goes wrong unseen."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from tests.lived_in import LivedIn, live_in
from tests.served import DESK, PHONE, chromium, launch, served

from crownwright.service.desk.open_desk import Desk, open_desk
from crownwright.web.app import PATIENCE
from crownwright.web.own_authority import papers_in

pytest.importorskip("playwright", reason="no Playwright here: install the dev extra")
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright
from tests.browser.waits import LONGEST

NOW = datetime(2026, 5, 10, 12, 0, tzinfo=UTC)
expect.set_options(timeout=LONGEST)


@dataclass
class Watched:
    """What a browser did that it should not: asked other hosts, ran into errors, opened a dialog, made the app fail."""

    home: str
    outside: list[str] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)
    failed: list[str] = field(default_factory=list)

    def watch(self, context: BrowserContext) -> None:
        """Note what any page of a context does."""
        context.on("request", self._asked)
        context.on("response", lambda r: self.failed.append(f"{r.status} {r.url}") if r.status >= 500 else None)
        context.on("console", lambda m: self.errors.append(m.text) if m.type == "error" and "status of 4" not in m.text else None)
        context.on("weberror", lambda e: self.errors.append(str(e.error)))
        context.on("dialog", self._dialog)

    def _asked(self, request: Any) -> None:
        if not request.url.startswith((self.home, "data:", "blob:")):
            self.outside.append(request.url)

    def _dialog(self, dialog: Any) -> None:
        self.errors.append(f"dialog: {dialog.message}")
        dialog.dismiss()

    def check(self) -> None:
        """Fail where there was any of it."""
        assert not self.outside, f"asked other hosts: {self.outside}"
        assert not self.failed, f"the app failed: {self.failed}"
        assert not self.errors, f"the browser complained: {self.errors}"


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    if chromium() is None:
        pytest.skip("no Chromium here, and none could be installed: apt-get install chromium")
    with sync_playwright() as playwright:
        started = launch(playwright)
        yield started
        started.close()


@dataclass(frozen=True)
class Served:
    """A book that is lived in, and where it is served."""

    desk: Desk
    home: str
    there: LivedIn


@pytest.fixture(scope="package")
def app(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One book for all that only look."""
    desk = open_desk(tmp_path_factory.mktemp("book") / "jobs.book", clock=lambda: NOW)
    there = live_in(desk)
    papers = papers_in(tmp_path_factory.mktemp("door"), ("192.168.1.20", "shop.local"), NOW)
    with served(desk, papers=papers) as home:
        yield Served(desk, home, there)
    desk.close()


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Served]:
    """A book with nothing in it, for one test alone."""
    desk = open_desk(tmp_path / "jobs.book", clock=lambda: NOW)
    with served(desk, patience=PATIENCE) as home:
        yield Served(desk, home, LivedIn("", "", "", "", "", "", "", "", 0))
    desk.close()


@contextmanager
def phone(browser: Browser, home: str, **more: object) -> Iterator[BrowserContext]:
    """A phone with an outbox of its own."""
    size = {"width": PHONE[0], "height": PHONE[1]}
    context = browser.new_context(base_url=home, viewport=size, has_touch=True, is_mobile=True, reduced_motion="reduce", **more)  # type: ignore[arg-type]
    context.set_default_timeout(LONGEST)
    yield context
    context.close()


Opener = Callable[..., Any]


def _window(browser: Browser, home: str, size: tuple[int, int], script: bool, **more: Any) -> tuple[Page, Watched]:
    """A window as a phone or a desk has it, in a context of its own, and what it does that it should not."""
    phone = size == PHONE
    context = browser.new_context(
        base_url=home,
        viewport={"width": size[0], "height": size[1]},
        has_touch=phone,
        is_mobile=phone,
        java_script_enabled=script,
        service_workers="block",
        reduced_motion="reduce",
        **more,
    )
    context.set_default_timeout(LONGEST)
    watched = Watched(home)
    watched.watch(context)
    page = context.new_page()
    if script:
        page.clock.set_fixed_time(NOW)
    return page, watched


@pytest.fixture
def opened(browser: Browser) -> Opener:
    """Open a page as a phone or a desk would: ``with opened(home) as page``. What should not happen fails the test at its end."""

    @contextmanager
    def opened(home: str, *, size: tuple[int, int] = PHONE, script: bool = True, **more: Any) -> Iterator[Page]:
        page, watched = _window(browser, home, size, script, **more)
        try:
            yield page
            watched.check()
        finally:
            page.context.close()

    return opened


@pytest.fixture(scope="module")
def looking(browser: Browser) -> Iterator[Opener]:
    """As ``opened``, for pages that are only looked at: each kind of window is opened once and goes from page to page."""
    windows: dict[tuple[str, tuple[int, int], bool], tuple[Page, Watched]] = {}

    @contextmanager
    def looking(home: str, *, size: tuple[int, int] = PHONE, script: bool = True) -> Iterator[Page]:
        kind = (home, size, script)
        page, watched = windows.pop(kind) if kind in windows else _window(browser, home, size, script)
        try:
            yield page
            watched.check()
        except BaseException:
            page.context.close()  # the next page begins with a window that nothing went wrong in
            raise
        windows[kind] = page, watched

    yield looking
    for page, _ in windows.values():
        page.context.close()


__all__ = ["DESK", "PHONE", "Opener", "Served"]
