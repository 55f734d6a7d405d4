"""The schema, the page about job files and the examples say what the reader reads."""

from __future__ import annotations

import importlib.util
import json
import re
import tomllib
from pathlib import Path
from types import ModuleType
from typing import Any

import jsonschema
import pytest

from crownwright.service.jobfile import parse_job, read_job
from crownwright.service.jobfile.schema import job_keys, job_schema

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))
PAGE = (ROOT / "docs" / "job-file.md").read_text("utf-8")


def script(name: str) -> ModuleType:
    spec = importlib.util.spec_from_file_location(name, ROOT / "docs" / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def without_dates(value: Any) -> Any:
    return json.loads(json.dumps(value, default=str))


def test_the_published_schema_is_that_of_the_model() -> None:
    assert (ROOT / "docs" / "schema.json").read_text("utf-8") == script("make_job_file").schema_text()


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(job_schema())


def test_the_page_has_every_key_and_is_current() -> None:
    assert script("make_job_file").with_tables(PAGE) == PAGE
    for key in job_keys():
        assert f"| `{key.name}` |" in PAGE
        assert key.says, key


def test_there_is_an_example_of_everything_asked() -> None:
    assert {path.name for path in EXAMPLES} >= {
        "doorstep.toml", "stone-two-flues.toml", "brick-one-flue.toml", "round-flue.toml", "short-flue.toml",
        "out-of-square.toml", "one-inch-slip.toml", "metric.toml",
    }  # fmt: skip


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_reads_and_keeps_to_the_schema(path: Path) -> None:
    job, problems = read_job(path)
    assert problems == ()
    assert job is not None
    jsonschema.validate(without_dates(tomllib.loads(path.read_text("utf-8"))), job_schema())


def test_the_schema_turns_away_what_the_reader_turns_away() -> None:
    """Shape, not language: unknown keys, wrong types, missing keys, both surveys or none."""
    good = tomllib.loads((ROOT / "examples" / "stone-two-flues.toml").read_text("utf-8"))
    check = jsonschema.Draft202012Validator(job_schema())
    for damage in (
        {"colour": "red"},
        {"units": "imperial"},
        {"title": 3},
        {"title": ""},
        {"quick": {"length": "1 m", "width": "1 m", "masonry": "brick"}},
        {"cap": {"base": "glued"}},
        {"cap": {"overhang": "3"}},
        {"form": {"straps": 0}},
        {"readings": {**good["readings"], "tapes": [{"start": "A", "end": "B"}]}},
        {"readings": {**good["readings"], "tapes": [{"start": "A", "end": "B", "reads": {"red": 1}}]}},
    ):
        assert not check.is_valid({**good, **damage}), damage
    assert not check.is_valid({k: v for k, v in good.items() if k != "readings"})
    assert check.is_valid(good)


def test_the_demo_job_is_the_example() -> None:
    demo = ROOT / "src" / "crownwright" / "service" / "demo.toml"
    assert demo.read_text("utf-8") == (ROOT / "examples" / "stone-two-flues.toml").read_text("utf-8")


def test_the_worked_example_of_the_page_reads() -> None:
    block = re.search(r"```toml\n(.*?)```", PAGE, re.DOTALL)
    assert block is not None
    job, problems = parse_job(block[1])
    assert problems == ()
    assert job is not None
    example = (ROOT / "examples" / "stone-two-flues.toml").read_text("utf-8")
    readings = [line.partition("  #")[0].rstrip() for line in block[1].split("\n") if line.startswith("  {")]
    assert len(readings) >= 10
    assert not [line for line in readings if line not in example]


def test_every_way_to_type_a_length_on_the_page_reads_as_the_same_length() -> None:
    section = PAGE.split("## Lengths")[1].split("\n- ")[0]
    typed = re.findall(r"`([\"'].*?[\"']|51\.5)`", section)
    assert len(typed) >= 12
    for text in typed:
        job, problems = parse_job(f'title = "x"\n[quick]\nlength = {text}\nwidth = "1 m"\nmasonry = "brick"')
        assert problems == (), text
        assert job is not None
        assert job.readings.length.metres == pytest.approx(1.3081, abs=1e-12)  # type: ignore[union-attr]
