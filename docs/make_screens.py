"""Take a picture of every page of the app, on a phone and at a desk, from a book that is lived in, into docs/pictures/app."""

from __future__ import annotations

import io
import re
import sys
import tempfile
from datetime import UTC, datetime
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from PIL import Image  # noqa: E402
from playwright.sync_api import Browser, sync_playwright  # noqa: E402
from tests.browser.test_pages import ROUTES, fill, is_page  # noqa: E402
from tests.lived_in import live_in  # noqa: E402
from tests.served import DESK, PHONE, launch, served  # noqa: E402

from crownwright.service.desk.open_desk import open_desk  # noqa: E402
from crownwright.web.own_authority import papers_in  # noqa: E402

FOLDER = ROOT / "docs" / "pictures" / "app"
NOW = datetime(2026, 5, 10, 12, tzinfo=UTC)
COLOURS = 24
TALLEST = 2200  # px; of a long page its beginning
SAYS = """# Every page

Made by `python docs/make_screens.py` from the sample job, on a phone's window of {width} by {height} and at a desk.

"""


def picture(browser: Browser, home: str, address: str, size: tuple[int, int]) -> bytes:
    """One page as a small PNG of few colours."""
    phone = size == PHONE
    window: Any = {"width": size[0], "height": size[1]}
    context = browser.new_context(
        base_url=home, viewport=window, has_touch=phone, is_mobile=phone, service_workers="block", reduced_motion="reduce"
    )
    page = context.new_page()
    page.clock.set_fixed_time(NOW)
    page.goto(address, wait_until="networkidle")
    tall = min(page.evaluate("document.documentElement.scrollHeight"), TALLEST if phone else size[1])
    raw = page.screenshot(full_page=True, clip={"x": 0, "y": 0, "width": size[0], "height": tall})
    context.close()
    out = io.BytesIO()
    Image.open(io.BytesIO(raw)).convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE).save(out, "PNG", optimize=True)
    return out.getvalue()


def main() -> None:
    """Take them all, and write the page that shows them."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    lines, taken = [], set()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        desk = open_desk(Path(folder) / "jobs.book", clock=lambda: NOW)
        app = cast(Any, SimpleNamespace(there=live_in(desk)))
        browser = launch(playwright)
        with served(desk, papers=papers_in(Path(folder) / "door", ("192.168.1.20", "shop.local"), desk.clock())) as home:
            for route in ROUTES:
                address = fill(route, app)
                if not is_page(home, address):
                    continue
                name = re.sub(r"\{[^}]*\}", "", route.removeprefix("/job/{job}")).strip("/").replace("/", "-")
                name = re.sub(r"-+", "-", name).strip("-") or ("job" if "{job}" in route else "book")
                for kind, size in (("phone", PHONE), ("desk", DESK)):
                    (FOLDER / f"{name}-{kind}.png").write_bytes(picture(browser, home, address, size))
                    taken.add(f"{name}-{kind}.png")
                lines.append(f"## `{route}`\n\n![{name} on a phone]({name}-phone.png) ![{name} at a desk]({name}-desk.png)\n")
        browser.close()
        desk.close()
    for old in FOLDER.glob("*.png"):
        if old.name not in taken:
            old.unlink()
    says = SAYS.format(width=PHONE[0], height=PHONE[1])
    (FOLDER / "README.md").write_text(says + "\n".join(lines), "utf-8")


if __name__ == "__main__":
    main()
