"""The rest of the desk: plans, comparison, photos, papers as handed out, phones let in and shut out, export, backup."""

from __future__ import annotations

import io
import sqlite3
import struct
import zipfile
import zlib
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from pillow_heif import from_pillow
from pypdfium2 import PdfDocument

from crownwright.book.store import BookError
from crownwright.quantity.problems import Problem
from crownwright.service.desk.add_photo import add_photo, describe_photo, list_photos, picture_of, take_out_photo
from crownwright.service.desk.back_up import back_up, restore_book
from crownwright.service.desk.begin_job import begin_from_text, begin_job, copy_job
from crownwright.service.desk.compare import compare
from crownwright.service.desk.day_papers import PLANNED, issue_day_paper
from crownwright.service.desk.days_of import keep_forecast
from crownwright.service.desk.export_job import export_job
from crownwright.service.desk.import_job import import_job
from crownwright.service.desk.issue_paper import issue_paper, issued_paper, issued_papers, keep_issued
from crownwright.service.desk.keep_work import bring_back, set_state, set_visit, take_out
from crownwright.service.desk.list_jobs import find_job, list_jobs
from crownwright.service.desk.model import By, Change, Entry, PhotoRow
from crownwright.service.desk.open_desk import Desk, open_desk
from crownwright.service.desk.pair_device import (
    Paired,
    begin_pairing,
    device_of,
    list_devices,
    pair_device,
    qr_svg,
    revoke_device,
)
from crownwright.service.desk.pairing import Pairing
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.desk.revisions_of import history, restore, undo
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.desk.text_of import text_of
from crownwright.service.jobfile.syntax import parse_toml
from crownwright.service.open_job import open_demo

TEN_DAYS = Path(__file__).parents[2] / "examples" / "weather" / "ten-days.toml"

ANSEL, BERIT = By("Ansel", "phone-1"), By("Berit", "phone-2")


@pytest.fixture
def demo(desk: Desk) -> str:
    begin_from_text(desk, ANSEL, "demo", open_demo().text)
    return "demo"


def jpeg(*, turned: bool = False, gps: bool = False, size: tuple[int, int] = (40, 20)) -> bytes:
    """A picture, red on its left half; ``turned`` says in its tags that it wants a quarter turn."""
    picture = Image.new("RGB", size, "blue")
    picture.paste("red", (0, 0, size[0] // 2, size[1]))
    exif = Image.Exif()
    exif[0x0132] = "2026:05:03 10:11:12"
    if turned:
        exif[0x0112] = 6
    if gps:
        exif.get_ifd(0x8825).update({1: "N", 2: (44.0, 12.0, 0.0), 3: "W", 4: (72.0, 48.0, 0.0)})
    out = io.BytesIO()
    picture.save(out, "JPEG", exif=exif)
    return out.getvalue()


def shown(desk: Desk, photo: PhotoRow | Problem, which: Any = "upright") -> Image.Image:
    assert isinstance(photo, PhotoRow)
    return Image.open(io.BytesIO(picture_of(desk, photo.id, which)))


def test_a_plan_is_of_the_revision_asked_for(desk: Desk, demo: str) -> None:
    save_entry(desk, ANSEL, Entry("e1", demo, 1, (Change("cap.edge_board", "2x4"),)))
    new, old = plan_of(desk, demo, cut_list=False), plan_of(desk, demo, 1, cut_list=False)
    assert (new.newest, old.newest) == (True, False)
    assert new.planned is not None
    assert old.planned is not None
    assert new.planned.plan.figure("cap.volume").value < old.planned.plan.figure("cap.volume").value
    assert plan_of(desk, demo, cut_list=False).planned is new.planned, "planned once"


def test_comparing_says_what_changed_and_what_it_did(desk: Desk, demo: str) -> None:
    tape = Change("readings.tapes[start=A,end=B].reads", "53 3/8")
    changes = (Change("cap.edge_board", "2x4"), tape, Change("customer", remove=True))
    save_entry(desk, ANSEL, Entry("e1", demo, 1, changes))
    found = compare(desk, demo, 1, 2, cut_list=False)
    first = parse_toml(open_demo().text, "").values["readings"]["tapes"][0]["reads"]
    assert {(c.name, c.before, c.after) for c in found.changes} == {
        ("cap", "nothing", "edge board 2x4"),
        ("tape AB", first, "53 3/8"),
        ("customer", "R. Tallow", "nothing"),
    }
    effects = {e.key: e for e in found.effects}
    assert effects["concrete.bags"].main
    assert int(effects["concrete.bags"].after.split()[0]) < int(effects["concrete.bags"].before.split()[0])
    assert compare(desk, demo, 2, 2, cut_list=False).changes == ()


def test_a_job_with_faults_is_kept_and_says_them(desk: Desk) -> None:
    begin_job(desk, ANSEL, "j1", "North stack", units="metric", corners=5)
    save_entry(desk, ANSEL, Entry("e1", "j1", 1, (Change("readings.tapes[start=A,end=Q].reads", "99 foo"),)))
    found = plan_of(desk, "j1")
    assert found.planned is None
    assert any("99 foo" in p.what for p in found.opened.problems)
    assert compare(desk, "j1", 1, 2).unplanned


def test_work_visit_copy_and_taking_out(desk: Desk, demo: str, clock: Any) -> None:
    clock.on(hours=1)
    assert set_state(desk, demo, "quoted").state == "quoted"
    assert isinstance(set_visit(desk, demo, "next tuesday"), Problem)
    row = set_visit(desk, demo, "2026-12-01")
    assert not isinstance(row, Problem)
    assert row.next_visit == "2026-12-01"
    assert [r.what for r in history(desk, demo)][:2] == ["next visit: 2026-12-01, was none", "state of work: quoted, was asked"]
    for state, visit in (("quoted", None), ("asked", None)):
        undone = undo(desk, BERIT, demo, find_job(desk, demo).head)
        assert undone is not None
        assert (undone.state, undone.next_visit) == (state, visit)
    restored = restore(desk, BERIT, demo, find_job(desk, demo).head, 3)
    assert (restored.state, restored.next_visit) == ("asked", None), "going back takes back no work done since"
    set_state(desk, demo, "quoted")
    set_visit(desk, demo, "2026-12-01")
    copied = copy_job(desk, BERIT, demo, "copy")
    assert not isinstance(copied, Problem)
    assert copied.title == "Weir Cottage, kitchen stack (copy)"
    take_out(desk, "copy")
    assert [r.id for r in list_jobs(desk, "weir").rows] == [demo]
    assert [r.id for r in list_jobs(desk, deleted=True).rows] == ["copy"]
    bring_back(desk, "copy")
    assert list_jobs(desk, "quoted TALLOW").count == 1
    with pytest.raises(KeyError):
        find_job(desk, "none")


def test_searching_knows_no_case_in_any_script(desk: Desk) -> None:
    begin_job(desk, ANSEL, "j1", "ÉTANG", customer="Straße 5")
    assert [list_jobs(desk, words).count for words in ("étang", "Étang STRASSE", "etang")] == [1, 1, 0]


def test_photos_stand_upright_without_their_place(desk: Desk, demo: str) -> None:
    photo = add_photo(desk, demo, jpeg(turned=True, gps=True), "C:\\x\\north.jpg")
    assert isinstance(photo, PhotoRow)
    assert (photo.name, photo.taken_at) == ("north.jpg", "2026-05-03T10:11:12")
    picture = shown(desk, photo)
    assert picture.size == (20, 40)
    top, bottom = (picture.convert("RGB").getpixel((10, y)) for y in (3, 36))
    assert isinstance(top, tuple)
    assert isinstance(bottom, tuple)
    assert (top[0] > 200, bottom[2] > 200) == (True, True), "turned a quarter to the right: its left is on top"
    assert not picture.getexif()
    assert shown(desk, photo, "original").getexif().get_ifd(0x8825), "as it came, in the book alone"
    assert b"Exif" not in picture_of(desk, photo.id)
    assert add_photo(desk, demo, jpeg(turned=True, gps=True)) == photo, "sent twice, there once"
    assert describe_photo(desk, photo.id, "loose stone", (0.1, 1.2)).where_x == "0.1000"
    take_out_photo(desk, photo.id)
    assert list_photos(desk, demo) == ()


def test_heic_is_read(desk: Desk, demo: str) -> None:
    out = io.BytesIO()
    from_pillow(Image.new("RGB", (64, 48), "green")).save(out)
    picture = shown(desk, add_photo(desk, demo, out.getvalue(), "IMG_1.HEIC"))
    assert (picture.format, picture.size) == ("JPEG", (64, 48))


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "TIFF", "JPEG", "MPO"])
@pytest.mark.parametrize("mode", ["RGB", "RGBA", "L", "P", "1"])
def test_every_kind_a_phone_may_send_is_read(desk: Desk, demo: str, kind: str, mode: str) -> None:
    out = io.BytesIO()
    Image.new("RGB", (64, 48), "white").convert("RGB" if kind in ("JPEG", "MPO") else mode).save(out, kind)
    picture = shown(desk, add_photo(desk, demo, out.getvalue()))
    assert (picture.format, picture.size, picture.mode) == ("JPEG", (64, 48), "RGB")
    assert picture.getpixel((9, 9)) == (255, 255, 255)


def huge_png() -> bytes:
    """A PNG that says it has 100,000 by 100,000 points, in a few bytes."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", 100_000, 100_000, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 1000)) + chunk(b"IEND", b"")


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"GIF89a" + b"\0" * 50,
        b"<svg onload='x()'/>",
        huge_png(),
        jpeg()[:300],
        b"%PDF-1.7",
    ],
    ids=["empty", "gif", "svg", "huge", "cut off", "pdf"],
)
def test_what_is_no_photo_is_refused_with_a_word(desk: Desk, demo: str, data: bytes) -> None:
    refused = add_photo(desk, demo, data)
    assert isinstance(refused, Problem)
    assert refused.remedy
    assert list_photos(desk, demo) == ()


def test_a_picture_that_is_also_a_page_leaves_as_a_picture_alone(desk: Desk, demo: str) -> None:
    photo = add_photo(desk, demo, jpeg() + b"<script>alert(1)</script>PK\x03\x04")
    assert isinstance(photo, PhotoRow)
    for which in ("upright", "thumbnail"):
        assert b"script" not in picture_of(desk, photo.id, which)  # type: ignore[arg-type]


def test_a_paper_handed_out_stays_as_it_was(desk: Desk, demo: str) -> None:
    first = issue_paper(desk, ANSEL, demo, "summary", issue="i1")
    assert not isinstance(first, Problem)
    assert first.number == "2026-0001"
    save_entry(desk, ANSEL, Entry("e1", demo, 1, (Change("cap.edge_board", "2x4"),)))
    assert issue_paper(desk, ANSEL, demo, "summary", issue="i1") == first
    second = issue_paper(desk, ANSEL, demo, "summary")
    assert not isinstance(second, Problem)
    assert (second.number, second.revision) == ("2026-0002", 2)
    assert second.sha256 != first.sha256
    assert issued_paper(desk, "i1")[1].startswith(b"%PDF")
    assert isinstance(issue_paper(desk, ANSEL, demo, "../x"), Problem)


@pytest.mark.parametrize("paper", ["summary", "drawings", "calculations", "batch-card"])
def test_a_paper_handed_out_bears_its_number_on_every_page(desk: Desk, demo: str, paper: str) -> None:
    keep_forecast(desk, demo, TEN_DAYS.name, TEN_DAYS.read_bytes())
    issued = (issue_day_paper if paper in PLANNED else issue_paper)(desk, ANSEL, demo, paper)
    assert not isinstance(issued, Problem), issued
    pages = [page.get_textpage().get_text_bounded() for page in PdfDocument(issued_paper(desk, issued.id)[1])]
    assert pages
    assert all(f"No. {issued.number}" in text for text in pages)


def test_what_was_typed_in_inches_is_still_in_inches_when_the_job_becomes_metric(desk: Desk, demo: str) -> None:
    before = plan_of(desk, demo).planned
    saved = save_entry(desk, ANSEL, Entry("e1", demo, 1, (Change("units", "metric"),)))
    assert not isinstance(saved, Problem)
    after = plan_of(desk, demo).planned
    assert before is not None
    assert after is not None
    assert after.plan.cap is not None
    assert before.plan.cap is not None
    assert after.plan.cap.length == before.plan.cap.length


@pytest.mark.parametrize("changes", [(Change("units", "us"),), (Change("units", "metric"), Change("bare_numbers", "mm"))])
def test_the_unit_of_bare_numbers_is_told_for_nobody_who_told_it_himself(
    desk: Desk, demo: str, changes: tuple[Change, ...]
) -> None:
    save_entry(desk, ANSEL, Entry("e1", demo, 1, changes))
    assert parse_toml(text_of(desk, demo), "").values.get("bare_numbers") == {c.path: c.value for c in changes}.get(
        "bare_numbers"
    )


def test_a_phone_is_let_in_by_the_code_and_shut_out_for_good(desk: Desk) -> None:
    code = begin_pairing(desk).code
    paired = pair_device(desk, f"{code[:4]} {code[4:]}", "  Ansel's   phone ")
    assert isinstance(paired, Paired)
    assert paired.device.name == "Ansel's phone"
    assert device_of(desk, paired.token) == paired.device
    assert isinstance(pair_device(desk, code, "second"), Problem), "a code is good once"
    revoke_device(desk, paired.device.id)
    assert device_of(desk, paired.token) is None
    assert list_devices(desk)[0].revoked_at
    with desk.book.reading() as c:
        assert paired.token not in str(c.exec_driver_sql("SELECT * FROM device").all())
    assert qr_svg("http://192.0.2.7:8480/in").startswith(b"<svg")


def test_codes_cannot_be_guessed_by_trying() -> None:
    now = 0.0
    pairing = Pairing(clock=lambda: now)
    code = pairing.begin().code
    wrong = f"{(int(code) + 1) % 10**8:08d}"
    assert not any(pairing.accept(wrong) for _ in range(5))
    assert not pairing.accept(code), "void after five wrong ones"
    assert pairing.wait() > 0
    code = pairing.begin().code
    assert not pairing.accept(code), "and nobody may try for a while"
    now = 31.0
    assert pairing.accept(code)
    late = pairing.begin().code
    now = 700.0
    assert not pairing.accept(late), "ten minutes are over"


def filled(desk: Desk, demo: str) -> None:
    save_entry(desk, ANSEL, Entry("e1", demo, 1, (Change("readings.tapes[start=A,end=B].reads", "53 3/8"),)))
    save_entry(desk, BERIT, Entry("e2", demo, 1, (Change("readings.tapes[start=A,end=B].reads", "53 5/8"),)))
    add_photo(desk, demo, jpeg(gps=True), "north.jpg", "loose stone")
    issue_paper(desk, ANSEL, demo, "summary")
    set_state(desk, demo, "quoted")


def test_an_exported_job_comes_in_as_it_was(desk: Desk, demo: str, tmp_path: Path, clock: Any) -> None:
    filled(desk, demo)
    data = export_job(desk, demo)
    with zipfile.ZipFile(io.BytesIO(data)) as box:
        assert box.read("job.toml").decode() == plan_of(desk, demo).text
        assert b"Exif" not in box.read(f"photos/{list_photos(desk, demo)[0].id}.jpg")
    other = open_desk(tmp_path / "other.book", clock=clock)
    row = import_job(other, BERIT, data)
    assert row == find_job(desk, demo)
    assert history(other, demo) == history(desk, demo)
    assert issued_papers(other, demo) == issued_papers(desk, demo)
    assert list_photos(other, demo)[0].note == "loose stone"
    again = zipfile.ZipFile(io.BytesIO(export_job(other, demo))).namelist()
    assert again == zipfile.ZipFile(io.BytesIO(data)).namelist()
    beside = import_job(other, BERIT, data)
    assert not isinstance(beside, Problem)
    assert beside.id != demo
    assert list_jobs(other).count == 2
    other.close()


def packed(**files: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as box:
        for name, data in files.items():
            box.writestr(name, data)
    return out.getvalue()


@pytest.mark.parametrize(
    "data",
    [
        b"not a zip",
        packed(**{"../../etc/passwd": b"x"}),
        packed(**{"/abs.toml": b"x"}),
        packed(**{"job.toml": b" " * 9_000_000, "book.toml": b"form = 1"}),
        packed(**{"book.toml": b"form = 1\nid = 'x'", "job.toml": b"\xff\xfe"}),
        packed(**{"book.toml": b"form = 99"}),
        packed(**{"book.toml": b"form = 1", "job.toml": b"title='x'", "photos.toml": b"photos=[{id='q'}]"}),
        packed(**{"book.toml": b"form = 1", "job.toml": b"title='x'", "photos/q.jpg": huge_png()}),
        packed(**{"book.toml": b"form = 1", "job.toml": b"t='x'", "papers.toml": b"papers=[{id='q',number='1',sha256='0'}]"}),
    ],
    ids=["no zip", "traversal", "absolute", "bomb", "no text", "newer", "no photo", "huge photo", "altered paper"],
)
def test_a_hostile_file_changes_nothing(desk: Desk, data: bytes) -> None:
    refused = import_job(desk, BERIT, data)
    assert isinstance(refused, Problem)
    assert refused.remedy
    assert list_jobs(desk).count == 0


def test_a_backup_is_a_book_and_brings_everything_back(desk: Desk, demo: str, tmp_path: Path, clock: Any) -> None:
    filled(desk, demo)
    counts = back_up(desk, tmp_path / "saved.book")
    assert (counts["revision"], counts["photo"], counts["issued"], counts["conflict"]) == (3, 1, 1, 1)
    assert sqlite3.connect(tmp_path / "saved.book").execute("PRAGMA integrity_check").fetchone() == ("ok",)
    with pytest.raises(BookError, match="not empty"):
        restore_book(desk, tmp_path / "saved.book")
    with pytest.raises(BookError, match="already"):
        back_up(desk, tmp_path / "saved.book")
    empty = open_desk(tmp_path / "empty.book", clock=clock)
    assert restore_book(empty, tmp_path / "saved.book") == counts
    assert export_job(empty, demo) == export_job(desk, demo)
    empty.close()


def test_a_backup_comes_back_into_either_database(desk: Desk, tmp_path: Path, clock: Any) -> None:
    source = open_desk(tmp_path / "source.book", clock=clock)
    begin_from_text(source, ANSEL, "demo", open_demo().text)
    filled(source, "demo")
    back_up(source, tmp_path / "saved.book")
    restore_book(desk, tmp_path / "saved.book")
    assert export_job(desk, "demo") == export_job(source, "demo")
    source.close()


def test_a_clock_that_jumps_loses_nothing_and_mixes_nothing_up(desk: Desk, demo: str, clock: Any) -> None:
    for days, reading in ((400, "53"), (-800, "54"), (3, "55")):
        clock.on(days=days)
        save_entry(desk, ANSEL, Entry(f"e{days}", demo, 99, (Change("readings.tapes[start=A,end=B].reads", reading),)))
    assert [r.number for r in history(desk, demo)] == [4, 3, 2, 1]
    assert 'start = "A", end = "B", reads = "55"' in plan_of(desk, demo, cut_list=False).text


def test_planning_goes_on_when_a_planning_process_is_killed(tmp_path: Path) -> None:
    def kill() -> None:
        for process in list(desk.planner._workers.all[0].ready()._processes.values()):
            process.kill()
            process.join()

    desk = open_desk(tmp_path / "jobs.book", planners=1)
    begin_from_text(desk, ANSEL, "demo", open_demo().text)
    assert plan_of(desk, "demo", cut_list=False).planned is not None
    kill()
    save_entry(desk, ANSEL, Entry("e1", "demo", 1, (Change("cap.edge_board", "2x4"),)))
    assert plan_of(desk, "demo", cut_list=False).planned is not None
    (_, planned), pictures = desk.planner.drawn(open_demo().text, "cap-plan")
    kill()
    assert planned is not None
    assert [one.name for one in pictures()] == ["cap-plan"], "drawn though its process was gone by then"
    assert desk.planner.drawn(open_demo().text, "cap-plan")[1]() is pictures(), "drawn once"
    desk.close()


def test_papers_handed_out_at_one_moment_get_numbers_of_their_own(desk: Desk) -> None:
    for k in range(4):
        begin_job(desk, ANSEL, f"j{k}", f"Stack {k}")
    with ThreadPoolExecutor(4) as pool:
        made = list(pool.map(lambda k: keep_issued(desk, f"j{k % 4}", 1, "quote", b"%PDF", "{}"), range(12)))
    assert sorted(row.number for row in made) == [f"2026-{n:04d}" for n in range(1, 13)]
