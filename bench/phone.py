"""A phone on a slow network: when each page shows what matters, and how much comes over the air; what a glove and the sun meet.

Run ``python -m bench.phone --write``. Chromium is slowed as a cheap phone behind a weak mast is: 150 ms there and back,
1.6 Mbit/s, a processor four times slower. Each page is opened with nothing kept from before, in a window of 360 by 740. LCP is
the browser's own largest contentful paint; bytes are those on the wire, headers included, until the page is loaded.
"""

from __future__ import annotations

import argparse
import os
import statistics
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from urllib.request import urlopen

from playwright.sync_api import Browser, Page, sync_playwright
from tests.browser.measure import LEAST_CONTRAST, LEAST_GAP, LEAST_TARGET, LEAST_TEXT, measure
from tests.lived_in import live_in
from tests.served import PHONE, launch, served

from crownwright.service.desk.open_desk import open_desk

TABLE = Path(__file__).parents[1] / "docs" / "bench" / "phone.md"
NOW = datetime(2026, 5, 10, 12, tzinfo=UTC)
RATE = 1.6e6 / 8  # bytes/s
NETWORK = {"offline": False, "latency": 150, "downloadThroughput": RATE, "uploadThroughput": RATE}
SLOWER = 4
MOST_SECONDS, MOST_BYTES = 1.5, 150_000
PAGES = ("/", "/job/sample", "/job/sample/up-top", "/job/sample/cap", "/job/sample/days", "/job/sample/pour-day", "/doorstep")
ROOF = ("/job/sample/up-top", "/job/sample/pour-day")
LCP = """() => new Promise((told) => {
  let last = 0;
  new PerformanceObserver((list) => { for (const entry of list.getEntries()) last = entry.startTime; })
    .observe({ type: 'largest-contentful-paint', buffered: true });
  setTimeout(() => told(last), 300);
})"""
SAYS = """# Pages on a phone

Made by `python -m bench.phone --write` with {browser}, slowed to 150 ms there and back, 1.6 Mbit/s and a processor {slower} times
slower; a window of {width} by {height}, nothing kept from before; the middle of {tries} tries. LCP is the browser's largest
contentful paint, bytes are those on the wire with headers. The goal for the first page is {seconds} s and {most:,} bytes, before
3-D is asked for. "answer" is how long the app takes for the page asked for again with no slow network between; {load} processes
had wanted the machine's {cores} cores in the last minute.

"""
GLOVES = """
The pages for gloves and glare, as the browser lays them out at {width} by {height}: every link, button and field; every two of
them that lie in one layer; every text. Goals: {target:.0f} px, {gap:.0f} px, {contrast:.0f}:1, {text:.0f} px.

"""


@dataclass(frozen=True, slots=True)
class Opening:
    """One cold opening of a page: LCP and the app's answer in seconds, bytes on the wire, how many things were asked for."""

    lcp: float
    answer: float
    size: int
    asked: int


@contextmanager
def phone(browser: Browser, home: str) -> Iterator[Page]:
    """A window as on a phone."""
    size = {"width": PHONE[0], "height": PHONE[1]}
    context = browser.new_context(base_url=home, viewport=size, has_touch=True, is_mobile=True, service_workers="block")  # type: ignore[arg-type]
    yield context.new_page()
    context.close()


def opening(browser: Browser, home: str, address: str) -> Opening:
    """Open a page with nothing kept from before, on the slow network."""
    with phone(browser, home) as page:
        wire = page.context.new_cdp_session(page)
        sizes: list[float] = []
        wire.send("Network.enable")
        wire.on("Network.loadingFinished", lambda told: sizes.append(told["encodedDataLength"]))
        wire.send("Network.emulateNetworkConditions", NETWORK)
        wire.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        page.goto(address, wait_until="load")
        lcp = page.evaluate(LCP) / 1000
    start = time.perf_counter()
    with urlopen(home + address) as answer:
        answer.read()
    return Opening(lcp, time.perf_counter() - start, round(sum(sizes)), len(sizes))


def middle(openings: list[Opening]) -> Opening:
    """The middle of each figure."""
    lcp, answer, size, asked = (statistics.median(getattr(one, name) for one in openings) for name in Opening.__slots__)
    return Opening(lcp, answer, round(size), round(asked))


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--tries", type=int, default=5)
    parser.add_argument("--write", action="store_true")
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        desk = open_desk(Path(folder) / "jobs.book", clock=lambda: NOW)
        live_in(desk)
        browser = launch(playwright)
        with served(desk) as home:
            found = {page: middle([opening(browser, home, page) for _ in range(args.tries)]) for page in PAGES}
            gloves = {}
            for address in ROOF:
                with phone(browser, home) as page:
                    page.goto(address)
                    gloves[address] = measure(page).least()
        version = f"Chromium {browser.version}"
        browser.close()
        desk.close()
    lines = ["| page | LCP, s | answer, s | bytes | things asked for |", "|---|---|---|---|---|"]
    lines += [f"| {page} | {o.lcp:.2f} | {o.answer:.2f} | {o.size:,} | {o.asked} |" for page, o in found.items()]
    small = ["| page | smallest target, px | smallest gap, px | least contrast | smallest text, px |", "|---|---|---|---|---|"]
    small += [
        f"| {page} | {tap:.0f} | {gap:.1f} | {ratio:.1f}:1 | {text:.1f} |" for page, (tap, gap, ratio, text) in gloves.items()
    ]
    size = {"width": PHONE[0], "height": PHONE[1]}
    says = SAYS.format(
        browser=version, slower=SLOWER, tries=args.tries, seconds=MOST_SECONDS, most=MOST_BYTES,
        load=f"{os.getloadavg()[0]:.0f}", cores=os.cpu_count(), **size,
    )  # fmt: skip
    goals = GLOVES.format(target=LEAST_TARGET, gap=LEAST_GAP, contrast=LEAST_CONTRAST, text=LEAST_TEXT, **size)
    text = says + "\n".join(lines) + "\n" + goals + "\n".join(small) + "\n"
    print(text)
    if args.write:
        TABLE.write_text(text, "utf-8")


if __name__ == "__main__":
    main()
