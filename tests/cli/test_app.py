"""crownwright app: opens, answers, closes; says in plain words why it cannot."""

from __future__ import annotations

import json
import os
import signal
import socket
import sqlite3
import ssl
import subprocess
import sys
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from crownwright.cli.codes import Code
from crownwright.cli.main import run
from crownwright.web.serve import FIRST_PORT, PortError, listen, own_addresses

LINE = "is open at "


@contextmanager
def opened(*options: str, env: dict[str, str] | None = None) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """The running command and the address it shows."""
    command = [sys.executable, "-m", "crownwright", "app", "--no-open", *options]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, encoding="utf-8",
        env={**os.environ, "PYTHONIOENCODING": "utf-8", **(env or {})},
    ) as app:  # fmt: skip
        try:
            assert app.stdout is not None
            assert app.stderr is not None
            said = app.stderr if "--json" in options else app.stdout
            line = said.readline()
            assert LINE in line, line + app.stderr.read()
            yield app, line.strip().rpartition(LINE)[2]
        finally:
            if app.poll() is None:
                app.kill()


def got(address: str) -> str:
    with urllib.request.urlopen(address, timeout=20) as answer:
        return str(answer.read().decode())


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="signals")
def test_it_opens_the_sample_in_an_empty_book_and_closes_politely(tmp_path: Path) -> None:
    book = str(tmp_path / "jobs.book")
    with opened("--book", book, "--json") as (app, home):
        assert "Weir Cottage" in got(home)
        with opened("--book", book) as (second, other):  # two servers on one book, each on its own port
            assert other != home
            assert "Weir Cottage" in got(other)
            second.send_signal(signal.SIGTERM)
            assert second.wait(20) == 0
        app.send_signal(signal.SIGINT)
        out, err = app.communicate(timeout=20)
        assert app.returncode == Code.DONE
        assert json.loads(out)["code"] == 0
        assert "Traceback" not in err
    raw = sqlite3.connect(book)
    assert raw.execute("SELECT count(*) FROM job").fetchone() == (1,), "the sample is laid in once"
    raw.close()


@pytest.mark.slow
def test_with_lan_it_shows_a_code_and_a_picture_and_no_stranger_gets_past_the_door(tmp_path: Path) -> None:
    with opened("--book", str(tmp_path / "jobs.book"), "--lan") as (app, home):
        assert app.stdout is not None
        told = app.stdout.readline()
        assert "code" in told or "no address" in told
        assert "Weir Cottage" in got(home), "the desk needs no code"


@pytest.mark.slow
def test_with_https_phones_speak_it_by_an_authority_they_can_be_given_and_the_desk_is_on_loopback(tmp_path: Path) -> None:
    env = {"XDG_DATA_HOME": str(tmp_path), "LOCALAPPDATA": str(tmp_path), "HOME": str(tmp_path)}
    with opened("--book", str(tmp_path / "jobs.book"), "--lan", "--https", env=env) as (app, home):
        assert app.stdout is not None
        told = app.stdout.readline()
        if "no address" in told:
            pytest.skip("this machine is on no network")
        assert "Weir Cottage" in got(home), "the desk asks as before"
        outside = told.partition("network: ")[2].partition(" or ")[0].partition(",")[0]
        assert outside.startswith("https://")
        strange = ssl.create_default_context()
        with pytest.raises(urllib.error.URLError, match="verify failed"):
            urllib.request.urlopen(outside, timeout=20, context=strange)
        given = urllib.request.urlopen(f"{outside}/pair/authority.crt", timeout=20, context=ssl._create_unverified_context())
        strange.load_verify_locations(cadata=given.read())
        with urllib.request.urlopen(f"{outside}/pair", timeout=20, context=strange) as page:
            assert page.status == 200
        app.send_signal(signal.SIGINT)
        assert app.wait(20) == Code.DONE


def test_https_without_phones_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, answer = said(capsys, "--book", str(tmp_path / "jobs.book"), "--https")
    assert code == Code.ASKED_WRONG
    assert "--lan" in answer["next"]


def said(capsys: pytest.CaptureFixture[str], *options: str) -> tuple[int, dict[str, str]]:
    code = run(["app", "--no-open", "--json", *options])
    return code, json.loads(capsys.readouterr().out)


def test_a_port_that_is_taken_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        code, answer = said(capsys, "--book", str(tmp_path / "jobs.book"), "--port", str(taken.getsockname()[1]))
    assert code == Code.ASKED_WRONG
    assert "--port" in answer["next"]
    assert not (tmp_path / "jobs.book").exists()


def test_without_a_port_asked_for_the_next_free_one_is_taken() -> None:
    first = listen(lan=False)
    second = listen(lan=False)
    ports = first.getsockname()[1], second.getsockname()[1]
    assert FIRST_PORT <= ports[0] < ports[1]
    first.close()
    second.close()


def test_a_port_that_needs_more_rights_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(socket.socket, "bind", refused)
    with pytest.raises(PortError, match="may not be used"):
        listen(lan=False, port=80)


@pytest.mark.parametrize("port", ["0", "65536", "x", "-1", "80.5"])
def test_a_port_that_is_none_is_told(port: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        run(["app", "--port", port])
    assert "1 to 65535" in capsys.readouterr().err or port == "-1"


@pytest.mark.parametrize(("trouble", "words"), [("newer", "newer version"), ("none", "no folder"), ("damaged", "not a job book")])
def test_a_book_that_cannot_be_opened_is_told(
    trouble: str, words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "jobs.book"
    if trouble == "none":
        path = tmp_path / "nowhere" / "jobs.book"
    elif trouble == "damaged":
        path.write_bytes(b"This is no book at all" * 100)
    else:
        from crownwright.book.schema import STEP
        from crownwright.book.store import open_book

        book = open_book(path, "2026-11-25T08:00:00Z")
        with book.writing() as c:
            c.execute(STEP.insert().values(name="2099 to come", done_at="2099-01-01T00:00:00Z"))
        book.close()
    code = run(["app", "--no-open", "--book", str(path)])
    told = capsys.readouterr()
    assert code == Code.NOT_WRITTEN
    assert words in told.out + told.err
    assert "Next: " in told.out + told.err


def test_no_address_of_this_machine_alone_is_shown_to_phones() -> None:
    assert not any(address.startswith("127.") for address in own_addresses())
