"""Photos from the camera: kept, turned upright, marked on the sketch, refused with a word."""

from __future__ import annotations

import io
import re

import pytest
from PIL import Image
from starlette.testclient import TestClient
from tests.web.conftest import token

from crownwright.service.desk.add_photo import list_photos
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.up_top_of import up_top_of

PHOTOS = "/job/sample/photos"


def picture(turned: int = 1, kind: str = "JPEG") -> bytes:
    """A picture 80 wide and 40 high, red at its left; ``turned`` as a camera held on its side marks it (Exif 2.32)."""
    made = Image.new("RGB", (80, 40), "white")
    made.paste("red", (0, 0, 20, 40))
    exif = Image.Exif()
    exif[0x0112] = turned
    out = io.BytesIO()
    made.save(out, kind, exif=exif)
    return out.getvalue()


def sent(client: TestClient, *files: tuple[str, bytes], **fields: str) -> object:
    form = {"form_token": token(client), **fields}
    return client.post(PHOTOS, data=form, files=[("photo", (name, data)) for name, data in files])


def test_a_photo_is_shown_upright_and_without_tags(client: TestClient, desk: Desk) -> None:
    answer = sent(client, ("IMG_1.JPG", picture(turned=6)), note="north face")
    assert answer.status_code == 303  # type: ignore[attr-defined]
    (row,) = list_photos(desk, "sample")
    shown = Image.open(io.BytesIO(client.get(f"{PHOTOS}/{row.id}/upright.jpg").content))
    assert shown.size == (40, 80)
    assert not shown.getexif()
    assert client.get(f"{PHOTOS}/{row.id}/small.jpg").headers["content-type"] == "image/jpeg"
    assert "north face" in client.get(PHOTOS).text


def test_the_same_photo_sent_twice_is_one(client: TestClient, desk: Desk) -> None:
    for _ in range(2):
        answer = client.post(
            PHOTOS,
            data={"id": "p-1", "note": "top"},
            files={"photo": ("a.jpg", picture())},
            headers={"accept": "application/json", "x-form-token": token(client)},
        )
        assert answer.json()["accepted"] is True
    assert len(list_photos(desk, "sample")) == 1


def test_what_is_no_picture_is_refused_with_what_to_do_and_the_note_stands(client: TestClient) -> None:
    answer = sent(client, ("a.jpg", b"<svg onload=alert(1)>"), note="the flue")
    assert answer.status_code == 422  # type: ignore[attr-defined]
    assert "no picture. Send a JPEG" in answer.text  # type: ignore[attr-defined]
    assert 'value="the flue"' in answer.text  # type: ignore[attr-defined]
    headers = {"accept": "application/json", "x-form-token": token(client)}
    refused = client.post(PHOTOS, data={"id": "p-2"}, files={"photo": ("a.jpg", b"")}, headers=headers)
    assert (refused.status_code, refused.json()["accepted"]) == (422, False)


def test_a_touch_on_the_sketch_marks_where_it_was_taken(client: TestClient, desk: Desk) -> None:
    """The picture of the sketch says where corner C lies; touched there, the mark is at C."""
    sent(client, ("a.jpg", picture()))
    (row,) = list_photos(desk, "sample")
    at = f"{PHOTOS}/{row.id}"
    top = client.get(f"{at}/where.svg").text
    found = re.search(r'cx="([\d.]+)" cy="([\d.]+)" r="3.5"/><text[^>]*>C<', top)
    assert found
    form = {"form_token": token(client), "note": "C", "where.x": found[1], "where.y": found[2]}
    assert client.post(at, data=form).status_code == 303
    (row,) = list_photos(desk, "sample")
    sketch = up_top_of(desk, "sample").top.sketch
    assert sketch is not None
    assert (float(row.where_x or 0), float(row.where_y or 0)) == tuple(pytest.approx(c, abs=0.002) for c in sketch.points["C"])
    assert client.post(at, data=form | {"where.x": "9999"}).status_code == 422
    assert client.post(at, data={"form_token": token(client), "note": "C", "unmark": "yes"}).status_code == 303
    assert list_photos(desk, "sample")[0].where_x is None


def test_a_photo_of_another_job_is_not_found_here(client: TestClient, desk: Desk) -> None:
    sent(client, ("a.jpg", picture()))
    (row,) = list_photos(desk, "sample")
    client.post("/doorstep", data={"form_token": token(client), "id": "door", "title": "x", "length": "48", "width": "36"})
    assert client.get(f"/job/door/photos/{row.id}").status_code == 404
    assert client.get(f"/job/door/photos/{row.id}/upright.jpg").status_code == 404
    assert client.get(f"{PHOTOS}/{row.id}/original.jpg").status_code == 404


def test_a_photo_taken_out_can_be_brought_back(client: TestClient, desk: Desk) -> None:
    sent(client, ("a.jpg", picture()))
    (row,) = list_photos(desk, "sample")
    client.post(f"{PHOTOS}/{row.id}", data={"form_token": token(client), "remove": "yes"})
    assert list_photos(desk, "sample") == ()
    assert "Taken out: 1" in client.get(PHOTOS).text
    client.post(f"{PHOTOS}/{row.id}", data={"form_token": token(client), "back": "yes"})
    assert len(list_photos(desk, "sample")) == 1
