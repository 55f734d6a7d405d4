"""A book that cannot be written, two servers, clocks, older books: what the pages say, and that nothing typed is lost."""

from __future__ import annotations

import errno
import re
import shutil
import sqlite3
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import psycopg
import pytest
from sqlalchemy import event
from sqlalchemy.exc import OperationalError
from starlette.datastructures import UploadFile
from starlette.testclient import TestClient
from tests.lived_in import a_photo
from tests.web.conftest import HOME, token

from crownwright.service.desk.begin_job import begin_from_text
from crownwright.service.desk.list_jobs import list_jobs
from crownwright.service.desk.model import By, Change, Entry
from crownwright.service.desk.open_desk import Desk, open_desk
from crownwright.service.desk.revisions_of import history
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.open_job import open_demo
from crownwright.web.app import build_app

OLD = sorted((Path(__file__).parents[1] / "book" / "old").glob("*.sql"))
FORMS = (
    ("/job/sample/entries", {"id": "t1", "base": "1", "set:cap.overhang_wanted": "4 1/4"}, "Overhang to aim at", "4 1/4"),
    ("/job/sample/up-top", {"id": "t2", "step": "tape:A-C", "before": "null", "reads": "57 3/8"}, "Reads", "57 3/8"),
    ("/job/sample/work", {"state": "quoted", "visit": "2026-05-20"}, "State", "quoted"),
    ("/job/sample/pour-day/log", {"id": "t3", "list": "batches", "log:bags": "2", "log:water": "6 qt"}, "Water", "6 qt"),
    ("/new", {"id": "t4", "title": "Mill Row", "customer": "O. Quist"}, "Customer", "O. Quist"),
)


@contextmanager
def told_by(desk: Desk, error: Exception) -> Iterator[None]:
    """The database answers every write with an error, as its own driver raises it."""

    def refuse(_c: Any, _cursor: Any, statement: str, *_: Any) -> None:
        if statement.startswith(("INSERT", "UPDATE", "DELETE")):
            raise OperationalError(statement, {}, error)

    event.listen(desk.book.engine, "before_cursor_execute", refuse)
    try:
        yield
    finally:
        event.remove(desk.book.engine, "before_cursor_execute", refuse)


FULL = (
    sqlite3.OperationalError("database or disk is full"),
    psycopg.errors.DiskFull("could not extend file: No space left on device"),
)


@pytest.mark.parametrize("error", FULL, ids=["sqlite", "postgresql"])
@pytest.mark.parametrize(("address", "fields", "name", "typed"), FORMS, ids=[form[0] for form in FORMS])
def test_a_full_disk_is_told_with_what_was_typed_and_sent_again_it_is_kept(
    client: TestClient, desk: Desk, error: Exception, address: str, fields: dict[str, str], name: str, typed: str
) -> None:
    sent = fields | {"form_token": token(client)}
    with told_by(desk, error):
        answer = client.post(address, data=sent)
        assert answer.status_code == 503
        assert "The disk is full" in answer.text
        assert f"<dt>{name}</dt><dd>{typed}</dd>" in answer.text
        assert client.get("/job/sample").status_code == 200, "what is there can still be read"
        as_json = client.post(address, data=sent, headers={"accept": "application/json"})
        assert as_json.status_code == 503
        assert as_json.json()["what"] == "The disk is full"
    again = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)">', answer.text)) | {"form_token": token(client)}
    assert len(history(desk, "sample")) == 1
    where = re.search(r'<form method="post" action="([^"]+)">', answer.text)
    assert where
    for _ in range(2):
        assert client.post(where[1], data=again).status_code in (200, 303)
    kept = len(history(desk, "sample")) - 1 if address != "/new" else list_jobs(desk).count - 1
    assert kept == (2 if address.endswith("/work") else 1), "state and visit are a revision each"


def test_a_photo_that_finds_no_room_is_told_by_its_name(client: TestClient, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    form = {"form_token": token(client), "id": "p1"}
    files = {"photo": ("north side.jpg", a_photo(), "image/jpeg")}
    with told_by(desk, FULL[0]):
        answer = client.post("/job/sample/photos", data=form, files=files)
        assert answer.status_code == 503
        assert "north side.jpg" in answer.text

    async def no_room(_self: UploadFile, _data: bytes) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(UploadFile, "write", no_room)
    answer = client.post("/job/sample/photos", data=form, files=files)
    assert answer.status_code == 507
    assert "The disk is full" in answer.text
    monkeypatch.undo()
    assert client.post("/job/sample/photos", data=form, files=files).status_code == 303


def test_a_book_that_may_only_be_read_shows_all_and_says_so_when_written(client: TestClient, desk: Desk) -> None:
    with told_by(desk, sqlite3.OperationalError("attempt to write a readonly database")):
        answer = client.post(
            "/job/sample/entries", data={"form_token": token(client), "id": "t1", "base": "1", "set:notes": "dog"}
        )
        assert answer.status_code == 503
        assert "The book may only be read" in answer.text
        assert "dog" in answer.text
        for page in ("/", "/job/sample", "/job/sample/cap", "/job/sample/history"):
            assert client.get(page).status_code == 200


def test_a_real_disk_without_room(tmp_path: Path) -> None:
    """A book on a disk of one megabyte, filled to the brim; root alone may make such a disk."""
    disk = tmp_path / "small"
    disk.mkdir()
    mount = shutil.which("mount")
    command = [str(mount), "-t", "tmpfs", "-o", "size=1m", "tmpfs", str(disk)]
    if mount is None or subprocess.run(command, capture_output=True, check=False).returncode:
        pytest.skip("no right to make a small disk here")
    try:
        desk = open_desk(disk / "jobs.book")
        begin_from_text(desk, By("E. Marr"), "sample", open_demo().text)
        with TestClient(build_app(desk, owner="E. Marr"), HOME, client=("127.0.0.1", 50000), follow_redirects=False) as client:
            form = {"form_token": token(client), "base": "1"}
            filler = disk / "filler"
            fill_up(filler)
            said = form | {"id": "n1", "set:notes": "long " * 4000}
            answer = client.post("/job/sample/entries", data=said)
            assert answer.status_code == 503, answer.text[:300]
            assert "The disk" in answer.text
            assert client.get("/job/sample/history").status_code == 200
            filler.unlink()
            assert client.post("/job/sample/entries", data=said).status_code == 303
        assert len(history(desk, "sample")) == 2
        desk.close()
    finally:
        subprocess.run(["umount", str(disk)], check=True)


def fill_up(file: Path) -> None:
    """Write until nothing more goes on."""
    with suppress(OSError), file.open("wb", buffering=0) as out:
        while True:
            out.write(b"x" * 4096)


def test_two_servers_on_one_book_see_each_other_and_undo_nothing_unseen(client: TestClient, desk: Desk) -> None:
    other = open_desk(desk.book.address, clock=desk.clock)
    with TestClient(build_app(other, owner="Berit"), HOME, client=("127.0.0.1", 50001), follow_redirects=False) as second:
        one = {"form_token": token(client), "id": "a1", "base": "1", "set:notes": "gate left"}
        assert client.post("/job/sample/entries", data=one).status_code == 303
        assert "gate left" in second.get("/job/sample").text
        two = {"form_token": token(second), "id": "b1", "base": "2", "set:mason": "Berit"}
        assert second.post("/job/sample/entries", data=two).status_code == 303
        late = client.post("/job/sample/undo", data={"form_token": token(client), "on": "2"})
        assert late.status_code == 409
        assert "Somebody else changed the job meanwhile" in late.text
        assert [row.number for row in history(desk, "sample")] == [3, 2, 1]
    other.close()


def test_a_clock_that_jumps_back_stops_no_page(tmp_path: Path) -> None:
    now = [datetime(2026, 5, 3, 12, 0, tzinfo=UTC)]
    desk = open_desk(tmp_path / "jobs.book", clock=lambda: now[0])
    begin_from_text(desk, By("E. Marr"), "sample", open_demo().text)
    with TestClient(build_app(desk, owner="E. Marr"), HOME, client=("127.0.0.1", 50000), follow_redirects=False) as client:
        for days, says in ((-900, "first"), (2000, "second"), (-1, "third")):
            now[0] += timedelta(days=days)
            save_entry(desk, By("E. Marr"), Entry(says, "sample", 9, (Change("notes", says),)))
            for page in (
                "/",
                "/job/sample",
                "/job/sample/history",
                "/job/sample/pour-day",
                "/job/sample/papers",
                "/job/sample/money",
            ):
                assert client.get(page).status_code == 200, page
        assert "third" in client.get("/job/sample").text
        listed = re.findall(r"<p><b>(\d)</b>", client.get("/job/sample/history").text)
        assert listed == ["4", "3", "2", "1"]
    desk.close()


@pytest.mark.parametrize("old", OLD, ids=lambda path: path.stem)
def test_a_book_of_every_older_version_is_shown_and_goes_on(old: Path, tmp_path: Path) -> None:
    raw = sqlite3.connect(tmp_path / "old.book")
    raw.executescript(old.read_text("utf-8"))
    raw.close()
    desk = open_desk(tmp_path / "old.book")
    with TestClient(build_app(desk, owner="E. Marr"), HOME, client=("127.0.0.1", 50000), follow_redirects=False) as client:
        for page in ("/", "/job/j1", "/job/j1/history", "/job/j1/up-top", "/job/j1/photos", "/job/j1/papers"):
            assert client.get(page).status_code == 200, page
        said = {"form_token": token(client), "id": "n1", "base": "2", "set:notes": "goes on"}
        assert client.post("/job/j1/entries", data=said).status_code == 303
        assert "goes on" in client.get("/job/j1").text
    desk.close()
