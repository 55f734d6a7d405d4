"""Make the guide: take the pictures of the sample job's pages in a real browser, and write docs/guide.md beside them.

Needs Chromium and Playwright (the `dev` extra). The clock, the job and its weather are fixed, so that pictures change only when
the pages do.
"""

from __future__ import annotations

import io
import os
import shutil
import socket
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from PIL import Image

from crownwright.service.desk.model import By, Change, Entry
from crownwright.service.desk.open_desk import Desk, open_desk
from crownwright.service.desk.sample import SAMPLE, lay_in_sample
from crownwright.service.desk.save_entry import save_entry
from crownwright.web.app import build_app
from crownwright.web.page import STATIC
from crownwright.web.pages.help import guide

ROOT = Path(__file__).resolve().parent.parent
PICTURES = STATIC / "help"
GUIDE = ROOT / "docs" / "guide.md"
POURED = datetime(2026, 5, 14, 17, 40, tzinfo=UTC)  # an hour and a half after the first batch
SIZE = {"width": 360, "height": 740}
BY = By("E. Marr")
WEATHER = [
    {"on": f"2026-05-{11 + i}", "high": f"{high} F", "low": f"{low} F", "wind": f"{wind} mph", "humidity": "60 %",
     "rain_chance": f"{rain} %", "sky": sky}
    for i, (high, low, wind, rain, sky) in enumerate([
        (64, 46, 10, 10, "half"), (66, 48, 8, 10, "clear"), (70, 50, 6, 10, "clear"), (74, 54, 7, 10, "half"),
        (68, 54, 17, 70, "overcast"), (66, 50, 9, 20, "half"), (70, 50, 6, 10, "clear"),
    ])
]  # fmt: skip
DAY = (
    Change("day.zone", "America/New_York"),
    Change("day.weather", WEATHER),
    Change("day.begins", "2026-05-14T11:00"),
    Change("day.events[+]", {"at": "2026-05-14 11:05", "what": "first batch"}),
    Change("day.batches[+]", {"at": "2026-05-14 11:05", "bags": "2", "water": "6.3 qt", "temperature": "64 F"}),
    Change("day.batches[+]", {"at": "2026-05-14 11:14", "bags": "2"}),
    Change("day.events[+]", {"at": "2026-05-14 13:10", "what": "struck off"}),
    Change("day.events[+]", {"at": "2026-05-14 13:34", "what": "note", "note": "misted"}),
    Change("day.temperatures[+]", {"at": "2026-05-14 13:30", "place": "top", "temperature": "76 F"}),
)


def sample(folder: Path) -> Desk:
    """A book with the sample job in it, half way through its pour day."""
    desk = open_desk(folder / "jobs.book", clock=lambda: POURED)
    lay_in_sample(desk, BY)
    for n, change in enumerate(DAY):
        save_entry(desk, BY, Entry(f"guide{n}", SAMPLE, 0, (change,), (POURED + timedelta(seconds=n)).isoformat()))
    return desk


@contextmanager
def served(desk: Desk) -> Iterator[str]:
    """The app on an address of this machine."""
    import uvicorn

    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    server = uvicorn.Server(uvicorn.Config(build_app(desk, owner=BY.who, patience=60), port=port, log_level="warning"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.05)
    yield f"http://127.0.0.1:{port}"
    server.should_exit = True
    thread.join(10)


def small(png: bytes) -> bytes:
    """A picture of a page, small: few colours, as lossless WebP."""
    with Image.open(io.BytesIO(png)) as picture:
        few = picture.convert("RGB").quantize(48, dither=Image.Dither.NONE).convert("RGB")
        out = io.BytesIO()
        few.save(out, "WEBP", lossless=True, quality=100, method=6)
        return out.getvalue()


def take(address: str, browser: Any) -> None:
    """Take the picture of every step that has a page."""
    context = browser.new_context(viewport=SIZE, device_scale_factor=1, reduced_motion="reduce", service_workers="block")
    tab = context.new_page()
    tab.clock.set_fixed_time(POURED)
    for step in guide():
        if "at" not in step:
            continue
        tab.goto(address + step["at"].format(job=SAMPLE), wait_until="networkidle")
        if step["key"] == "solid":
            tab.wait_for_selector("canvas:not([hidden])")
        tab.wait_for_timeout(600)
        data = small(tab.screenshot())
        (PICTURES / f"{step['key']}.webp").write_bytes(data)
        print(f"{step['key']}: {len(data) / 1000:.0f} kB")
    context.close()


def written() -> str:
    """The guide as a page of the docs."""
    lines = ["# One job, from the ladder to the handover", ""]
    lines += ["<!-- Made by docs/make_guide.py from src/crownwright/web/guide.toml: change it there. -->", ""]
    for n, step in enumerate(guide(), 1):
        lines += [f"## {n}. {step['title']}", ""]
        if "at" in step:
            lines += [f"![{step['shows']}](../src/crownwright/web/static/help/{step['key']}.webp)", ""]
        for says in step["says"]:
            lines += [says, ""]
    return "\n".join(lines).rstrip() + "\n"


def main() -> None:
    """Take the pictures (unless --words) and write the guide."""
    if "--words" not in sys.argv:
        from playwright.sync_api import sync_playwright

        PICTURES.mkdir(parents=True, exist_ok=True)
        chromium = os.environ.get("CHROMIUM") or shutil.which("chromium") or shutil.which("chromium-browser")
        software = ["--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"]
        with tempfile.TemporaryDirectory() as folder, sync_playwright() as play:
            desk = sample(Path(folder))
            browser = play.chromium.launch(executable_path=chromium, args=software)
            with served(desk) as address:
                take(address, browser)
            browser.close()
            desk.close()
    GUIDE.write_text(written(), "utf-8")


if __name__ == "__main__":
    main()
