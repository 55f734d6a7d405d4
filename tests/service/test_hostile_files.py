"""Files and entries from somebody who means no good: told what to do, nothing changed, nothing written beside the book."""

from __future__ import annotations

import hashlib
import io
import json
import struct
import zipfile
import zlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PIL import Image, PngImagePlugin
from sqlalchemy import event

from crownwright.book.store import BookError
from crownwright.quantity.problems import Problem
from crownwright.service.desk.add_photo import add_photo, bare_name, list_photos, picture_of
from crownwright.service.desk.back_up import back_up
from crownwright.service.desk.begin_job import begin_from_text, begin_job
from crownwright.service.desk.import_job import import_job
from crownwright.service.desk.keep_work import take_out
from crownwright.service.desk.list_jobs import find_job, list_jobs
from crownwright.service.desk.model import By, Entry, PhotoRow, Saved
from crownwright.service.desk.open_desk import Desk, open_desk
from crownwright.service.desk.pair_device import begin_pairing, pair_device
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.desk.revisions_of import history
from crownwright.service.desk.save_entry import read_entry, save_entry
from crownwright.service.desk.settle_conflict import conflicts_of, settle_conflict
from crownwright.service.jobfile.syntax import parse_toml

ANSEL = By("Ansel", "phone-1")
HALF = "\ud800"  # half of a sign: JSON can say it, no database can hold it
PDF = b"%PDF-1.7 paper"


def packed(**more: str | bytes) -> bytes:
    """An exported job with some of its files put differently."""
    files: dict[str, str | bytes] = {"book.toml": "form = 1\nid = 'q'", "job.toml": "title = 'x'", **more}
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as box:
        for name, data in files.items():
            box.writestr(name, data)
    return out.getvalue()


def paper(**told: Any) -> dict[str, str | bytes]:
    row = {"id": "p", "number": "2026-0001", "kind": "quote", "sha256": hashlib.sha256(PDF).hexdigest(), **told}
    line = ", ".join(f"{key} = {json.dumps(value)}" for key, value in row.items())
    return {"papers.toml": f"papers = [{{{line}}}]", "papers/p.pdf": PDF, "papers/p.json": "{}"}


def zip_of(*entries: tuple[zipfile.ZipInfo | str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as box:
        for name, data in entries:
            box.writestr(name, data)
    return out.getvalue()


def a_link() -> bytes:
    link = zipfile.ZipInfo("job.toml")
    link.external_attr = 0o120777 << 16
    return zip_of(("book.toml", b"form = 1"), (link, b"/etc/passwd"))


def lying_size() -> bytes:
    """A zip whose list says that ten megabytes of spaces are five bytes."""
    data = bytearray(zip_of(("job.toml", b" " * 10_000_000), ("book.toml", b"form = 1")))
    for sign, at in ((b"PK\x01\x02", 24), (b"PK\x03\x04", 22)):
        start = data.find(sign)
        data[start + at : start + at + 4] = struct.pack("<I", 5)
    return bytes(data)


def overlapping() -> bytes:
    """A zip whose list names one packed file under ten thousand names: what it unpacks to is ten thousand times what it holds."""
    data = zip_of(("revisions/00001.toml", b" " * 4_000_000))
    start, end = data.find(b"PK\x01\x02"), data.find(b"PK\x05\x06")
    one = data[start:end]
    many = b"".join(one.replace(b"revisions/00001.toml", b"revisions/%05d.toml" % k) for k in range(1, 10_001))
    tail = struct.pack("<4s4H2LH", b"PK\x05\x06", 0, 0, 10_000, 10_000, len(many), start, 0)
    return data[:start] + many + tail


REFUSED = {
    "names that climb": packed(**{"photos/../../x.jpg": b"x"}),
    "names of another system": packed(**{"photos\\..\\x.jpg": b"x"}),
    "a drive": packed(**{"C:/x.jpg": b"x"}),
    "a sign of no name": packed(**{"photos/a\nb.jpg": b"x"}),
    "a size that lies": lying_size(),
    "one thing ten thousand times": overlapping(),
    "brackets without end": packed(**{"book.toml": "form = 1\na = " + "[" * 20_000}),
    "a key of too many parts": packed(**{"book.toml": "form = 1\n" + ".".join("a" * 20_000) + " = 1"}),
    "a paper that is a page": packed(**(paper(sha256=hashlib.sha256(b"<html>").hexdigest()) | {"papers/p.pdf": b"<html>"})),
    "a paper's number with lines": packed(**paper(number='1"\r\nSet-Cookie: a=b')),
    "a paper's name that climbs": packed(**paper(kind="../../quote")),
    "a photo that is a page": packed(**{"photos.toml": "photos = [{id = 'q'}]", "photos/q.jpg": b"<script>alert(1)</script>"}),
    "two of one id": packed(**{"conflicts.toml": "conflicts = [{id='c',path='a'}, {id='c',path='a'}]"}),
    "revisions with a gap": packed(**{"revisions.toml": "revisions=[{number=2}]", "revisions/00001.toml": "title='x'"}),
    "a text with a zero": packed(**{"job.toml": 'title = "x"\n# \x00'}),
    "a zip in a zip": zip_of(("photos/q.jpg", packed())),
    "cut short": packed()[:-30],
}


@pytest.mark.parametrize("data", REFUSED.values(), ids=REFUSED)
def test_an_import_that_means_no_good_is_refused_whole(desk: Desk, tmp_path: Path, data: bytes) -> None:
    before = sorted(tmp_path.rglob("*"))
    refused = import_job(desk, ANSEL, data)
    assert isinstance(refused, Problem)
    assert refused.remedy
    assert list_jobs(desk).count == 0
    assert sorted(tmp_path.rglob("*")) == before, "nothing beside the book"


def test_a_link_in_an_import_is_read_as_what_it_says(desk: Desk) -> None:
    """Its target's name is taken for the job's text; the file it points at is never opened."""
    row = import_job(desk, ANSEL, a_link())
    assert not isinstance(row, Problem)
    assert plan_of(desk, row.id, cut_list=False).text == "/etc/passwd"


HUGE = 10**30
TAKEN_IN = {
    "numbers no database holds": packed(
        **{
            "revisions.toml": f"revisions = [{{number = 1}}, {{number = 2, restores = {HUGE}}}]",
            "revisions/00001.toml": "title = 'x'",
            "revisions/00002.toml": "title = 'y'",
        }
    ),
    "a paper of no revision": packed(**paper(revision=HUGE)),
    "times that are none": packed(
        **{
            "book.toml": "form = 1\nid = 'q'\nnext_visit = '<script>alert(1)</script>'",
            "revisions.toml": "revisions = [{number = 1, made_at = 'zz'}]",
            "revisions/00001.toml": "title = 'x'",
            "conflicts.toml": "conflicts = [{id = '<b>', path = 'a', found_at = 'x', settled_at = 'y'}]",
        }
    ),
    "a value without end": packed(**{"conflicts.toml": f"conflicts = [{{id = 'c', path = 'a', mine = '{'[' * 50_000}'}}]"}),
    "an id of another script": packed(**{"book.toml": "form = 1\nid = 'é'"}),
    "an id that is none": packed(**{"book.toml": "form = 1\nid = [[[1]]]"}),
}


@pytest.mark.parametrize("data", TAKEN_IN.values(), ids=TAKEN_IN)
def test_what_only_looks_odd_comes_in_without_it(desk: Desk, data: bytes) -> None:
    row = import_job(desk, ANSEL, data)
    assert not isinstance(row, Problem)
    assert row.id.isascii()
    assert row.next_visit is None
    assert all(r.restores is None and r.made_at == "2026-11-25T08:00:00Z" for r in history(desk, row.id))
    for conflict in conflicts_of(desk, row.id):
        assert conflict.id.isascii()
        assert "<" not in conflict.id
        assert conflict.found_at == "2026-11-25T08:00:00Z"
        settle_conflict(desk, ANSEL, conflict.id, "mine")


def chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def png(width: int, height: int, *more: bytes) -> bytes:
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + head + b"".join(more) + chunk(b"IDAT", zlib.compress(b"\0" * 1000)) + chunk(b"IEND", b"")


def picture(kind: str = "PNG", **more: Any) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (30, 20), "red").save(out, kind, **more)
    return out.getvalue()


def tiff_without_end() -> bytes:
    """A TIFF whose list of pages comes back to its own beginning."""
    data = bytearray(picture("TIFF"))
    at = struct.unpack("<I", data[4:8])[0]
    entries = struct.unpack("<H", data[at : at + 2])[0]
    data[at + 2 + 12 * entries : at + 6 + 12 * entries] = struct.pack("<I", at)
    return bytes(data)


NO_PHOTOS = {
    "two thousand million points": png(50_000, 40_000),
    "no points": png(0, 0),
    "more points than a number holds": png(2**31 - 1, 2**31 - 1),
    "a note that unpacks to a mountain": png(30, 20, chunk(b"zTXt", b"a\0\0" + zlib.compress(b"x" * 80_000_000))),
    "a page with a picture's name": b"<html><script>alert(1)</script></html>",
    "a drawing with a script": b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
    "a font": b"\0\1\0\0" + b"\0" * 100,
    "printer's language": b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n(/etc/passwd) (r) file",
    "a zip": packed(),
    "a book": b"SQLite format 3\0" + b"\0" * 500,
}


@pytest.mark.parametrize("data", NO_PHOTOS.values(), ids=NO_PHOTOS)
def test_a_photo_that_means_no_good_is_refused_with_a_word(desk: Desk, data: bytes) -> None:
    begin_job(desk, ANSEL, "j1", "North stack")
    refused = add_photo(desk, "j1", data, "../../north.jpg")
    assert isinstance(refused, Problem)
    assert refused.remedy
    assert list_photos(desk, "j1") == ()


def noted() -> bytes:
    note = PngImagePlugin.PngInfo()
    note.add_text("Comment", "<script>alert(1)</script>")
    return picture("PNG", pnginfo=note)


@pytest.mark.parametrize(
    "data", [picture() + packed(), noted(), tiff_without_end(), picture("JPEG", comment=b"<script>alert(1)</script>")]
)
def test_what_hides_in_a_picture_does_not_leave_the_book(desk: Desk, data: bytes) -> None:
    begin_job(desk, ANSEL, "j1", "North stack")
    photo = add_photo(desk, "j1", data, 'north".jpg\r\nX: y')
    assert isinstance(photo, PhotoRow)
    assert photo.name == "north.jpgX y"
    for which in ("upright", "thumbnail"):
        shown = picture_of(desk, photo.id, which)  # type: ignore[arg-type]
        assert shown.startswith(b"\xff\xd8\xff")
        assert b"script" not in shown
        assert b"PK" not in shown[-200:]


def test_a_photo_under_the_id_of_another_jobs_photo_is_told(desk: Desk) -> None:
    for job in ("j1", "j2"):
        begin_job(desk, ANSEL, job, job)
    assert isinstance(add_photo(desk, "j1", picture(), photo="p"), PhotoRow)
    assert isinstance(add_photo(desk, "j2", picture("JPEG"), photo="p"), Problem)
    assert list_photos(desk, "j2") == ()


@pytest.mark.parametrize(
    "name", ["../../etc/passwd", "..\\..\\boot.ini", "a\x00.jpg", "/", "", "  . ", "x" * 5000, "CON:", f"a{HALF}b"]
)
def test_a_files_name_is_only_ever_a_name(name: str) -> None:
    bare = bare_name(name)
    assert 0 < len(bare) <= 100
    assert not set(bare) & set('/\\\x00:"\r\n')
    assert bare.strip(".") == bare
    bare.encode()


NO_ENTRIES: dict[str, Any] = {
    "half a sign in the path": {"changes": [{"path": f"notes.{HALF}", "value": "x"}]},
    "half a sign in what was seen": {"changes": [{"path": "notes", "value": "x", "was": HALF}]},
    "a zero in the path": {"changes": [{"path": "notes\x00", "value": "x"}]},
    "a value without end": {"changes": [{"path": "notes", "value": json.loads("[" * 500 + "]" * 500)}]},
    "seen without end": {"changes": [{"path": "notes", "value": "x", "was": json.loads("[" * 500 + "]" * 500)}]},
    "an id that is a list": {"id": [["x"]], "changes": [{"path": "notes", "value": "x"}]},
    "changes that are none": {"changes": {"path": "notes"}},
    "a path that is none": {"changes": [{"path": ["notes"], "value": "x"}]},
}


@pytest.mark.parametrize("raw", NO_ENTRIES.values(), ids=NO_ENTRIES)
def test_an_entry_that_means_no_good_is_told_and_changes_nothing(desk: Desk, raw: dict[str, Any]) -> None:
    begin_job(desk, ANSEL, "j1", "North stack")
    entry = read_entry("j1", {"id": "e1", "base": 1, **raw})
    told = entry if isinstance(entry, Problem) else save_entry(desk, ANSEL, entry)
    assert isinstance(told, Problem)
    assert len(history(desk, "j1")) == 1


def test_odd_things_beside_a_good_value_do_not_lose_it(desk: Desk) -> None:
    begin_job(desk, ANSEL, "j1", "North stack")
    raw = {"id": "e1", "base": HUGE, "typed_at": HALF * 99, "changes": [{"path": "place", "value": "<script>alert(1)</script>"}]}
    entry = read_entry("j1", raw)
    assert isinstance(entry, Entry)
    assert isinstance(save_entry(desk, By(HALF + "Ansel", "\x00"), entry), Saved)
    assert find_job(desk, "j1").place == "<script>alert(1)</script>", "kept as typed; pages show it as text"
    assert history(desk, "j1")[0].who == "Ansel"


def test_an_entry_under_an_id_of_another_jobs_entry_is_not_taken_for_it(desk: Desk) -> None:
    for job in ("j1", "j2"):
        begin_job(desk, ANSEL, job, job)
    sent = [read_entry(job, {"id": "e1", "base": 1, "changes": [{"path": "notes", "value": job}]}) for job in ("j1", "j2")]
    assert [type(save_entry(desk, ANSEL, entry)) for entry in sent if isinstance(entry, Entry)] == [Saved, Problem]


def test_a_path_as_deep_as_it_is_long_leaves_the_job_readable(desk: Desk) -> None:
    begin_job(desk, ANSEL, "j1", "North stack")
    for k, path in enumerate((".".join("a" * 100), ".".join("a" * 12), ".".join("b" * 13))):
        entry = read_entry("j1", {"id": f"e{k}", "base": 99, "changes": [{"path": path, "value": json.loads("[" * 8 + "]" * 8)}]})
        assert isinstance(entry, Entry)
        save_entry(desk, ANSEL, entry)
    assert find_job(desk, "j1").head == 2, "one of the three was a place"
    assert not parse_toml(plan_of(desk, "j1", cut_list=False).text, "").problems


@pytest.mark.parametrize(
    "text", ["a=" + "[" * 10**5, ".".join("a" * 10**5) + "=1", "[" + ".".join("a" * 10**5) + "]", "a = {" * 10**4]
)
def test_a_text_made_to_take_forever_takes_a_moment(desk: Desk, text: str) -> None:
    """Read as they stand, the second and third take a minute and the square of their length."""
    assert not isinstance(begin_from_text(desk, ANSEL, "j1", text), Problem)
    assert plan_of(desk, "j1", cut_list=False).opened.problems


def test_searching_and_pairing_take_any_text(desk: Desk) -> None:
    begin_job(desk, ANSEL, "j1", "North stack")
    assert list_jobs(desk, f"north\x00 {HALF}").count == 1
    assert list_jobs(desk, "' OR 1=1 --").count == 0
    assert isinstance(pair_device(desk, "٣" * 8, HALF), Problem)
    code = begin_pairing(desk).code
    assert not isinstance(pair_device(desk, code, HALF + "\x00<b>"), Problem)


def test_a_full_disk_keeps_the_whole_of_what_was_there(tmp_path: Path, clock: Any) -> None:
    """A photo, an import, a new job and a backup on a disk without room: each told, none half there."""
    desk = open_desk(tmp_path / "jobs.book", clock=clock)
    begin_job(desk, ANSEL, "j1", "North stack")
    with desk.book.reading() as c:
        pages = c.exec_driver_sql("PRAGMA page_count").scalar_one()

    def full(raw: Any, _record: object) -> None:
        raw.execute(f"PRAGMA max_page_count={pages}")

    event.listen(desk.book.engine, "connect", full)
    desk.book.close()
    noise = io.BytesIO()
    Image.effect_noise((300, 300), 90).save(noise, "PNG")
    tries: list[Callable[[], object]] = [
        lambda: add_photo(desk, "j1", noise.getvalue()),
        lambda: import_job(desk, ANSEL, packed(**{"job.toml": "title = 'x'\n" + "# long\n" * 9000})),
        lambda: begin_from_text(desk, ANSEL, "j2", "title = 'x'\n" + "# long\n" * 9000),
    ]
    for attempt in tries:
        with pytest.raises(BookError, match="The disk is full"):
            attempt()
    event.remove(desk.book.engine, "connect", full)
    desk.book.close()
    assert [row.id for row in list_jobs(desk).rows] == ["j1"]
    assert list_photos(desk, "j1") == ()
    desk.close()


def test_a_backup_that_cannot_be_written_leaves_nothing_behind(desk: Desk, tmp_path: Path) -> None:
    begin_job(desk, ANSEL, "j1", "North stack")
    with pytest.raises(BookError, match="no folder"):
        back_up(desk, tmp_path / "none" / "saved.book")
    (tmp_path / "folder").mkdir()
    with pytest.raises(BookError, match="already"):
        back_up(desk, tmp_path / "folder")
    assert not list(tmp_path.rglob("*.part*"))


def test_taking_out_twice_keeps_the_first_time(desk: Desk, clock: Any) -> None:
    begin_job(desk, ANSEL, "j1", "North stack")
    first = take_out(desk, "j1").deleted_at
    clock.on(days=3)
    assert take_out(desk, "j1").deleted_at == first
