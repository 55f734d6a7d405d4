"""Concrete from the piles: what is asked wrong is told at once; the damp weights add up to what was asked of the mix."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from crownwright.cli.main import run

JOB = str(Path(__file__).resolve().parents[2] / "examples" / "stone-two-flues.toml")


def test_weights_are_damp_and_water_is_what_the_piles_leave(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["raw-mix", JOB, "--sand-wet", "6 %", "--stone-wet", "2 %", "--json"]) == 0
    mix = json.loads(capsys.readouterr().out)["mix"]
    dry, batch, damp = mix["per_cubic"], mix["batch"], mix["weighed"]
    volume = batch["cement"] / dry["cement"]
    assert batch["sand"] == pytest.approx(1.06 * dry["sand"] * volume)
    assert damp["coarse"] == pytest.approx(1.02 * dry["coarse"])
    free = 0.06 * dry["sand"] + 0.02 * dry["coarse"]
    assert damp["water"] == pytest.approx(dry["water"] - free)


def test_what_is_asked_wrong_is_told_all_at_once(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["raw-mix", JOB, "--slump", "9", "--strength", "4500", "--stone-wet", "wet", "--json"]) == 2
    said = json.loads(capsys.readouterr().out)["problems"]
    assert {problem["where"] for problem in said} == {"--slump", "--strength", "--stone-wet"}


def test_past_the_tables_is_a_problem(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["raw-mix", JOB, "--strength", "6000 psi", "--json"]) == 2
    assert json.loads(capsys.readouterr().out)["problems"]
