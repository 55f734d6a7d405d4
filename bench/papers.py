"""Papers, drawings and solids of every example job: how long they take, in all and by kind.

    python -m bench.papers [--rounds 3] [--write]

The reference in the same run is one blank page by the same typesetter. The table goes to docs/bench/papers.md with --write.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np

from crownwright.plan.model import Plan
from crownwright.plan.plan_job import plan_job
from crownwright.service.jobfile import read_job
from crownwright.sheets.draw.dxf import dxf
from crownwright.sheets.draw.svg import svg
from crownwright.sheets.drawings.readings import readings_plan
from crownwright.sheets.everything import drawings_of, papers_of, solid_files
from crownwright.sheets.papers.press import pdfs
from crownwright.survey.readings import Drop, Length, OnSide

ROOT = Path(__file__).resolve().parent.parent
NOON = 1_780_000_000


def clocked(work: Callable[[], object], rounds: int) -> float:
    """Least wall time of a few rounds, s."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def processor(work: Callable[[], object], rounds: int) -> float:
    """Least processor time of a few rounds, all threads together, s: what the wall time comes to when nothing else runs."""
    times = []
    for _ in range(rounds):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def blank_page() -> object:
    """The reference: one page with one word on it."""
    import typst

    return typst.compile(b"Blank.", format="pdf", ignore_system_fonts=True)


def all_papers(plan: Plan) -> int:
    """Everything from a plan to its PDFs; their bytes."""
    drawings = drawings_of(plan)
    return sum(len(data) for _, data in pdfs(papers_of(plan, drawings), "letter", NOON))


def row(plan: Plan, rounds: int) -> dict[str, float]:
    """Times of one plan, s."""
    drawings = drawings_of(plan)
    return {
        "papers": clocked(lambda: all_papers(plan), rounds),
        "processor": processor(lambda: all_papers(plan), rounds),
        "draw": clocked(lambda: drawings_of(plan), rounds),
        "svg": clocked(lambda: [svg(of) for of in drawings], rounds),
        "dxf": clocked(lambda: [dxf(of) for of in drawings], rounds),
        "solid": clocked(lambda: list(solid_files(plan)), rounds),
    }


def with_drops(plan: Plan, count: int) -> Plan:
    """The same plan with so many drops to label, scattered over the top; only the drawing of readings sees them."""
    rng = np.random.default_rng(7)
    survey = plan.survey
    assert survey is not None
    side = f"{survey.names[0]}{survey.names[1]}"
    wide, deep = np.ptp(survey.outline.face, axis=0)
    drops = tuple(
        Drop(OnSide(side, Length(float(x)), Length(float(y))), Length(0.05, "2"))
        for x, y in rng.uniform(0, (wide, deep), (count, 2))
    )
    return replace(plan, survey=replace(survey, readings=replace(survey.readings, drops=drops)))


def table(rounds: int) -> str:
    """The report, in Markdown."""
    blank_page()
    reference = clocked(blank_page, 5)
    lines = [
        "# Papers and drawings",
        "",
        f"Wall time on two cores, least of {rounds} rounds, warm; a blank page takes {reference * 1000:.0f} ms.",
        "The goal for all papers of a job is 2 s.",
        "",
        "| job | all papers | its processor time | in blank pages | of which drawing | SVG files | DXF files | GLB and STL |",
        "|---|---|---|---|---|---|---|---|",
    ]
    plans = {}
    for file in sorted((ROOT / "examples").glob("*.toml")):
        job, _ = read_job(file)
        if job is not None:  # the other examples are weather, prices and the like
            plans[file.stem] = plan_job(job)
    for name, plan in plans.items():
        t = row(plan, rounds)
        seconds = " | ".join(f"{t[key]:.2f} s" for key in ("draw", "svg", "dxf", "solid"))
        lines.append(f"| {name} | {t['papers']:.2f} s | {t['processor']:.2f} s | {t['papers'] / reference:.0f} | {seconds} |")
    lines += [
        "",
        "## Growth",
        "",
        "The plan of readings with more drops to label.",
        "",
        "| drops | time | against 25 |",
        "|---|---|---|",
    ]
    plan = plans["stone-two-flues"]
    base = clocked(lambda: readings_plan(with_drops(plan, 25)), rounds)
    for count in (25, 50, 100, 200, 400):
        took = clocked(lambda count=count: readings_plan(with_drops(plan, count)), rounds)  # type: ignore[misc]
        lines.append(f"| {count} | {took:.2f} s | {took / base:.1f} |")
    return "\n".join(lines) + "\n"


def main() -> None:
    """Read the options, measure, print or keep."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--rounds", type=int, default=3)
    options.add_argument("--write", action="store_true")
    given = options.parse_args()
    text = table(given.rounds)
    print(text)
    if given.write:
        (ROOT / "docs" / "bench" / "papers.md").write_text(text, "utf-8")


if __name__ == "__main__":
    main()
