"""Right first time: plans made from readings alone, built on the true chimney, beside the thumb rule.

    python -m bench.right_first_time [--count 5000] [--seed 20] [--write]

Each virtual chimney is read once (12 drops), the readings Crownwright asks for are taken (at most six), a named slip is read
again, and the plan is built on the truth. Tables go to docs/bench/right-first-time.md with --write.
"""

from __future__ import annotations

import argparse
import os
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # two processes on two cores; small matrices gain nothing from more

import numpy as np

from bench.virtual.build import Built, build
from bench.virtual.mason import TAPE_SD, Mason, Slip
from bench.virtual.thumb import build_by_thumb
from bench.virtual.truth import TrueChimney, make_chimney
from crownwright.form.build import joint_gaps
from crownwright.form.gaps import narrowest_gaps
from crownwright.form.model import FormDesign
from crownwright.plan.job import Job
from crownwright.plan.plan_job import plan_job
from crownwright.quantity.units import FT3, INCH
from crownwright.survey.adjust import adjust
from crownwright.survey.model import Survey
from crownwright.survey.readings import Readings

MOST_ASKED = 6
BAG_YIELD, YIELD_SD, SPILL, SPILL_SD = 0.60 * FT3, 0.03, 0.02, 0.01


@dataclass(frozen=True)
class Outcome:
    """One chimney: ours and the thumb rule's, what the plan said of volume and bags, and how the slip fared."""

    ours: Built
    thumb: Built
    predicted: float
    predicted_sd: float
    bags: int
    thumb_bags_left: float
    left: float
    over_quantile: bool
    slip: bool
    seen: bool
    named: bool
    right: bool
    asked: int


def is_slip(name: str, slip: Slip) -> bool:
    """True when a reading's name is that of the tape that is off."""
    return name.rsplit(maxsplit=1)[-1].replace("-", "") in {slip.start + slip.end, slip.end + slip.start}


def take_what_is_asked(readings: Readings, mason: Mason, most: int = MOST_ASKED) -> tuple[Readings, Survey, int]:
    """Adjust, take the first reading asked for, adjust again, until nothing more is asked or ``most`` are taken."""
    survey, problems = adjust(readings)
    assert survey is not None, problems
    asked = 0
    while asked < most:
        wanted = next((n for n in survey.next_readings if n.kind == "tape"), None)
        if wanted is None:
            break
        readings = replace(readings, tapes=(*readings.tapes, mason.tape(wanted.start, wanted.end)))
        asked += 1
        survey, problems = adjust(readings)
        assert survey is not None, problems
    return readings, survey, asked


def strike_the_slip(readings: Readings, survey: Survey, mason: Mason) -> Readings:
    """He reads the named tape again; the first reading stays on record, struck out."""
    named = next((s for s in survey.suspects if s.named), None)
    if named is None or named.index >= len(readings.tapes):  # sizes of flues count on after the tapes
        return readings
    tape = readings.tapes[named.index]
    tapes = [t for t in readings.tapes if t is not tape]
    return replace(readings, tapes=(*tapes, mason.tape(tape.start, tape.end)))


def worst_joint(form: FormDesign, rng: np.random.Generator) -> float:
    """Widest gap (m) at any joint once he has squared the ring by its two diagonals, each taped with his usual error.

    The diagonals of a rectangle a by b change by ab/d a radian of skew, so two tapes that differ by e leave it e d / 2ab skew.
    """
    a, b = (float(np.linalg.norm(form.corners[k + 1] - form.corners[k])) for k in (0, 1))
    skew = rng.normal(0, np.sqrt(2) * TAPE_SD) * np.hypot(a, b) / (2 * a * b)
    return float(joint_gaps(form, np.pi / 2 + skew * np.array([1, -1, 1, -1])).max())


def try_one(seed: tuple[int, int]) -> Outcome:
    """One chimney from truth to outcome."""
    rng = np.random.default_rng(seed)
    chimney: TrueChimney = make_chimney(rng)
    mason = Mason(chimney, rng)
    readings, slip = mason.climb()
    readings, survey, asked = take_what_is_asked(readings, mason)
    named = [s for s in survey.suspects if s.named]
    readings = strike_the_slip(readings, survey, mason)
    plan = plan_job(Job("bench", readings), cut_list=False)
    assert plan.cap is not None, plan.problems
    assert plan.form is not None, plan.problems
    assert plan.concrete is not None, plan.problems
    bag_yield = BAG_YIELD * (1 + YIELD_SD * rng.normal())
    spill = max(SPILL + SPILL_SD * rng.normal(), 0.0)
    clear = narrowest_gaps(plan.form.corners, [side.reach for side in plan.form.sides], chimney.outline)
    gaps = (worst_joint(plan.form, rng), float(-clear.min()) + INCH / 8)  # any stone in the way of a board is a miss
    bags = plan.concrete.count.bags
    ours = build(chimney, plan.cap, bags, bag_yield, spill, gaps)
    volume = plan.cap.volume.all
    need = ours.volume * (1 + spill) / bag_yield
    thumb = build_by_thumb(chimney, mason, bag_yield, spill)
    return Outcome(
        ours=ours,
        thumb=thumb,
        predicted=volume.mean,
        predicted_sd=volume.sd,
        bags=bags,
        thumb_bags_left=thumb.bags_left,
        left=bags - need,
        over_quantile=need > plan.concrete.count.needed.quantile(0.98),
        slip=slip is not None,
        seen=bool(survey.suspects) or not survey.closure.closes,
        named=bool(named),
        right=slip is not None and bool(named) and is_slip(named[0].name, slip),
        asked=asked,
    )


def share(values: list[bool]) -> str:
    """Per cent to a tenth."""
    return f"{100 * np.mean(values):.1f} %" if values else "-"


QUESTIONS = (
    ("overhang", "true overhang never under the set minimum less 1/4 in."),
    ("covered", "every hump under at least 2 in. of concrete"),
    ("soffit_below", "soffit below the true edge of stone all round"),
    ("proud", "flues proud as planned, or the stated extension makes them so"),
    ("sheds", "wash sheds everywhere"),
    ("fits", "pieces go together, no stone in the way of a board"),
    ("bags", "bags enough"),
    ("right", "**all of it: right first time**"),
)


def report(done: list[Outcome]) -> str:
    """The tables as Markdown."""
    lines = [
        f"# Right first time on {len(done):,} virtual chimneys",
        "",
        "| question | Crownwright | thumb rule |",
        "|---|---|---|",
    ]
    for key, words in QUESTIONS:
        lines.append(
            f"| {words} | {share([getattr(o.ours, key) for o in done])} | {share([getattr(o.thumb, key) for o in done])} |"
        )
    z = np.array([(o.ours.volume - o.predicted) / o.predicted_sd for o in done])
    slips, clean = [o for o in done if o.slip], [o for o in done if not o.slip]
    lines += [
        "",
        "| bags, volume, slips | measured |",
        "|---|---|",
        f"| 80 lb bags bought, mean | {np.mean([o.bags for o in done]):.1f} |",
        f"| bags left over, mean | {np.mean([o.left for o in done]):.2f} |",
        f"| bags left over by the thumb rule, mean | {np.mean([o.thumb_bags_left for o in done]):.2f} |",
        f"| pours that need more than the stated 98 % amount, before whole bags | {share([o.over_quantile for o in done])} |",
        f"| pours running short with whole bags | {share([not o.ours.bags for o in done])} |",
        f"| true volume inside the 90 % band | {share(list(np.abs(z) < 1.645))} |",
        f"| volume, mean of (true - planned) / spread | {z.mean():+.2f} |",
        f"| one-inch slip seen, of {len(slips)} | {share([o.seen for o in slips])} |",
        f"| right reading named | {share([o.right for o in slips])} |",
        f"| false alarm (a reading named where none was off), of {len(clean)} | {share([o.named for o in clean])} |",
        f"| extra readings asked for, mean | {np.mean([o.asked for o in done]):.1f} |",
        "",
    ]
    return "\n".join(lines)


def main() -> None:
    """Run and print; write with --write."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--count", type=int, default=5000)
    parser.add_argument("--seed", type=int, default=20)
    parser.add_argument("--write", action="store_true")
    args = parser.parse_args()
    with ProcessPoolExecutor(2) as pool:
        done = list(pool.map(try_one, [(args.seed, k) for k in range(args.count)], chunksize=25))
    text = report(done)
    print(text)
    for key, _ in QUESTIONS:
        bad = [k for k, o in enumerate(done) if not getattr(o.ours, key)]
        print(f"not {key}: {bad[:12]}")
    if args.write:
        folder = Path("docs/bench")
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "right-first-time.md").write_text(text, "utf-8")


if __name__ == "__main__":
    main()
