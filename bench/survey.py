"""How good the survey is on virtual chimneys: slips caught and named, honest bands, guards kept, time and growth.

Run `python -m bench.survey` (all parts) or `python -m bench.survey slips --jobs 1000`. Seeded; prints what it
measured.
"""

from __future__ import annotations

import argparse
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from bench.virtual.mason import LETTERS, Mason, Slip
from bench.virtual.truth import TrueChimney, make_chimney
from crownwright.quantity.units import INCH
from crownwright.survey import adjust
from crownwright.survey.ask import LIMIT
from crownwright.survey.closing import close_tapes
from crownwright.survey.model import Survey
from crownwright.survey.readings import Length, Readings

Array = NDArray[np.float64]
CELL = 0.5 * INCH
PARTS = ["slips", "bands", "outline", "speed"]


@dataclass(frozen=True)
class Caught:
    """What came of one job: the slip that was made, if any; asked readings; whether one was seen and rightly named."""

    slip: Slip | None
    asked: int
    seen: bool
    named: bool
    misnamed: bool


def tapes_only(chimney: TrueChimney, mason: Mason, slip_chance: float) -> tuple[Readings, Slip | None]:
    """Take the tapes and flues of one climb, as `Mason.climb` does, and leave the stone alone."""
    tapes = [mason.tape(a, b) for a, b in ("AB", "BC", "CD", "DA", "AC", "BD")]
    flues = []
    for k in range(len(chimney.flues)):
        flue, ties = mason.flue(k)
        flues.append(flue)
        tapes += ties
    slip = None
    if mason.rng.random() < slip_chance:
        k, by = int(mason.rng.integers(len(tapes))), float(mason.rng.choice([-1, 1])) * INCH
        slip = Slip(tapes[k].start, tapes[k].end, by)
        tapes[k] = replace(tapes[k], reads=Length(tapes[k].reads.metres + by))
    return Readings(tuple(LETTERS), chimney.masonry, tuple(tapes), flues=tuple(flues)), slip


def catch(readings: Readings, slip: Slip | None, mason: Mason, one_by_one: bool) -> Caught:
    """Play the asking through: he takes what is asked, one reading at a time or the whole list at once, six at most."""
    asked = 0
    while True:
        closing, problems = close_tapes(readings)
        if closing is None:
            raise RuntimeError("; ".join(map(str, problems)))
        wanted = closing.wanted[: LIMIT - asked]
        if not wanted:
            break
        for item in wanted[:1] if one_by_one else wanted:
            readings = replace(readings, tapes=(*readings.tapes, mason.tape(item.start, item.end)))
            asked += 1
    named = [readings.tapes[s.index] for s in closing.suspects if s.named and s.index < len(readings.tapes)]
    right = [s for s in closing.suspects if s.named and slip is not None and _is(readings, s.index, slip)]
    return Caught(slip, asked, bool(closing.suspects) or not closing.closure.closes, bool(right), bool(named) and not right)


def _is(readings: Readings, index: int, slip: Slip) -> bool:
    """Whether this reading is the slip and not a good reading of the same two points."""
    if index >= len(readings.tapes):
        return False
    tape = readings.tapes[index]
    first = next(k for k, t in enumerate(readings.tapes) if (t.start, t.end) == (slip.start, slip.end))
    return index == first and (tape.start, tape.end) == (slip.start, slip.end)


def bench_slips(jobs: int, seed: int, slip_chance: float = 0.5) -> Iterator[str]:
    """Share of slips seen and named, false alarms, and how many readings were asked for."""
    yield f"## One tape off by exactly an inch ({jobs} jobs, {slip_chance:.0%} with a slip; at most {LIMIT} readings more)\n"
    yield "| asked readings are taken | seen | right one named | wrong one named | false alarms | asked, no slip | asked, slip |"
    yield "|---|---|---|---|---|---|---|"
    for one_by_one in (True, False):
        rng = np.random.default_rng(seed)
        caught: list[Caught] = []
        for _ in range(jobs):
            chimney = make_chimney(rng)
            mason = Mason(chimney, rng)
            caught.append(catch(*tapes_only(chimney, mason, slip_chance), mason, one_by_one))
        slips, clean = [c for c in caught if c.slip], [c for c in caught if not c.slip]
        shares = (
            *(_share(getattr(c, what) for c in slips) for what in ("seen", "named", "misnamed")),
            _share(c.seen for c in clean),
        )
        asked = (f"{np.mean([c.asked for c in group]):.2f}" for group in (clean, slips))
        yield f"| {'one by one' if one_by_one else 'a whole list at a time'} | {' | '.join((*shares, *asked))} |"
        counts = Counter(c.asked for c in clean)
    yield "\nAsked in jobs without a slip, whole lists: " + ", ".join(f"{counts[k]} jobs {k}" for k in range(LIMIT + 1)) + ".\n"


def _share(flags: object) -> str:
    values = np.array(list(flags), dtype=float)  # type: ignore[call-overload]
    return f"{values.mean():.1%} +- {np.sqrt(values.mean() * (1 - values.mean()) / len(values)):.1%}"


def bench_bands(jobs: int, seed: int) -> Iterator[str]:
    """How often the 90 % band of the stone's volume holds the truth, and those of the highest hump and lowest edge."""
    yield f"## Stone from drops ({jobs} jobs a row): truths inside the 90 % band; standard error of the mean\n"
    yield "| drops | volume | rubble stone | told, true in. | brick | told, true in. | highest hump | lowest edge |"
    yield "|---|---|---|---|---|---|---|---|"
    for drops in (6, 9, 12, 16, 25):
        rng = np.random.default_rng(seed)
        rows: dict[str, list[tuple[float, float, float]]] = {"rubble stone": [], "brick": []}
        humps, edges = [], []
        for _ in range(jobs):
            chimney = make_chimney(rng)
            mason = Mason(chimney, rng)
            survey, _ = adjust(mason.climb(drops=drops, slip_chance=0.0)[0])
            if survey is None:
                continue
            points = mason.free_points()
            area = np.full(len(points), CELL**2)
            told = survey.surface.integral(points[:, 0], points[:, 1], area)
            heights = chimney.heights(points)
            true = float(heights.sum()) * CELL**2
            whole = float(area.sum()) * INCH
            rows[chimney.masonry].append(((true - told.mean) / told.sd, told.sd / whole, (true - told.mean) / whole))
            humps.append((heights.max() - survey.surface.highest.mean) / survey.surface.highest.sd)
            low = min(survey.surface.lowest_edge, key=lambda u: u.mean)
            edges.append((chimney.heights(chimney.edge_points()).min() - low.mean) / low.sd)
        every = np.array([r for kind in rows.values() for r in kind])
        kinds = " | ".join(_band(np.array(r)) if r else "- | -" for r in rows.values())
        yield f"| {drops} | {_inside(every[:, 0])} | {kinds} | {_inside(np.array(humps))} | {_inside(np.array(edges))} |"
    yield ""


def _band(rows: Array) -> str:
    z, told, missed = rows.T
    return f"{_inside(z)} | {told.mean():.3f}, {np.sqrt(np.square(missed).mean()):.3f}"


def _inside(z: Array) -> str:
    return f"{np.mean(np.abs(z) < 1.645):.1%}"


def bench_outline(jobs: int, seed: int) -> Iterator[str]:
    """How often stone stands outside the guard, what the guard costs, and whether the face's spread is honest."""
    yield f"## Outline ({jobs} jobs a row)\n"
    yield "| proudest stones | stone outside guard (meant 0.5 %) | room, mean in. | face within 1, 2 s | flues within 2, 3 s |"
    yield "|---|---|---|---|---|"
    for looked_for in (True, False):
        rng = np.random.default_rng(seed)
        out, room, z, flue_z = [], [], [], []
        for _ in range(jobs):
            chimney = make_chimney(rng)
            readings, _ = Mason(chimney, rng).climb(drops=5, plain_offsets=2, slip_chance=0.0)
            if not looked_for:
                readings = replace(readings, offsets=tuple(replace(o, proudest=False) for o in readings.offsets))
            survey, _ = adjust(replace(readings, drops=()))
            if survey is None:
                continue
            passed = _beyond(survey, chimney.outline)
            out.append(passed > 0)
            room.append(-passed / INCH)
            z += _face_z(survey, chimney)
            flue_z += [
                float(np.hypot(*(np.array(f.centre) - t.centre)) / f.sd) for f, t in zip(survey.flues, chimney.flues, strict=True)
            ]
        zs, fs = np.array(z), np.array(flue_z)
        face = f"{np.mean(np.abs(zs) < 1):.1%}, {np.mean(np.abs(zs) < 2):.1%}"
        flues = f"{np.mean(fs < 2):.1%}, {np.mean(fs < 3):.1%}"
        yield f"| {'read' if looked_for else 'not looked for'} | {_share(out)} | {np.mean(room):.2f} | {face} | {flues} |"
    yield ""


def _beyond(survey: Survey, outline: Array) -> float:
    """How far the true outline stands beyond the guard's hull (m), negative for the room that is left."""
    guard = survey.outline.guard
    hull = guard[np.argsort(np.arctan2(*(guard - guard.mean(0)).T[::-1]))]
    worst = -np.inf
    for a, b in zip(hull, np.roll(hull, -1, axis=0), strict=True):
        along = (b - a) / max(float(np.hypot(*(b - a))), 1e-12)
        worst = max(worst, float(((outline - a) @ np.array([along[1], -along[0]])).max()))
    return worst


def _face_z(survey: Survey, chimney: TrueChimney) -> list[float]:
    """Error of the face at mid-stone points of every true side, in its own standard errors, corners' part included."""
    out = []
    ring, side, sd = survey.outline.face, survey.outline.side, survey.outline.face_sd
    for i, stones in enumerate(chimney.strings):
        a, b = chimney.corners[i], chimney.corners[(i + 1) % 4]
        along = (b - a) / np.hypot(*(b - a))
        normal = np.array([along[1], -along[0]])
        own = np.flatnonzero(side == i)
        s, out_of = (ring[own] - a) @ along, (ring[own] - a) @ normal
        for mid, true, *_ in stones:
            out.append(float((true - np.interp(mid, s, out_of)) / np.interp(mid, s, sd[own])))
    return out


def bench_speed(seed: int) -> Iterator[str]:
    """Time of a usual job, and growth with the number of readings, beside a fixed piece of linear algebra; processor time."""
    rng = np.random.default_rng(seed)
    jobs = [Mason(make_chimney(rng), rng).climb(drops=12)[0] for _ in range(20)]
    yard = _best(_yardstick, 9)
    times = [_best(lambda job=job: adjust(job), 5) for job in jobs]  # type: ignore[misc]
    usual, worst = np.median(times), max(times)
    yield "## Time\n"
    yield f"A usual job (10 to 18 tapes, 12 offsets, 12 drops): {usual * 1e3:.1f} ms, worst of twenty {worst * 1e3:.1f} ms;"
    yield f"{usual / yard:.1f} times a yardstick of {yard * 1e3:.1f} ms (40 times four inverses of 40 x 40, the same run).\n"
    yield "| more readings | tapes ms | drops ms | offsets ms |"
    yield "|---|---|---|---|"
    chimney = make_chimney(rng)
    mason = Mason(chimney, rng)
    base, _ = mason.climb(slip_chance=0.0)
    for many in (20, 200, 2000):
        tapes = tuple(mason.tape(t.start, t.end) for t in (base.tapes * (many // len(base.tapes) + 1))[:many])
        points = mason.free_points()
        drops = tuple(mason.drop(mason.describe(p), at=p) for p in points[rng.integers(len(points), size=many)])
        offsets = tuple(replace(mason.offsets(k % 4, 0)[0], proudest=False) for k in range(many))
        grown = (
            replace(base, tapes=base.tapes + tapes),
            replace(base, drops=base.drops + drops),
            replace(base, offsets=base.offsets + offsets),
        )
        spent = [f"{_best(lambda job=job: adjust(job), 3) * 1e3:.0f}" for job in grown]  # type: ignore[misc]
        yield f"| {many} | {' | '.join(spent)} |"


def _yardstick() -> None:
    matrices = np.eye(40) + np.full((4, 40, 40), 0.01)
    for _ in range(40):
        np.linalg.inv(matrices)


def _best(call: object, times: int) -> float:
    best = float("inf")
    for _ in range(times):
        start = time.process_time()
        call()  # type: ignore[operator]
        best = min(best, time.process_time() - start)
    return best


def main() -> None:
    """Run the parts that are named, or all."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("parts", nargs="*", help="some of: " + ", ".join(PARTS))
    parser.add_argument("--jobs", type=int, default=400)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--write", action="store_true", help="write docs/bench/survey.md")
    asked = parser.parse_args()
    lines = ["# Survey\n"]
    for part in asked.parts or PARTS:
        bench = {"slips": bench_slips, "bands": bench_bands, "outline": bench_outline}.get(part)
        for line in bench(asked.jobs, asked.seed) if bench else bench_speed(asked.seed):
            print(line, flush=True)
            lines.append(line)
    if asked.write:
        Path("docs/bench/survey.md").write_text("\n".join(lines) + "\n", "utf-8")


if __name__ == "__main__":
    main()
