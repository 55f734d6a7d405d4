"""The commands on the job book, as they are typed."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from crownwright.cli.codes import Code
from crownwright.cli.main import run

EXAMPLE = Path(__file__).parents[2] / "examples" / "metric.toml"


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.delenv("CROWNWRIGHT_BOOK", raising=False)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    return str(tmp_path / "jobs.book")


def said(capsys: pytest.CaptureFixture[str], *command: str) -> tuple[int, dict[str, Any]]:
    capsys.readouterr()
    code = run([*command, "--json"])
    return code, json.loads(capsys.readouterr().out)


def test_a_job_goes_in_out_and_in_again(book: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, taken = said(capsys, "import", str(EXAMPLE), "--book", book)
    assert code == Code.DONE
    job = taken["job"]["id"]
    out = tmp_path / "one.zip"
    assert said(capsys, "export", job, "--into", str(out), "--book", book)[0] == Code.DONE
    assert said(capsys, "import", str(out), "--book", str(tmp_path / "other.book"))[1]["job"]["id"] == job
    code, listed = said(capsys, "jobs", "saltness", "--book", book)
    assert (listed["count"], listed["jobs"][0]["place"]) == (1, "Saltness")


def test_a_backup_comes_back(book: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    said(capsys, "import", str(EXAMPLE), "--book", book)
    saved = str(tmp_path / "saved.book")
    assert said(capsys, "backup", saved, "--book", book)[1]["rows"]["job"] == 1
    assert said(capsys, "restore", saved)[0] == Code.DONE, "into the usual place, where there is no book yet"
    assert said(capsys, "jobs")[1]["count"] == 1
    code, refused = said(capsys, "restore", saved)
    assert (code, refused["next"]) == (Code.NOT_WRITTEN, "name a place where there is no book yet")


@pytest.mark.parametrize(
    ("command", "code"),
    [
        (("export", "none"), Code.ASKED_WRONG),
        (("import", "none.zip"), Code.ASKED_WRONG),
        (("jobs", "--book", "/no/such/folder/jobs.book"), Code.NOT_WRITTEN),
        (("restore", "none.book"), Code.NOT_WRITTEN),
    ],
)
def test_what_cannot_be_done_says_what_to_do(
    book: str, command: tuple[str, ...], code: Code, capsys: pytest.CaptureFixture[str]
) -> None:
    answered, answer = said(capsys, *command)
    assert answered == code
    assert answer["next"]


def test_a_file_that_is_no_job_is_refused(book: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bad = tmp_path / "bad.zip"
    bad.write_bytes(b"PK\x03\x04 nothing")
    code, answer = said(capsys, "import", str(bad), "--book", book)
    assert code == Code.BAD_JOB
    assert answer["problems"][0]["remedy"]
    assert said(capsys, "jobs", "--book", book)[1]["count"] == 0
