"""All checks of a job against the clock, and the strip-order search: every hand-made form told apart, and how it grows.

Run ``python -m bench.checks`` (``--save docs/bench/checks.md`` to keep the tables). Times are processor time of this machine,
best of several, each of a case of its own (a case keeps what is asked twice); ratios are to designing the same job's cap in the
same run.
"""

from __future__ import annotations

import argparse
import importlib.util
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from types import ModuleType

from crownwright.cap.design import design_cap
from crownwright.checks.job import Case, check_job, figures_job
from crownwright.checks.strip import order_of
from crownwright.checks.strip_model import DOWN, Fastener, FormModel, Part, Prism
from crownwright.checks.strip_order import strip_order
from crownwright.codes.cap_rules import rule_set
from crownwright.concrete.pour import NO_BED, pour_for
from crownwright.form.build import build_form
from crownwright.plan.job import Job
from crownwright.quantity.findings import Verdict
from crownwright.service.open_job import open_demo, open_file
from crownwright.survey.adjust import adjust

ROOT = Path(__file__).resolve().parent.parent
RINGS = (1, 2, 4, 8, 16)


def best(work: Callable[[], object], times: int = 7) -> float:
    """Least processor time of several runs, s."""
    taken = []
    for _ in range(times):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return min(taken)


def case_of(job: Job) -> Case | None:
    survey, _ = adjust(job.readings)
    if survey is None:
        return None
    cap = design_cap(survey, job.cap)
    form = build_form(survey, cap, job.form, cut_list=False)
    pour = pour_for(cap, job.concrete, form.bed_volume if form else NO_BED)
    return Case(survey, rule_set(job.code_set, dict(job.overrides)), job.surroundings, cap, form, pour)


def jobs() -> list[tuple[str, Job]]:
    opened = [open_demo(), *(open_file(path) for path in sorted((ROOT / "examples").glob("*.toml")))]
    return [(one.name, one.job) for one in opened if one.job is not None]


def table_of_jobs() -> list[str]:
    heads = (
        "job",
        "findings",
        "not met or open",
        "figures",
        "checks, ms",
        "figures, ms",
        "checks / cap design",
        "strip search, ms",
    )
    lines = ["| " + " | ".join(heads) + " |", "|---" * len(heads) + "|"]
    for name, job in jobs():
        case = case_of(job)
        if case is None or case.cap is None or case.form is None:
            continue
        found, figures = check_job(case), figures_job(case)
        checks, shown = best(lambda case=case: check_job(replace(case))), best(lambda case=case: figures_job(replace(case)))
        design = best(lambda case=case, job=job: design_cap(case.survey, job.cap), 3)
        strip = best(lambda case=case: order_of(case.survey, case.cap, case.form))
        counts = (name, len(found), sum(one.verdict is not Verdict.OK for one in found), len(figures))
        times = (f"{checks * 1e3:.1f}", f"{shown * 1e3:.1f}", f"{checks / design:.2f}", f"{strip * 1e3:.1f}")
        lines.append("| " + " | ".join(map(str, (*counts, *times))) + " |")
    return lines


def hand_made() -> ModuleType:
    """The hand-made forms of the test set, from their file."""
    spec = importlib.util.spec_from_file_location("strip_forms", ROOT / "tests" / "checks" / "test_strip_order.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module  # its dataclasses look themselves up there
    spec.loader.exec_module(module)
    return module


def table_of_forms() -> list[str]:
    forms = hand_made()
    off = [make().run().comes_off for make in forms.COME_OFF]
    named = []
    for make in forms.STAY_ON:
        bench, blocking = make()
        order = bench.run()
        right = len(order.move) == blocking if isinstance(blocking, int) else set(order.move) == blocking
        named.append(not order.comes_off and right and order.fewest)
    locked = [set(wanted) <= set(bench.run().locked) for bench, wanted in (make() for make in forms.LOCKED)]
    return [
        "| hand-made forms | how many | told right |",
        "|---|---|---|",
        f"| come off | {len(off)} | {sum(off)} |",
        f"| do not, fasteners to move named and proved fewest | {len(named)} | {sum(named)} |",
        f"| held by concrete or stone whatever is drawn | {len(locked)} | {sum(locked)} |",
    ]


def rings(count: int) -> FormModel:
    """Boards stacked in rings round a pier, each ring screwed to the one under it: parts grow with ``count``."""
    parts, screws, concrete = [], [], [Prism(((0, 0), (1, 0), (1, 1), (0, 1)), 0.0, 0.2 * count)]
    boards = {"a": ((0, -0.05), (1, 0)), "b": ((1, 0), (1.05, 1)), "c": ((0, 1), (1, 1.05)), "d": ((-0.05, 0), (0, 1))}
    heads = {"a": (0.5, -0.05, 0, 1), "b": (1.05, 0.5, -1, 0), "c": (0.5, 1.05, 0, -1), "d": (-0.05, 0.5, 1, 0)}
    for k in range(count):
        for side, ((x0, y0), (x1, y1)) in boards.items():
            box = Prism(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), 0.2 * k, 0.2 * (k + 1))
            parts.append(Part(f"{side}{k}", (box,)))
            x, y, dx, dy = heads[side]
            joins = (f"{side}{k}", f"{side}{k - 1}" if k else "stone")
            screws.append(Fastener(f"screw {side}{k}", joins, (x, y, 0.2 * k + 0.02), (dx, dy, DOWN[2] * 0.3)))
    return FormModel(tuple(parts), tuple(screws), tuple(concrete))


def table_of_growth() -> list[str]:
    lines = ["| parts | fasteners | search, ms | over the smallest, for each part |", "|---|---|---|---|"]
    first: float | None = None
    for count in RINGS:
        model = rings(count)
        assert strip_order(model).comes_off
        each = best(lambda model=model: strip_order(model), 3) / len(model.parts)
        first = first or each
        lines.append(
            f"| {len(model.parts)} | {len(model.fasteners)} | {each * len(model.parts) * 1e3:.1f} | {each / first:.2f} |"
        )
    return lines


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--save", type=Path, help="file to keep the tables in")
    chosen = parser.parse_args()
    tables = (
        ("All checks of a job", table_of_jobs),
        ("The strip-order test set", table_of_forms),
        ("Growth of the search", table_of_growth),
    )
    text = "\n\n".join("\n".join((f"## {title}", "", *table())) for title, table in tables)
    text = f"# Checks\n\n{text}\n"
    print(text)
    if chosen.save:
        chosen.save.parent.mkdir(parents=True, exist_ok=True)
        chosen.save.write_text(text, "utf-8")


if __name__ == "__main__":
    main()
