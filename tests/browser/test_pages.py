"""Every page there is, in a real browser: readable by everybody, on a phone, without a script, and never asking elsewhere."""

from __future__ import annotations

import re
from functools import cache
from urllib.parse import urlsplit

import httpx2 as httpx
import pytest
from tests.browser.axe import violations
from tests.browser.conftest import DESK, PHONE, Opener, Served
from tests.browser.measure import Measured, measure

from crownwright.web.app import PAGES

ROUTES = sorted(
    {route.path for module in PAGES for route in module.router.routes if "GET" in (getattr(route, "methods", None) or ())}
)
"""Addresses of the app itself: a new page is looked at here without being named."""
ROOF = {"/job/{job}/up-top", "/job/{job}/found", "/job/{job}/photos", "/job/{job}/pour-day"}
"""Pages for gloves and glare."""
KEY = "cap.volume"


def fill(route: str, app: Served) -> str:
    """An address of a route on the lived-in book. A name in braces that is not known here wants a line of its own."""
    there = app.there
    said = {
        "job": there.job,
        "photo": there.photo,
        "issue": there.paper,
        "paper": "summary",
        "device": there.phone,
        "number": "2",
        "name": "cap-plan",
        "kind": "svg",
        "key": KEY,
        "key:path": KEY,
    }
    return re.sub(r"\{([a-z:_]+)\}", lambda name: said[name[1]], route)


@cache
def is_page(home: str, address: str) -> bool:
    """Whether it answers with a page; a file or data for a script is no page. It must answer, either way."""
    answer = httpx.get(home + address, headers={"accept": "text/html"}, timeout=60)
    assert answer.status_code == 200, f"{address}: {answer.status_code}"
    return answer.headers["content-type"].startswith("text/html") and "<html" in answer.text


def sideways(found: Measured, size: tuple[int, int]) -> list[str]:
    """That a page is wider than the screen, where it is."""
    return [f"{found.wide} wide on a screen of {size[0]}"] if found.wide > size[0] else []


@pytest.mark.parametrize("route", ROUTES)
def test_a_page_reads_well_on_a_phone(route: str, app: Served, looking: Opener) -> None:
    address = fill(route, app)
    if not is_page(app.home, address):
        return
    with looking(app.home) as page:
        page.goto(address)
        assert page.locator("h1").count() == 1
        found = measure(page)
        small = found.too_small() if route in ROOF else found.small_elsewhere()
        assert [*sideways(found, PHONE), *small, *violations(page)] == []


@pytest.mark.parametrize("route", ROUTES)
def test_a_page_reads_well_at_a_desk(route: str, app: Served, looking: Opener) -> None:
    address = fill(route, app)
    if not is_page(app.home, address):
        return
    with looking(app.home, size=DESK) as page:
        page.goto(address)
        assert [*sideways(measure(page), DESK), *violations(page)] == []


@pytest.mark.parametrize("route", ROUTES)
def test_a_page_is_whole_without_a_script(route: str, app: Served, looking: Opener) -> None:
    """As HTML alone: it says what it is, every form has a button that sends it, and every button has a form."""
    address = fill(route, app)
    if not is_page(app.home, address):
        return
    with looking(app.home, script=False) as page:
        page.goto(address)
        assert page.locator("h1").inner_text().strip()
        assert len(page.locator("main").inner_text()) > 40
        for form in page.locator("form").all():
            sends = form.locator("button:not([type=button]), input[type=submit]").count()
            name = form.get_attribute("id")
            sends += page.locator(f"button[form={name}]").count() if name else 0
            assert sends, f"nothing sends {form.evaluate('form => form.outerHTML.slice(0, 200)')}"
        idle = page.locator("button:visible").evaluate_all("all => all.filter(b => !b.form).map(b => b.outerHTML.slice(0, 200))")
        assert not idle, "a button that does nothing without a script"


def test_every_page_is_reached_by_links_from_the_book(app: Served) -> None:
    """By links alone, as anybody without a script would go; a page that only a script leads to is lost to them."""
    compared = f"/job/{app.there.job}/history?one=3&other=4"  # what the form that compares two revisions asks for
    seen, waiting = set(), ["/", compared]
    with httpx.Client(base_url=app.home, follow_redirects=True, timeout=60) as client:
        while waiting and len(seen) < 400:
            address = waiting.pop()
            if _kind(address) in seen:
                continue
            seen.add(_kind(address))
            answer = client.get(address, headers={"accept": "text/html"})
            assert answer.status_code == 200, f"a link leads to {address}: {answer.status_code}"
            if answer.headers["content-type"].startswith("text/html"):
                links = re.findall(r'<(?:a|area|img|link|script|object)\b[^>]*?\b(?:href|src|data)="([^"#]+)', answer.text)
                inside = [urlsplit(link.replace("&amp;", "&")) for link in links if link.startswith("/")]
                waiting += [link.path + (f"?{link.query}" if link.query else "") for link in inside]
    missing = [route for route in ROUTES if is_page(app.home, fill(route, app)) and not any(_fits(route, s) for s in seen)]
    assert not missing, f"no link leads to {missing}"


def _kind(address: str) -> str:
    """An address without what makes two of one kind differ, so that of a hundred figures' pages one is looked at."""
    path = urlsplit(address).path
    return re.sub(r"(/working/)[^/]+", r"\1x", path)


def _fits(route: str, path: str) -> bool:
    return re.fullmatch(re.sub(r"\\\{[^}]*\\\}", "[^/]+", re.escape(route)), path) is not None
