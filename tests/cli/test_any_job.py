"""Whatever a job file says, planning it gives a plan or problems, never a traceback."""

from __future__ import annotations

import random
import re
from pathlib import Path

import pytest

from crownwright.service.open_job import open_text
from crownwright.service.plan_a_job import plan_a_job

EXAMPLES = {
    path.stem: path.read_text("utf-8") for path in sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.toml"))
}
READS = ["0", "1/8", "1", "5", "12", "30", "60", "25 ft", "-3", "-40", "1 mm", "3 m"]
NAMES = ["A", "B", "C", "D", "F1", "F1a", "F2c", "AB", "CD"]
CORNERS = ['["A", "B", "C"]', '["A", "B", "C", "D", "E"]', '["D", "C", "B", "A"]', '["A", "C", "B", "D"]', '["A"]']
CHOICES = {
    "cap": [
        "length = '20'", "width = '9 ft'", "turn = '20 deg'", "edge_board = '2x12'", "edge_thickness = '1'",
        "soffit_drop = '-3'", "soffit_drop = '2 ft'", "slope_least = '45 deg'", "proud_least = '30'", "proud_most = '0'",
        "cover_least = '12'", "drip_size = '2'", "drip_setback = '12'", "joint_width = '3'", "hollow_depth = '10'",
        "hollow_inset = '20'", "sure = 0.9999", "overhang_least = '0'", "overhang_most = '1'", "round_to = '2'",
        "base = 'bonded'", "liner_length = '90 ft'", "steel_cover = '6'",
    ],
    "form": [
        "stock = []", "stock = [{ section = '2x4', length = '8 ft' }]", "clearance = '6'", "horn = '2 ft'",
        "block_length = '3'", "kerf = '1'", "trim = '6'", "block_section = '2x2'", "straps = 20", "pack_most = '0'",
        "solve_seconds = 0.05",
    ],
    "concrete": [
        "bag = '25 kg'", "risk = 0.5", "risk = 0.0001", "yield_sd = 0.5", "spill = 0.5", "portland = '50 lb'",
        "water = '9 qt'", "cement_share = 0.05", "mortar_waste = 0.9", "cement_share_sd = 0.1",
    ],
}  # fmt: skip


def damaged(text: str, rng: random.Random) -> str:
    """The job with a few of its readings changed, dropped, doubled or misnamed."""
    lines = text.split("\n")
    rows = [i for i, line in enumerate(lines) if line.startswith("  {")]
    for i in rng.sample(rows, min(rng.choice([1, 2, 4, 8]), len(rows))):
        number, name = re.findall(r'"[-+]?\d[^"]*"', lines[i]), re.findall(r'"(?:F\d[a-d]?|[A-D]{1,2})"', lines[i])
        kind = rng.choice(["drop", "double", "read", "read", "read", "name"])
        if kind == "drop":
            lines[i] = ""
        elif kind == "double":
            lines[i] += "\n" + lines[i]
        elif kind == "read" and number:
            lines[i] = lines[i].replace(rng.choice(number), f'"{rng.choice(READS)}"', 1)
        elif name:
            lines[i] = lines[i].replace(rng.choice(name), f'"{rng.choice(NAMES)}"', 1)
    out = "\n".join(lines)
    return out.replace('["A", "B", "C", "D"]', rng.choice(CORNERS)) if rng.random() < 0.15 else out


def chosen(text: str, rng: random.Random) -> str:
    """The job with odd choices added."""
    for table, choices in CHOICES.items():
        if f"[{table}]" not in text:
            picked = {choice.split(" =")[0]: choice for choice in rng.sample(choices, rng.choice([0, 1, 2]))}
            text += "\n".join([f"\n[{table}]", *picked.values(), ""])
    return text


@pytest.mark.parametrize("change", [damaged, chosen])
@pytest.mark.parametrize("seed", range(3))
def test_a_plan_or_problems(seed: int, change: object) -> None:
    rng = random.Random(seed)
    planned = 0
    for _ in range(8):
        name, text = rng.choice(list(EXAMPLES.items()))
        opened = open_text(change(text, rng), name)  # type: ignore[operator]
        if opened.job is None:
            assert opened.problems
            continue
        plan = plan_a_job(opened.job, opened.text).plan
        assert plan.cap is not None or plan.problems
        planned += 1
    assert planned > 0
