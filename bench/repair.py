"""The repair: sheets cut beside published totals, and days of 200 random repairs beside an exact solver.

Run ``python -m bench.repair`` (``--repairs 20 --pieces 20`` for a quick look, ``--write`` to keep docs/bench/repair.md).
Everything is seeded; times are processor time of one process.
"""

from __future__ import annotations

import argparse
import random
import statistics
import time
from pathlib import Path

from ortools.sat.python import cp_model
from tests.validation.sheet_classes import lot_of, table

from crownwright.repair.nest import nest
from crownwright.repair.schedule import Found, Link, Step, schedule

PAGE = Path(__file__).parent.parent / "docs" / "bench" / "repair.md"
HOURS = 8.0
NOTE = """Ten instances a row, each as they lie and turned. The least known totals (Goncalves and Resende 2013, or later
where better) allow any layout; ours are cut from edge to edge, so that some may be out of reach. A row of 10 to 20 sheets moves
by 5 to 10 % with one sheet: class 6 of 40 small pieces on large sheets is where ours is furthest off."""


def sheets(pieces: list[int]) -> list[str]:
    """Published totals beside ours, class by class."""
    rows = [
        "| class | pieces | least known, as they lie | ours | least known, turned | ours | proved of 20 | slowest s |",
        "|---|---|---|---|---|---|---|---|",
    ]
    best = {(row["class"], int(row["pieces"])): row for row in table("sheet_classes_best.csv")}
    instances = table("sheet_classes.csv")
    total = {False: [0, 0], True: [0, 0]}
    for (name, count), known in best.items():
        if count not in pieces:
            continue
        cells, proved, slowest = [name, str(count)], 0, 0.0
        for turns in (False, True):
            cost = 0
            for row in instances:
                if (row["class"], int(row["pieces"])) == (name, count):
                    start = time.process_time()
                    made = nest(lot_of(row, turns=turns), random.Random(1))
                    slowest = max(slowest, time.process_time() - start)
                    cost, proved = cost + made.cost, proved + made.proved
            least = int(known["turned" if turns else "fixed"])
            total[turns][0] += least
            total[turns][1] += cost
            cells += [str(least), str(cost)]
        rows.append(f"| {' | '.join([*cells, str(proved), f'{slowest:.2f}'])} |")
    (a, b), (c, d) = total[False], total[True]
    over = f"{100 * (b / a - 1):+.2f} % as they lie, {100 * (d / c - 1):+.2f} % turned"
    rows += [
        f"| all | | **{a}** | **{b}** | **{c}** | **{d}** | | |",
        "",
        f"Over the least known totals: {over}; the goal was 3 %.",
    ]
    return rows


def random_repair(rng: random.Random, horizon: int = 60) -> list[Step]:
    """A repair of the usual trades with hours, waits and weather by chance: 8 to 25 steps of a day or less."""
    trades = [  # name, hours between, after what, wait, most, share of days that suit
        ("take down", 2, 9, (), 0.8),
        ("rebuild", 4, 30, (("take down", 0, None),), 0.6),
        ("survey", 0.5, 1.5, (("rebuild", 1, None),), 0.9),
        ("rake", 2, 14, (("rebuild", 0, None),), 0.8),
        ("repoint", 3, 20, (("rake", 0, 5),), 0.6),
        ("base flashing", 2, 8, (), 0.7),
        ("counterflash", 2, 9, (("base flashing", 0, None), ("repoint", 1, None)), 0.7),
        ("form", 2, 6, (("survey", 0, None),), 0.8),
        ("bed", 0.5, 2, (("form", 0, None), ("rebuild", rng.randint(2, 7), None)), 0.6),
        ("pour", 2, 5, (("bed", 1, 3),), 0.5),
        ("strip", 1, 3, (("pour", rng.randint(2, 4), None),), 0.9),
        ("flue", 1, 4, (("take down", 0, None),), 0.8),
        ("joint", 1, 3, (("strip", rng.choice((0, 4, 7)), None),), 0.6),
        ("repellent", 1, 4, (("repoint", rng.choice((7, 14, 28)), None), ("counterflash", 0, None)), 0.4),
    ]
    kept = [t for t in trades if rng.random() < 0.85]
    steps: list[Step] = []
    last: dict[str, int] = {}
    for name, low, high, after, share in kept:
        hours = round(rng.uniform(low, high), 1)
        known = rng.randint(7, 14)
        days = frozenset(d for d in range(horizon) if d >= known or rng.random() < share)
        links = [Link(last[key], wait, most) for key, wait, most in after if key in last]
        while hours > 1e-9:
            part = min(hours, HOURS)
            steps.append(Step(part, days, tuple(links)))
            links, hours = [Link(len(steps) - 1, 0)], round(hours - part, 1)
        last[name] = len(steps) - 1
    return steps


def reference(steps: list[Step], horizon: int, seconds: float, hint: Found) -> tuple[list[int], list[bool]]:
    """The same question put to CP-SAT, which step on which day: fewest visits, then the last day.

    Returns what it reached of both, and whether it proved it. Our days are given as a hint to begin from; what it proves it
    proves by itself.
    """
    model = cp_model.CpModel()
    at = [[model.new_bool_var("") for _ in range(horizon)] for _ in steps]
    visit = [model.new_bool_var("") for _ in range(horizon)]
    last = model.new_int_var(0, horizon - 1, "")
    for i, step in enumerate(steps):
        model.add_exactly_one(at[i])
        model.add(sum(d * x for d, x in enumerate(at[i])) <= last)
        for d in range(horizon):
            model.add_hint(at[i][d], hint.day[i] == d)
            if d not in step.days:
                model.add(at[i][d] == 0)
            model.add(at[i][d] <= visit[d])
            for link in step.after:
                model.add(sum(at[i][: d + 1]) <= sum(at[link.before][: max(d - link.wait + 1, 0)]))
                if link.most is not None:
                    model.add(sum(at[i][: d + link.most + 1]) >= at[link.before][d])
    for d in range(horizon):
        hours = sum(round(10 * step.hours) * at[i][d] for i, step in enumerate(steps))
        model.add(hours <= round(10 * HOURS) * visit[d])
        model.add_hint(visit[d], d in hint.day)
    reached, sure = [], []
    for goal in (sum(visit), last):
        model.minimize(goal)
        solver = cp_model.CpSolver()
        solver.parameters.max_deterministic_time, solver.parameters.num_workers, solver.parameters.random_seed = seconds, 1, 1
        solver.parameters.linearization_level = 2
        status = solver.solve(model)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return reached, [*sure, status == cp_model.INFEASIBLE]
        reached.append(round(solver.objective_value))
        sure.append(status == cp_model.OPTIMAL)
        model.add(goal <= reached[-1])
    return reached, sure


def days(repairs: int, exact: int, seconds: float, horizon: int = 60) -> list[str]:
    """Random repairs: ours beside CP-SAT."""
    rng = random.Random(7)
    ours, theirs, sizes = [], [], []
    count = dict.fromkeys(("visits known", "visits equal", "last known", "last equal", "better", "unplaced", "proved"), 0)
    for n in range(repairs):
        steps = random_repair(rng, horizon)
        sizes.append(len(steps))
        start = time.process_time()
        found = schedule(steps, horizon, HOURS)
        ours.append(1e3 * (time.process_time() - start))
        count["proved"] += found.proved
        if n >= exact:
            continue
        start = time.process_time()
        reached, sure = reference(steps, horizon, seconds, found)
        theirs.append(1e3 * (time.process_time() - start))
        if None in found.day:
            assert not reached, "a way was found where ours found none"
            count["unplaced"] += 1
            continue
        mine = [found.visits, max(d for d in found.day if d is not None)]
        assert mine <= reached, "the exact solver found better"
        count["better"] += mine < reached
        for name, k in (("visits", 0), ("last", 1)):
            count[f"{name} known"] += all(sure[: k + 1])
            count[f"{name} equal"] += all(sure[: k + 1]) and mine[: k + 1] == reached[: k + 1]
    ours.sort()
    visits, last = (f"{count[f'{name} known']} / {count[f'{name} equal']}" for name in ("visits", "last"))
    middle, most = statistics.median(ours), ours[int(0.95 * len(ours))]
    half, worst = (statistics.median(theirs), max(theirs)) if theirs else (0.0, 0.0)
    return [
        f"| what | {len(ours)} random repairs of {min(sizes)} to {max(sizes)} steps (median {statistics.median(sizes):.0f}) |",
        "|---|---|",
        f"| of the first {exact}: fewest visits proved by the exact solver / ours equal | {visits} |",
        f"| soonest last day proved too / ours equal | {last} |",
        f"| exact solver stopped at something worse than ours | {count['better']} |",
        f"| not to be placed in {horizon} days, by both | {count['unplaced']} |",
        f"| proved by us | {count['proved']} |",
        f"| ours, median / 95 % / worst | {middle:.0f} / {most:.0f} / {ours[-1]:.0f} ms |",
        f"| exact solver, median / worst | {half:.0f} / {worst:.0f} ms |",
        f"| ours over 200 ms | {sum(t > 200 for t in ours)} |",
    ]


def main() -> None:
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--repairs", type=int, default=200)
    ask.add_argument("--exact", type=int, default=200, help="how many of them are put to the exact solver too")
    ask.add_argument("--pieces", type=int, nargs="*", default=[20, 40])
    ask.add_argument(
        "--seconds",
        type=float,
        default=10.0,
        help="limit for the exact solver, of each goal of a repair, in its own work units (about s)",
    )
    ask.add_argument("--write", action="store_true")
    given = ask.parse_args()
    schedule(random_repair(random.Random(1)), 60, HOURS)  # load what loads once
    parts = [
        "# Repairs",
        "",
        "## Days of the repair",
        "",
        *days(given.repairs, min(given.exact, given.repairs), given.seconds),
        "",
    ]
    if given.pieces:
        parts += ["## Sheets cut from edge to edge", "", NOTE, "", *sheets(given.pieces), ""]
    text = "\n".join(parts)
    print(text)
    if given.write:
        PAGE.write_text(text, "utf-8")


if __name__ == "__main__":
    main()
