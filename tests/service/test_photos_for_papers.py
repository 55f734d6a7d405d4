"""Photos on papers: kept at the size of a paper when they enter the book; those that came before are made small on the way."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import Image

from crownwright.book.photos import PhotoRow
from crownwright.book.schema import PHOTO
from crownwright.service.desk import photos_for_papers as asked
from crownwright.service.desk.add_photo import add_photo
from crownwright.service.desk.begin_job import begin_from_text
from crownwright.service.desk.model import By
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.pictures import PRINTED
from crownwright.service.open_job import open_demo
from crownwright.service.photos_named import photos_named


def photo(turned: int = 6) -> bytes:
    """A picture 1500 by 1000 as the camera lay, its left end dark; Exif says how it is to be turned (6: a quarter clockwise)."""
    picture = Image.new("RGB", (1500, 1000), "white")
    picture.paste("black", (0, 0, 300, 1000))
    exif = Image.Exif()
    exif[0x0112] = turned
    out = io.BytesIO()
    picture.save(out, "JPEG", exif=exif)
    return out.getvalue()


def test_a_photo_goes_on_papers_as_it_was_kept(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    begin_from_text(desk, By("Ansel"), "demo", open_demo().text)
    row = add_photo(desk, "demo", photo(), note="north side")
    assert isinstance(row, PhotoRow)
    with monkeypatch.context() as m:
        m.setattr("PIL.Image.Image.thumbnail", None)  # nothing is made small any more
        (kept,) = asked.photos_for_papers(desk, "demo")
    with desk.book.writing() as c:
        c.execute(PHOTO.update().values(printed=None))  # as in a book from before
    (old,) = asked.photos_for_papers(desk, "demo")
    for one in (kept, old):
        assert (one.wide, one.high, one.says) == (round(PRINTED * 2 / 3), PRINTED, "north side")
        shown = Image.open(io.BytesIO(one.data))
        assert shown.size == (one.wide, one.high)
        grey = shown.convert("L")
        assert (grey.getpixel((300, 20)) < 40, grey.getpixel((300, 1000)) > 200) == (True, True), "the dark end is on top"
        assert not shown.getexif()


def test_photos_named_by_file_are_turned_and_made_small_at_once(tmp_path: Path) -> None:
    for turned in range(1, 9):
        (tmp_path / f"{turned}.jpg").write_bytes(photo(turned))
    named = [(tmp_path / f"{turned}.jpg", str(turned)) for turned in range(1, 9)]
    photos, problems = photos_named(named)
    assert problems == ()
    dark = {}
    for one in photos:
        shown = Image.open(io.BytesIO(one.data)).convert("L")
        ends = {"left": (20, 300), "right": (shown.width - 20, 300), "top": (300, 20), "bottom": (300, shown.height - 20)}
        dark[one.says] = [end for end, at in ends.items() if shown.getpixel(at) < 40]
        assert max(one.wide, one.high) == PRINTED
    assert [end for (end,) in dark.values()] == ["left", "right", "right", "left", "top", "top", "bottom", "bottom"]
