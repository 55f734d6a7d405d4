"""Cut lists: published optima, 200 random job lists beside a general solver, and growth with the number of pieces.

Run ``python bench/cutlist.py`` (``--lists 20`` for a quick look, ``--save docs/bench/cutlist.md`` to keep the table). Everything
is seeded. Times are processor time (OR-tools' of its two workers together), so that a busy machine does not change them.
"""

from __future__ import annotations

import argparse
import random
import statistics
import time
from collections import Counter
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from ortools.sat.python import cp_model

from crownwright.form.choices import Stock
from crownwright.form.cutlist import CutList, Wanted, cut_list
from crownwright.quantity.units import FOOT, INCH

KERF, TRIM = INCH / 8, INCH / 2
STEP = INCH / 32
ROLLS = "1380x22 1520x25 1560x12 1710x14 1820x18 1880x18 1930x20 2000x10 2050x12 2100x14 2140x16 2150x18 2200x20"
PUBLISHED = {  # what, pieces as length x count, stock as length: price, published least cost
    "C1 (Chvatal 1983, p. 195)": ("45x97 36x610 31x395 14x211", {100: 1}, 453),
    "C2 (paper rolls of 5,600 mm)": (ROLLS, {5600: 1}, 73),
    "C3 (bin packing, eleven weights)": ("48x1 30x1 19x1 36x3 27x1 42x2 24x1 30x1", {100: 1}, 4),
    "C6 (Gilmore and Gomory 1961)": ("2x20 3x10 4x20", {5: 6, 6: 7, 9: 10}, 170),
}


@dataclass(frozen=True)
class Job:
    """A random job list: pieces and what the yard sells."""

    pieces: list[Wanted]
    stock: list[Stock]


def random_job(rng: random.Random, pieces: int | None = None) -> Job:
    """Make a job of 20 to 40 pieces in two or three sections, each sold in three to five lengths.

    Two lists in three look like forms (sides, blocks, cleats); one in three is any lengths at all.
    """
    count = pieces or rng.randint(20, 40)
    sections = rng.sample(["2x4", "2x6", "2x8", "quarter-round 3/4"], rng.randint(2, 3))
    like_a_form = rng.random() < 2 / 3
    sides = [rng.uniform(30, 80) for _ in range(4)]
    wanted = []
    for i in range(count):
        inches = rng.choice([*sides, *sides, 12, 12, 24, rng.uniform(6, 20)]) if like_a_form else rng.uniform(6, 84)
        wanted.append(Wanted(f"piece {i + 1}", rng.choice(sections), round(inches * 16) / 16 * INCH))
    stock = []
    for section in sections:
        per_foot = rng.uniform(0.45, 1.6)
        for feet in rng.sample([8, 10, 12, 14, 16, 20], rng.randint(3, 5)):
            stock.append(Stock(section, feet * FOOT, f"{feet * per_foot * rng.uniform(0.9, 1.15):.2f}"))
    return Job(wanted, stock)


def ours(job: Job, seconds: float = 20.0) -> tuple[CutList, float]:
    """Our cut list and its time."""
    start = time.process_time()
    made, problems = cut_list(job.pieces, job.stock, kerf=KERF, trim=TRIM, seconds=seconds)
    assert not problems
    return made, time.process_time() - start


def key_of(made: CutList, section: str) -> tuple[int, int, int]:
    """Cents, feet, boards."""
    mine = [b for b in made.boards if b.section == section]
    return int(100 * sum((b.price for b in mine), Decimal(0))), round(sum(b.length for b in mine) / FOOT), len(mine)


def reference(job: Job, section: str, seconds: float) -> tuple[tuple[int, int, int], bool]:
    """The same question put to OR-tools' CP-SAT: which piece on which board, nothing of ours in it."""
    sizes = Counter(round(p.length / STEP) + round(KERF / STEP) for p in job.pieces if p.section == section)
    stock = sorted((s for s in job.stock if s.section == section), key=lambda s: s.length)
    room = [round((s.length - TRIM) / STEP) for s in stock]
    cents = [int(Decimal(s.price) * 100) for s in stock]
    feet = [round(s.length / FOOT) for s in stock]
    boards, left = 0, 0
    for size in sorted(sizes.elements(), reverse=True):  # next fit on the longest: enough boards for some optimum of any price
        boards, left = (boards, left - size) if size <= left else (boards + 1, room[-1] - size)
    boards = min(sizes.total(), 3 * boards + 3)
    model = cp_model.CpModel()
    take = [[model.new_bool_var("") for _ in stock] for _ in range(boards)]
    rank = [sum((k + 1) * y for k, y in enumerate(row)) for row in take]
    sawn = [{s: model.new_int_var(0, min(n, room[-1] // s), "") for s, n in sizes.items()} for _ in range(boards)]
    for b in range(boards):
        model.add_at_most_one(take[b])
        model.add(sum(s * x for s, x in sawn[b].items()) <= sum(r * y for r, y in zip(room, take[b], strict=True)))
        if b:
            model.add(rank[b - 1] >= rank[b])
    for s, n in sizes.items():
        model.add(sum(row[s] for row in sawn) == n)
    weight = [c * 10**6 + f * 10**3 + 1 for c, f in zip(cents, feet, strict=True)]
    model.minimize(sum(w * y for row in take for w, y in zip(weight, row, strict=True)))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds, solver.parameters.num_workers, solver.parameters.random_seed = seconds, 2, 1
    status = solver.solve(model)
    total = round(solver.objective_value)
    return (total // 10**6, total // 10**3 % 10**3, total % 10**3), status == cp_model.OPTIMAL


def published() -> list[str]:
    """Published optima beside ours."""
    rows = ["| instance | published | ours | proved | ms |", "|---|---|---|---|---|"]
    for name, (items, stock, best) in PUBLISHED.items():
        counts = [tuple(map(int, item.split("x"))) for item in items.split()]
        wanted = [Wanted(f"{x}", "s", x * 1e-3) for x, n in counts for _ in range(n)]
        job = Job(wanted, [Stock("s", x * 1e-3, str(c)) for x, c in stock.items()])
        start = time.process_time()
        made, _ = cut_list(job.pieces, job.stock, kerf=0.0, trim=0.0, seconds=60)
        rows.append(f"| {name} | {best} | {made.cost} | {made.proved} | {1e3 * (time.process_time() - start):.0f} |")
    return rows


def beside_a_solver(lists: int, seconds: float) -> list[str]:
    """Random job lists: ours beside OR-tools."""
    rng = random.Random(20)
    equal = better = worse = known = proved = sections = 0
    our_times, their_times = [], []
    for _ in range(lists):
        job = random_job(rng)
        made, spent = ours(job)
        our_times.append(spent)
        proved += made.proved
        start = time.process_time()
        for section in sorted({p.section for p in job.pieces}):
            sections += 1
            theirs, optimal = reference(job, section, seconds)
            if not optimal:
                theirs, optimal = reference(job, section, 10 * seconds)
            known += optimal
            mine = key_of(made, section)
            equal, better, worse = equal + (mine == theirs), better + (mine < theirs), worse + (mine > theirs)
        their_times.append(time.process_time() - start)
    ours_ms = sorted(1e3 * t for t in our_times)
    half, most, worst = statistics.median(ours_ms), ours_ms[int(0.95 * lists)], ours_ms[-1]
    return [
        f"| what | {lists} random job lists, {sections} sections |",
        "|---|---|",
        f"| cost, length and boards equal to OR-tools' | {equal} of {sections} sections |",
        f"| OR-tools stopped at {10 * seconds:g} s with something dearer | {better} |",
        f"| ours dearer | {worse} |",
        f"| proved by OR-tools / by us | {known} sections / {proved} of {lists} lists |",
        f"| ours, median / 95 % / worst of a list | {half:.0f} / {most:.0f} / {worst:.0f} ms |",
        f"| OR-tools, median | {1e3 * statistics.median(their_times):.0f} ms,"
        f" {1e3 * statistics.median(their_times) / half:.1f} times ours |",
    ]


def growth() -> list[str]:
    """Time against the number of pieces, as ratios to twenty."""
    rows = ["| pieces in the list | median ms | times that of 20 | proved |", "|---|---|---|---|"]
    base = None
    for pieces in (20, 40, 80, 160):
        rng = random.Random(pieces)
        runs = [ours(random_job(rng, pieces), 30.0) for _ in range(15)]
        middle = statistics.median(t for _, t in runs)
        base = base or middle
        rows.append(f"| {pieces} | {1e3 * middle:.0f} | {middle / base:.1f} | {sum(m.proved for m, _ in runs)} of {len(runs)} |")
    return rows


def main() -> None:
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--lists", type=int, default=200)
    ask.add_argument(
        "--seconds", type=float, default=20.0, help="limit for OR-tools, a section; ten times that where it was not enough"
    )
    ask.add_argument("--save", type=Path)
    given = ask.parse_args()
    ours(random_job(random.Random(1)))  # load what loads once
    parts = ["# Cut lists", "", *published(), "", *beside_a_solver(given.lists, given.seconds), "", *growth(), ""]
    text = "\n".join(parts)
    print(text)
    if given.save:
        given.save.parent.mkdir(parents=True, exist_ok=True)
        given.save.write_text(text, "utf-8")


if __name__ == "__main__":
    main()
