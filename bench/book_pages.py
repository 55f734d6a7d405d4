"""10,000 jobs in the book, 20 phones each changing a value every five seconds: how long the pages take, over HTTP.

Run ``python -m bench.book_pages --write`` (``--book postgresql://...`` for an empty database of your own). The app runs as the
command starts it, in processes of its own. Each phone has a job of its own and opens its cap, form and pour pages; then, every
five seconds (give or take a second), it changes a value as the page's script does: all fields of the form are sent, numbers,
drawings and price come back. After that it looks at a page of the book. Times are from the request sent to the last
byte of the answer, on this machine; "first" is a plan's page opened before anything was planned for that job.
"""

from __future__ import annotations

import argparse
import http.client
import random
import re
import signal
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from contextlib import contextmanager, suppress
from html import unescape
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import quote, urlencode

from tests.server import free_port

from bench.book import EVERY, JOBS, PHONES, STREETS, fill
from bench.shared.tables import keep_row, load, p95
from crownwright.service.desk.open_desk import open_desk
from crownwright.service.open_job import open_demo

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

TABLE = Path(__file__).parents[1] / "docs" / "bench" / "book-pages.md"
SAYS = """# The pages under load

Made by `python -m bench.book_pages --write`: {jobs:,} jobs in the book, {phones} phones each changing a value every
{every:.0f} s, over HTTP, seconds from the request to the last byte of the answer. "redraw" is the answer to a changed value
(numbers, drawings and price), "book" the list, a search or a job's history. "load" is how many processes
wanted the processor in the last minute, on how many cores.

"""
FIELD = re.compile(r'<(?:input|select|textarea)[^>]*?\bname="([^"]+)"([^>]*)>')
VALUE = re.compile(r'\bvalue="([^"]*)"')
CHANGED: dict[str, tuple[str, Callable[[random.Random], str]]] = {
    "cap": ("set:cap.overhang_wanted", lambda chance: f"4 {chance.randrange(1, 64)}/64"),
    "form": ("set:form.clearance", lambda chance: f"{chance.randrange(1, 64)}/64"),
    "pour": ("set:concrete.spill", lambda chance: f"{chance.randrange(100, 400) / 100} %"),
}


@contextmanager
def app(book: str) -> Iterator[int]:
    """The app as its command starts it; gives its port once it answers."""
    port = free_port()
    words = [sys.executable, "-m", "crownwright", "app", "--book", book, "--port", str(port), "--no-open"]
    running = subprocess.Popen(words, stdout=subprocess.DEVNULL)
    try:
        until = time.monotonic() + 60
        while True:
            with suppress(OSError):
                http.client.HTTPConnection("127.0.0.1", port, timeout=5).connect()
                break
            if running.poll() is not None or time.monotonic() > until:
                raise RuntimeError("the app did not start")
            time.sleep(0.1)
        yield port
    finally:
        running.send_signal(signal.SIGINT)
        running.wait(30)


class Phone:
    """One connection, kept open, with its session's cookie."""

    def __init__(self, port: int) -> None:
        self.line, self.cookie, self.origin = (
            http.client.HTTPConnection("127.0.0.1", port, timeout=60),
            "",
            f"http://127.0.0.1:{port}",
        )

    def ask(self, method: str, address: str, body: str | None = None) -> tuple[float, str]:
        """Seconds to the last byte, and what was answered."""
        headers = {"Cookie": self.cookie, "Origin": self.origin, "Accept": "text/html", "Accept-Encoding": "gzip"}
        if body is None:
            headers["Accept-Encoding"] = "identity"
        else:
            headers["Content-Type"] = "application/x-www-form-urlencoded"
        start = time.perf_counter()
        self.line.request(method, address, body, headers)
        answer = self.line.getresponse()
        data = answer.read()
        took = time.perf_counter() - start
        assert answer.status == 200, (answer.status, address, data[:300])
        for told in answer.headers.get_all("Set-Cookie", []):
            self.cookie = told.split(";")[0]
        return took, data.decode() if body is None else ""

    def fields(self, page: str) -> dict[str, str]:
        """The fields of the page's choices, as they stand; a choice of several stands at what it was."""
        form = page[page.index('<form id="choices"') :]
        form = form[: form.index("</form>")]
        told = {name: unescape(found.group(1)) if (found := VALUE.search(rest)) else "" for name, rest in FIELD.findall(form)}
        was = {name.removeprefix("was:"): value for name, value in told.items() if name.startswith("was:")}
        return {name: was.get(name.partition(":")[2], value) for name, value in told.items()}


class Times:
    """Seconds by what was asked for."""

    def __init__(self) -> None:
        self.lock, self.rows = threading.Lock(), {"first": [], "redraw": [], "book": []}

    def note(self, what: str, took: float) -> None:
        """Add one."""
        with self.lock:
            self.rows[what].append(took)


def phone(port: int, k: int, times: Times, opened: threading.Barrier, seconds: float) -> None:
    chance, mine, job = random.Random(k), Phone(port), f"job-{k * 97}"
    forms = {}
    for sheet in CHANGED:
        took, page = mine.ask("GET", f"/job/{job}/{sheet}")
        forms[sheet] = mine.fields(page)
        if sheet == "cap":
            times.note("first", took)
    opened.wait()
    until = time.monotonic() + seconds
    time.sleep(chance.uniform(0, EVERY))
    while time.monotonic() < until:
        due, sheet = time.monotonic() + chance.uniform(EVERY - 1, EVERY + 1), chance.choice(list(CHANGED))
        name, value = CHANGED[sheet]
        forms[sheet][name] = value(chance)
        body = urlencode(forms[sheet])
        times.note("redraw", mine.ask("POST", f"/job/{job}/{sheet}?part=answer", body)[0])
        words = quote(f"{chance.choice(STREETS)} {chance.randrange(90)}")
        address = chance.choice(
            (f"/?by={chance.choice(('changed', 'visit', 'customer'))}", f"/?words={words}", f"/job/{job}/history")
        )
        times.note("book", mine.ask("GET", address)[0])
        time.sleep(max(0.0, due - time.monotonic()))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--book")
    parser.add_argument("--seconds", type=float, default=90.0)
    parser.add_argument("--phones", type=int, default=PHONES)
    parser.add_argument("--jobs", type=int, default=JOBS, help="fewer, for a look at whether it runs")
    parser.add_argument("--write", action="store_true")
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        book = args.book or str(Path(folder) / "jobs.book")
        desk = open_desk(book)
        fill(desk, open_demo().text, args.jobs)
        kind = desk.book.engine.dialect.name
        desk.close()
        times, opened = Times(), threading.Barrier(args.phones)
        with app(book) as port:
            phones = [threading.Thread(target=phone, args=(port, k, times, opened, args.seconds)) for k in range(args.phones)]
            for one in phones:
                one.start()
            for one in phones:
                one.join()
    cells = [f"{p95(times.rows[what]):.3f}" for what in ("redraw", "book")]
    middle = [f"{statistics.median(times.rows[what]):.3f}" for what in ("redraw", "book")]
    row = f"| {kind} | {len(times.rows['redraw'])} | {' | '.join((*cells, *middle))} | {load()} |"
    print(row, f"first page of a plan, median {statistics.median(times.rows['first']):.3f}, all phones at once")
    if args.write:
        head = "| database | changes | redraw p95 | book p95 | redraw median | book median | load on cores |"
        keep_row(TABLE, SAYS.format(jobs=args.jobs, phones=args.phones, every=EVERY), head, row)


if __name__ == "__main__":
    main()
