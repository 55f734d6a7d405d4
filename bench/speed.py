"""How long a plan takes, beside a yardstick of the same run.

    python -m bench.speed [--write]

Warm: the least of seven plans of the demo job, processor time. Cold: the least of three runs of the command, by the clock.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np

from crownwright.plan.plan_job import plan_job
from crownwright.service.open_job import open_demo

GOALS = {"plan with its cut list": 150, "plan without the cut list": 60, "plan command, cold": 1500, "papers command, cold": 2000}


def least(work: Callable[[], object], times: int, clock: Callable[[], float]) -> float:
    """Milliseconds of the quickest of some runs."""
    work()
    taken = []
    for _ in range(times):
        began = clock()
        work()
        taken.append(clock() - began)
    return 1000 * min(taken)


def yardstick() -> None:
    """Four hundred inverses of 40 by 40, which any machine can do."""
    block = np.eye(40) + np.arange(1600.0).reshape(40, 40) / 1600
    for _ in range(400):
        np.linalg.inv(block)


def command(*words: str) -> Callable[[], object]:
    """A run of the command line in a process of its own."""
    return lambda: subprocess.run([sys.executable, "-m", "crownwright", *words], capture_output=True, check=False)


def measured() -> dict[str, float]:
    """Milliseconds for each thing, the yardstick first."""
    job = open_demo().job
    assert job is not None
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "job.toml"
        path.write_text(open_demo().text, "utf-8")
        return {
            "yardstick": least(yardstick, 7, time.process_time),
            "plan with its cut list": least(lambda: plan_job(job), 7, time.process_time),
            "plan without the cut list": least(lambda: plan_job(job, cut_list=False), 7, time.process_time),
            "plan command, cold": least(command("plan", str(path), "--no-files"), 3, time.perf_counter),
            "papers command, cold": least(command("papers", str(path), "--into", folder), 3, time.perf_counter),
        }


def main() -> None:
    """Print the table; write it with --write."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--write", action="store_true")
    args = parser.parse_args()
    found = measured()
    lines = ["# Speed", "", f"Yardstick (400 inverses of 40 by 40): {found['yardstick']:.1f} ms in the same run.", ""]
    lines += ["| what | ms | goal | times the yardstick |", "|---|---|---|---|"]
    lines += [f"| {what} | {found[what]:.0f} | {goal} | {found[what] / found['yardstick']:.1f} |" for what, goal in GOALS.items()]
    text = "\n".join(lines) + "\n"
    print(text)
    if args.write:
        Path("docs/bench/speed.md").write_text(text, "utf-8")


if __name__ == "__main__":
    main()
