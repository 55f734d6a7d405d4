"""Bags: pours drawn with a known spread of volume, yield and spill; how many run short at a stated risk, what is left over.

Run ``python -m bench.bags`` (``--pours 20000`` by default, ``--save docs/bench/bags.md`` to keep the tables). Everything is
seeded; times are of this machine, ratios are within the same run. The chimneys themselves are the business of
bench.right_first_time; here the survey's word on its own spread is taken as true, and then, in the last table, as wrong.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Callable
from dataclasses import dataclass
from math import ceil
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from crownwright.concrete.bags import bag
from crownwright.concrete.count import BagCount, Promise, bags_for, pour_need
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import FT3

Array = NDArray[np.float64]
SEED = 20_260_111
YIELD_SD, SPILL, SPILL_SD = 0.03, 0.02, 0.01
SPREADS = (0.01, 0.02, 0.03, 0.04, 0.05, 0.07, 0.10, 0.15, 0.25)
Draw = Callable[[np.random.Generator, int], Array]


@dataclass(frozen=True)
class Row:
    """Share of pours over the amount and short with whole bags; mean bags and parts left, whole bags left, bags bought; then the
    thumb rule's share and bags left.
    """

    what: str
    unrounded: float
    short: float
    left: float
    unopened: float
    bought: float
    thumb_short: float
    thumb_left: float


def volumes(rng: np.random.Generator, pours: int) -> Array:
    """Volumes the plans say, m3: 2 to 10 ft3, most of them small."""
    return (2.0 + 8.0 * rng.beta(1.6, 3.0, pours)) * FT3


def normal(rng: np.random.Generator, pours: int) -> Array:
    """Errors as the plan takes them."""
    return rng.standard_normal(pours)


def heavy(rng: np.random.Generator, pours: int) -> Array:
    """Errors with heavier tails than the plan takes them to have: Student's t of five, scaled to a spread of one."""
    return rng.standard_t(5, pours) / np.sqrt(5.0 / 3.0)


def pours_row(
    what: str,
    spread: float,
    risk: float,
    pours: int,
    draw: Draw = normal,
    true_yield: float = YIELD_SD,
    promise: Promise = "every pour",
) -> Row:
    """Plan and pour: the bags for each volume as planned against what it truly takes."""
    rng = np.random.default_rng([SEED, round(1e6 * spread), round(1e6 * risk)])
    eighty = bag("80 lb").yields
    planned = np.round(volumes(rng, pours) / FT3, 2) * FT3
    counts, amounts = count_all(planned, spread, risk, promise)
    truth = np.maximum(planned * (1.0 + spread * draw(rng, pours)), 0.1 * planned)
    kept = (1.0 + true_yield * draw(rng, pours)) * (1.0 - SPILL + SPILL_SD * rng.standard_normal(pours))
    takes = truth / (eighty * np.maximum(kept, 0.5))
    thumb = np.ceil(planned / eighty) + 1
    left = np.maximum(counts - takes, 0.0)
    return Row(
        what,
        float(np.mean(takes > amounts)),
        float(np.mean(takes > counts)),
        float(left.mean()),
        float(np.maximum(counts - np.ceil(takes), 0.0).mean()),
        float(counts.mean()),
        float(np.mean(takes > thumb)),
        float(np.maximum(thumb - takes, 0.0).mean()),
    )


def count_all(planned: Array, spread: float, risk: float, promise: Promise) -> tuple[Array, Array]:
    """Bags for every planned volume, whole and before rounding, by the plan's own function; equal volumes are counted once."""
    keys = np.round(planned / FT3 * 100).astype(int)
    known = {k: count(k / 100 * FT3, spread, risk, promise) for k in np.unique(keys)}
    return np.array([known[k].bags for k in keys], float), np.array([known[k].amount for k in keys])


def count(volume: float, spread: float, risk: float, promise: Promise) -> BagCount:
    """The count for one volume (m3) with a relative spread."""
    need = pour_need(Uncertain(volume, spread * volume), bag("80 lb").yields, yield_sd=YIELD_SD, spill=SPILL, spill_sd=SPILL_SD)
    return bags_for(need, risk, promise)


def by_sampling(volume: float, spread: float, risk: float, samples: int = 10_000) -> int:
    """The same count by drawing pours: the reference for the time."""
    rng = np.random.default_rng(SEED)
    kept = (1 + YIELD_SD * rng.standard_normal(samples)) * (1 - SPILL + SPILL_SD * rng.standard_normal(samples))
    takes = volume * (1 + spread * rng.standard_normal(samples)) / (bag("80 lb").yields * kept)
    return ceil(float(np.quantile(takes, 1 - risk)))


def speed(samples: int = 10_000) -> tuple[float, float]:
    """Seconds for one count by quadrature and by sampling, the middle of nine rounds."""
    rounds = []
    for _ in range(9):
        start = time.perf_counter()
        for volume in (0.1, 0.15, 0.2, 0.25):
            count(volume, 0.05, 0.02, "every pour")
        middle = time.perf_counter()
        for volume in (0.1, 0.15, 0.2, 0.25):
            by_sampling(volume, 0.05, 0.02, samples)
        rounds.append(((middle - start) / 4, (time.perf_counter() - middle) / 4))
    return float(np.median([r[0] for r in rounds])), float(np.median([r[1] for r in rounds]))


def table(title: str, rows: list[Row]) -> list[str]:
    """A table in Markdown."""
    head = "| volume known to | over the amount | short | left over | whole left | bought | thumb rule short | thumb rule left |"
    lines = [f"### {title}", "", head, "|---|---|---|---|---|---|---|---|"]
    for r in rows:
        shares = f"| {r.what} | {r.unrounded:.2%} | {r.short:.2%} | {r.left:.2f} | {r.unopened:.2f} | {r.bought:.2f} "
        lines.append(shares + f"| {r.thumb_short:.2%} | {r.thumb_left:.2f} |")
    return [*lines, ""]


def report(pours: int) -> str:
    """Everything, as Markdown."""
    plain = [pours_row(f"{s:.0%}", s, 0.02, pours) for s in SPREADS]
    many = [pours_row(f"{s:.0%}", s, 0.02, pours, promise="over many pours") for s in SPREADS]
    risks = [pours_row(f"4 %, risk {r:.1%}", 0.04, r, pours) for r in (0.005, 0.01, 0.02, 0.05, 0.10)]
    wrong = [
        pours_row("4 %, heavy tails", 0.04, 0.02, pours, heavy),
        pours_row("4 %, yield truly 4 %", 0.04, 0.02, pours, normal, 0.04),
        pours_row("4 %, yield truly 2 %", 0.04, 0.02, pours, normal, 0.02),
    ]
    quick, slow = speed()
    return "\n".join(
        [
            "# Bags for a stated risk",
            "",
            f"{pours:,} pours a row, 2 to 10 ft3, 80 lb bags; yield 3 % and spill 2 % (1 %) as planned unless said. The thumb",
            "rule here is given the same volume as the plan, so it is better than on a roof. Over the amount: pours that",
            "take more than the stated amount before it is rounded up to whole bags.",
            "",
            *table("At a stated risk of 2 % on every pour, which is the default", plain),
            *table("At a stated risk of 2 % over many pours, none above 8 %", many),
            *table("At other risks", risks),
            *table("Where the plan's word on the spreads is wrong", wrong),
            f"One count by quadrature takes {quick / slow:.2f} of the time of 10,000 samples in the same run.",
            "",
        ]
    )


def main() -> None:
    """Print the tables, or keep them."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--pours", type=int, default=20_000)
    parser.add_argument("--save", type=Path)
    arguments = parser.parse_args()
    text = report(arguments.pours)
    if arguments.save:
        arguments.save.parent.mkdir(parents=True, exist_ok=True)
        arguments.save.write_text(text, "utf-8")
    print(text)


if __name__ == "__main__":
    main()
