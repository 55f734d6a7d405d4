"""10,000 jobs in the book, 20 phones each changing a value every five seconds: how long the server takes to answer.

Run ``python -m bench.book --write`` (``--book postgresql://...`` for an empty database of your own). Each phone works on a job of
its own; every five seconds (give or take a second, so that they do not march in step) it changes a reading or a choice and gets
the plan that follows from it, then looks at a page of the book. Times are those of the verbs, from the call to the answer,
waiting for others included; the network and the drawing of pages are not in them. The machine is the reference: the table gives,
from the same run, how long one plan takes with nothing else going on.
"""

from __future__ import annotations

import argparse
import os
import random
import statistics
import tempfile
import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from bench.shared.tables import keep_row, load, p95
from crownwright.book.jobs import Heading, Stamp
from crownwright.book.schema import JOB, REVISION, search_words
from crownwright.service.desk.list_jobs import list_jobs
from crownwright.service.desk.model import By, Change, Entry, Saved
from crownwright.service.desk.open_desk import Desk, open_desk
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.desk.revisions_of import history
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.open_job import open_demo

JOBS, PHONES, EVERY = 10_000, 20, 5.0
TABLE = Path(__file__).parents[1] / "docs" / "bench" / "book.md"
SAYS = """# The book under load

Made by `python -m bench.book --write`: {jobs:,} jobs in the book, {phones} phones each changing a value every {every:.0f} s.
Seconds of the verbs, waiting for others included, network and drawing of pages not. "alone" is one plan with nothing else
going on. "load" is how many processes wanted the processor in the last minute, on how many cores: far more than there are cores
means that other work took it, and the times say more of that than of this.

"""
STREETS = ("Heron Lane", "Mill Row", "Weir Road", "Étang Close", "Chapel Hill")


def fill(desk: Desk, text: str, jobs: int = JOBS) -> None:
    """So many jobs under their own headings, no two of the same text, or one's plan would be kept for another."""
    stamp, chance = Stamp("bench", "desk", desk.now()), random.Random(1)
    rows = []
    for k in range(jobs):
        told = Heading(f"Stack {k}", f"Customer {chance.randrange(3000)}", f"{chance.randrange(90)} {chance.choice(STREETS)}")
        at = f"2026-{chance.randrange(1, 12):02d}-{chance.randrange(1, 29):02d}T08:00:00Z"
        heading = {"title": told.title, "customer": told.customer, "place": told.place}
        rows.append({"id": f"job-{k}", "begun_at": at, "head": 1, **heading, "state": "asked", "next_visit": at[:10]})
        rows[-1] |= {"changed_at": at, "deleted_at": None, "search": search_words(*heading.values())}
    made = {"number": 1, "made_at": stamp.at, "who": stamp.who, "device": stamp.device, "what": "begun"}
    for some in range(0, jobs, 1000):
        with desk.book.writing() as c:
            c.execute(JOB.insert(), rows[some : some + 1000])
            c.execute(
                REVISION.insert(),
                [
                    made | {"job": row["id"], "restores": None, "text": f"{text}\n# {row['id']}\n"}
                    for row in rows[some : some + 1000]
                ],
            )


class Times:
    """Seconds by what was asked for."""

    def __init__(self) -> None:
        self.lock, self.rows = threading.Lock(), {"save": [], "plan": [], "list": [], "search": [], "history": []}

    def of(self, what: str, work: Callable[..., Any], *args: object, **more: object) -> Any:
        """Do the work and note how long it took."""
        start = time.perf_counter()
        answer = work(*args, **more)
        with self.lock:
            self.rows[what].append(time.perf_counter() - start)
        return answer


def phone(desk: Desk, k: int, times: Times, until: float) -> None:
    chance, by, job, n = random.Random(k), By("bench", f"phone-{k}"), f"job-{k * 97}", 0
    time.sleep(chance.uniform(0, EVERY))
    while time.monotonic() < until:
        due, n = time.monotonic() + chance.uniform(EVERY - 1, EVERY + 1), n + 1
        if chance.random() < 0.5:
            change = Change("readings.drops[0].below", f"{chance.randrange(1, 3)} {chance.randrange(1, 64)}/64")
        else:
            change = Change("cap.overhang_wanted", f"4 {chance.randrange(1, 8)}/16")
        saved = times.of("save", save_entry, desk, by, Entry(f"{k}-{n}", job, 10**6, (change,)))
        assert isinstance(saved, Saved)
        plan = times.of("plan", plan_of, desk, job, cut_list=False)
        assert plan.planned is not None, plan.opened.problems
        times.of("list", list_jobs, desk, order=chance.choice(("changed", "visit", "customer")))
        times.of("search", list_jobs, desk, f"{chance.choice(STREETS)} {chance.randrange(90)}")
        times.of("history", history, desk, job)
        time.sleep(max(0.0, due - time.monotonic()))


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--book")
    parser.add_argument("--seconds", type=float, default=90.0)
    parser.add_argument("--planners", type=int, default=max(1, (os.cpu_count() or 2)))
    parser.add_argument("--write", action="store_true")
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        desk = open_desk(args.book or str(Path(folder) / "jobs.book"), planners=args.planners)
        text = open_demo().text
        fill(desk, text)
        alone = []
        for k in range(12):  # the first ones wake the planning processes
            start = time.perf_counter()
            desk.planner.plan(f"{text}\n# {k}", cut_list=False)
            alone.append(time.perf_counter() - start)
        times, until = Times(), time.monotonic() + args.seconds
        phones = [threading.Thread(target=phone, args=(desk, k, times, until)) for k in range(PHONES)]
        for one in phones:
            one.start()
        for one in phones:
            one.join()
        kind = desk.book.engine.dialect.name
        desk.close()
    cells = [f"{p95(times.rows[what]):.3f}" for what in ("save", "plan", "list", "search", "history")]
    row = f"| {kind} | {len(times.rows['save'])} | {min(alone):.3f} | {' | '.join(cells)} | {load()} |"
    print(row, f"median plan {statistics.median(times.rows['plan']):.3f}")
    if args.write:
        head = "| database | changes | plan alone | save p95 | plan p95 | list p95 | search p95 | history p95 | load on cores |"
        keep_row(TABLE, SAYS.format(jobs=JOBS, phones=PHONES, every=EVERY), head, row)


if __name__ == "__main__":
    main()
