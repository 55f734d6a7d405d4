"""The command line: every verb, what it prints, what it leaves behind, and its exit code."""

from __future__ import annotations

import argparse
import importlib.util
import io
import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from crownwright.cli import main as cli
from crownwright.cli import verbs
from crownwright.cli.answer import Answer, Section, as_text
from crownwright.cli.codes import Code
from crownwright.cli.main import build_parser, run
from crownwright.quantity.problems import Problem

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = ROOT / "examples"
PAGE = (ROOT / "docs" / "command-line.md").read_text("utf-8")


def answered(capsys: pytest.CaptureFixture[str], *argv: str) -> tuple[int, dict[str, Any]]:
    code = run([*argv, "--json"])
    out = capsys.readouterr().out
    data: dict[str, Any] = json.loads(out)
    assert data["code"] == code
    assert data["next"] or code == Code.DONE
    return code, data


def commands() -> dict[str, argparse.ArgumentParser]:
    found = next(action for action in build_parser()._actions if isinstance(action, argparse._SubParsersAction))
    return dict(found.choices)


@pytest.fixture(scope="module")
def demo_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo")
    assert run(["demo", "--into", str(folder)]) == Code.DONE
    return folder


def test_the_demo_is_ready_and_leaves_papers_drawings_solids_and_its_job(demo_folder: Path) -> None:
    files = {path.relative_to(demo_folder).as_posix(): path for path in demo_folder.rglob("*") if path.is_file()}
    always = {name for name in verbs.FILE_SAYS if name != "papers/repair.pdf"}  # the demo has nothing to repair below its cap
    assert {*always, "drawings/cap-plan.svg", "drawings/cap-plan.dxf", "solid/cap.stl", "solid/form.stl"} <= set(files)
    assert all(path.stat().st_size > 100 for path in files.values())
    assert files["papers/roof-card.pdf"].read_bytes().startswith(b"%PDF")
    assert not [name for name in files if name.endswith(".part")]


def test_what_the_demo_leaves_can_be_planned_again(demo_folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, data = answered(capsys, "plan", str(demo_folder / "job.toml"), "--into", str(tmp_path), "--paper", "a4")
    assert code == Code.DONE
    assert data["summary"]["build"][0]["head"] == "Cap"
    assert {Path(name) for name in data["files"]} == {path for path in tmp_path.rglob("*") if path.is_file()}
    assert any(figure["key"] == "cap.volume" and figure["unit"] == "m3" for figure in data["figures"])


def test_the_summary_says_what_a_mason_asks_first(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    run(["plan", str(EXAMPLES / "brick-one-flue.toml"), "--into", str(tmp_path)])
    out = capsys.readouterr().out
    lines = out.split("\n")
    assert lines[2] == "Build"
    heads = [line.split()[0] for line in lines[3 : lines.index("Readings") - 1] if line[2:3] not in ("", " ")]
    assert heads[:3] == ["Cap", "Wash", "Overhang"]
    assert {"Concrete", "Weight", "Form", "Lumber"} <= set(heads)
    assert "The tapes close within" in out
    assert "bags of 80 lb" in out
    assert "chi" not in out.replace("chimney", "")
    assert out.rstrip().split("\n\n")[-1].startswith("Next: ")


def test_same_job_same_bytes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1777777777")
    for folder in ("a", "b"):
        run(["papers", str(EXAMPLES / "brick-one-flue.toml"), "--into", str(tmp_path / folder)])
    for path in (tmp_path / "a" / "papers").iterdir():
        assert path.read_bytes() == (tmp_path / "b" / "papers" / path.name).read_bytes()


def test_readings_that_close_and_readings_that_do_not(capsys: pytest.CaptureFixture[str]) -> None:
    code, data = answered(capsys, "readings", str(EXAMPLES / "brick-one-flue.toml"))
    assert code == Code.DONE
    assert data["closes"] is True
    code, data = answered(capsys, "readings", str(EXAMPLES / "one-inch-slip.toml"))
    assert code == Code.NOT_READY
    assert data["closes"] is False
    assert data["suspects"][0]["name"] == "tape CD"
    assert any("one-inch slip" in words for words in data["says"])


def test_every_example_can_be_planned(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    for path in sorted(EXAMPLES.glob("*.toml")):
        code, data = answered(capsys, "draw", str(path), "--as", "svg", "--into", str(tmp_path / path.stem))
        assert code in (Code.DONE, Code.NOT_READY), (path.name, data)
        assert data["files"]


def test_a_figure_explained(capsys: pytest.CaptureFixture[str]) -> None:
    job = str(EXAMPLES / "brick-one-flue.toml")
    assert run(["explain", job, "cap.volume"]) == Code.DONE
    out = capsys.readouterr().out
    assert "formula" in out
    assert "source" in out
    code, data = answered(capsys, "explain", job, "cap.")
    assert code == Code.DONE
    assert len(data["figures"]) > 5
    assert all(figure["key"].startswith("cap.") for figure in data["figures"])
    code, data = answered(capsys, "explain", job, "cap.volum3")
    assert code == Code.ASKED_WRONG
    assert "cap.volume" in data["problems"][0]["remedy"]


def test_schema_and_roof_card(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert run(["schema"]) == Code.DONE
    assert capsys.readouterr().out == (ROOT / "docs" / "schema.json").read_text("utf-8")
    card = tmp_path / "deep" / "card.pdf"
    code, data = answered(capsys, "roof-card", "--corners", "5", "--flues", "0", "--units", "metric", "--into", str(card))
    assert code == Code.DONE
    assert data["files"] == [str(card)]
    assert card.read_bytes().startswith(b"%PDF")
    assert answered(capsys, "roof-card", "--corners", "2")[0] == Code.ASKED_WRONG


def test_bad_jobs_say_everything_that_is_wrong(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text('titel = "x"\n[quick]\nlength = "4 3 1/2"\nmasonry = "brik"\n')
    for verb in ("plan", "readings", "draw", "papers", "explain"):
        code, data = answered(capsys, verb, str(bad))
        assert code == Code.BAD_JOB
        assert len(data["problems"]) == 5
    assert run(["plan", str(bad)]) == Code.BAD_JOB
    shown = capsys.readouterr()
    assert shown.out == ""
    assert "bad.toml: 5 things to put right" in shown.err
    assert "line 3, quick.length" in shown.err
    assert shown.err.rstrip().split("\n\n")[-1].startswith("Next: ")
    assert run(["readings", str(tmp_path / "none.toml")]) == Code.BAD_JOB
    assert "no such file" in " ".join(capsys.readouterr().err.split())


def test_readings_that_cannot_be_adjusted_are_told_with_their_line(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    bad = tmp_path / "job.toml"
    text = (EXAMPLES / "brick-one-flue.toml").read_text("utf-8")
    reads = re.search(r'\{ start = "C", end = "D", reads = "([^"]*)" \}', text)
    assert reads is not None
    bad.write_text(text.replace(reads[0], reads[0].replace(reads[1], "900 ft")))
    line = text[: reads.start()].count("\n") + 1
    for verb in ("readings", "plan"):
        code, data = answered(capsys, verb, str(bad), *(["--into", str(tmp_path / "out")] if verb == "plan" else []))
        assert code == Code.NOT_READY
        assert any(p["where"].startswith(f"line {line}, ") for p in data["problems"]), data["problems"]


def test_a_job_from_a_pipe(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    data = (EXAMPLES / "brick-one-flue.toml").read_bytes()
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data)))
    assert answered(capsys, "readings", "-")[0] == Code.DONE


def test_a_folder_that_cannot_be_written(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("in the way")
    code, data = answered(capsys, "papers", str(EXAMPLES / "brick-one-flue.toml"), "--into", str(blocked))
    assert code == Code.NOT_WRITTEN
    assert "cannot be written" in data["problems"][0]["what"]


def test_kinds_of_file_that_there_are_not(capsys: pytest.CaptureFixture[str]) -> None:
    assert answered(capsys, "draw", str(EXAMPLES / "brick-one-flue.toml"), "--as", "svg,paper")[0] == Code.ASKED_WRONG


def test_a_fault_of_the_program_is_owned_up_to(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(_: argparse.Namespace) -> Answer:
        raise RuntimeError("a cog is loose")

    monkeypatch.setattr(verbs, "schema", broken)
    assert run(["schema"]) == Code.OUR_FAULT
    shown = capsys.readouterr().err
    assert "a cog is loose" in shown
    assert "Traceback" not in shown
    assert "Traceback" in answered(capsys, "schema")[1]["trace"]


def test_stopped_by_hand(monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(_: argparse.Namespace) -> Answer:
        raise KeyboardInterrupt

    monkeypatch.setattr(verbs, "schema", stopped)
    assert run(["schema"]) == Code.STOPPED


def test_typed_wrong() -> None:
    for argv in ([], ["plan"], ["bake"], ["demo", "--paper", "foolscap"]):
        with pytest.raises(SystemExit) as left:
            run(argv)
        assert left.value.code == Code.ASKED_WRONG


def test_as_a_program_of_its_own(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "crownwright", "roof-card", "--into", str(tmp_path / "card.pdf")],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("Wrote ")


def test_help_is_light() -> None:
    """No verb's library may be loaded to show a help text: that is what makes the first answer come at once."""
    code = "import sys; from crownwright.cli.main import build_parser; build_parser(); print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert not {"numpy", "pydantic", "shapely", "typst", "ezdxf", "rich"} & set(loaded)


def test_planning_loads_no_library_that_takes_a_second() -> None:
    code = "import sys; import crownwright.service.plan_a_job; print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert not {"scipy.special", "scipy.stats", "scipy.optimize", "typst", "ezdxf", "rich"} & set(loaded)


def test_text_is_folded_to_the_width_and_says_next_last() -> None:
    answer = Answer(
        Code.DONE,
        "Title",
        (Section("Part", ("word " * 40,), ("Head",)),),
        "go on",
        problems=(Problem("a", "b", "c", stops=False),),
    )
    text = as_text(answer, 50, bold=False)
    assert max(map(len, text.split("\n"))) <= 50
    assert text.endswith("Next: go on")
    assert "Worth knowing" in text
    assert "\x1b" not in text
    assert as_text(answer, 50, bold=True).startswith("\x1b[1mTitle")


def test_the_page_has_every_command_option_and_code() -> None:
    for name, parser in commands().items():
        assert f"`crownwright {name}" in PAGE, name
        for action in parser._actions:
            for option in action.option_strings:
                assert option in PAGE or option in ("-h", "--help"), (name, option)
    for code in Code:
        assert f"| {int(code)} | {code.says} |" in PAGE


def test_the_page_shows_what_the_commands_print() -> None:
    spec = importlib.util.spec_from_file_location("make_command_line", ROOT / "docs" / "make_command_line.py")
    assert spec is not None
    assert spec.loader is not None
    maker = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(maker)
    shown = {match[1]: match[0] for match in maker.SHOWN.finditer(PAGE)}
    assert len(shown) == 4
    for command, block in shown.items():
        if "--help" not in command:  # other Pythons set help out a little differently
            assert maker.printed(command) in block, command


def test_every_command_has_help_and_json() -> None:
    for name, parser in commands().items():
        assert parser.description, name
        assert any("--json" in action.option_strings for action in parser._actions), name
    assert cli.ABOUT in build_parser().format_help()
