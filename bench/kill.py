"""Kill a server 300 times in mid-save under load: is every acknowledged save there, and every job readable?

Run ``python -m bench.kill --write`` (``--kills 300``, ``--book postgresql://...`` for a server of your own, made empty first).
A child process saves without pause from four threads and says so for each save that was acknowledged; it is killed (-9) at a
random moment; the next child opens the same book. At the end every acknowledged entry must be in the book, once.
"""

from __future__ import annotations

import argparse
import os
import random
import signal
import tempfile
import threading
import time
from multiprocessing import get_context
from pathlib import Path

from bench.shared.tables import keep_row
from crownwright.book import revisions
from crownwright.service.desk.begin_job import begin_job
from crownwright.service.desk.list_jobs import list_jobs
from crownwright.service.desk.model import By, Change, Entry, Saved
from crownwright.service.desk.open_desk import Desk, open_desk
from crownwright.service.desk.revisions_of import history
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.jobfile.syntax import parse_toml

JOBS, THREADS = 8, 4
TABLE = Path(__file__).parents[1] / "docs" / "bench" / "kill.md"
SAYS = """# Killed in mid-save

Made by `python -m bench.kill --write`: four threads save without pause; the process is killed (-9) at a random moment and started
again on the same book.

"""


def child(address: str, seed: int, out: int) -> None:
    """Save without end; one line into the pipe ``out`` for every save that was acknowledged."""
    desk = open_desk(address)

    def work(thread: int) -> None:
        by, chance, n = By("bench", f"phone-{thread}"), random.Random(seed * 100 + thread), 0
        while True:
            job, name, n = f"job-{chance.randrange(JOBS)}", f"{seed}-{thread}-{n}", n + 1
            changes = (Change("readings.drops[+]", {"corner": "A", "below": "1", "first": name}), Change("notes", name))
            if chance.random() < 0.15:  # now and then the list is emptied, so that texts stay of one length
                changes = (Change("readings.drops", remove=True), Change("notes", name))
            if isinstance(save_entry(desk, by, Entry(name, job, 10**6, changes)), Saved):
                os.write(out, f"{job} {name}\n".encode())

    for thread in range(THREADS):
        threading.Thread(target=work, args=(thread,), daemon=True).start()
    signal.pause()


def killed(address: str, seed: int, chance: random.Random) -> list[str]:
    """Start a child, kill it at a random moment after its first save; the saves it said were acknowledged."""
    back, out = os.pipe()
    running = get_context("fork").Process(target=child, args=(address, seed, out))
    running.start()
    os.close(out)
    with open(back, encoding="utf-8") as pipe:
        first = pipe.readline()
        time.sleep(chance.uniform(0.0, 0.25))
        running.kill()
        running.join()
        lines = [first, *pipe]
    return [line.strip() for line in lines if line.endswith("\n")]


def missing(desk: Desk, acknowledged: list[str]) -> tuple[list[str], int, int]:
    """Acknowledged saves that are not there as they were sent; revisions in all; texts that cannot be read."""
    lost, unreadable, count = [], 0, 0
    with desk.book.reading() as c:
        for line in acknowledged:
            job, name = line.split()
            number = revisions.entry_seen(c, name)
            if number is None or parse_toml(revisions.numbered(c, job, number).text, "").values.get("notes") != name:
                lost.append(line)
        for row in list_jobs(desk).rows:
            numbers = [r.number for r in revisions.texts(c, row.id)]
            unreadable += sum(bool(parse_toml(r.text, "").problems) for r in revisions.texts(c, row.id))
            unreadable += numbers != list(range(1, row.head + 1))
            count += len(numbers)
    return lost, count, unreadable


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--book")
    parser.add_argument("--kills", type=int, default=300)
    parser.add_argument("--write", action="store_true")
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        address = args.book or str(Path(folder) / "jobs.book")
        desk = open_desk(address)
        for k in range(JOBS):
            begin_job(desk, By("bench"), f"job-{k}", f"Stack {k}")
        desk.close()  # no connection may be shared with the children
        chance, acknowledged = random.Random(5), []
        for k in range(args.kills):
            acknowledged += killed(address, k, chance)
        desk = open_desk(address)
        lost, count, unreadable = missing(desk, acknowledged)
        assert len(history(desk, "job-0")) > 1
        kind = desk.book.engine.dialect.name
        desk.close()
    row = f"| {kind} | {args.kills} | {len(acknowledged)} | {len(lost)} | {count} | {unreadable} |"
    print(row)
    if args.write:
        head = "| database | kills (-9) | saves acknowledged | of these lost | revisions in the book | unreadable |"
        keep_row(TABLE, SAYS, head, row)
    raise SystemExit(bool(lost or unreadable))


if __name__ == "__main__":
    main()
