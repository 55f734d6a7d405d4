"""The one way values change: what a script or a form sends, how it is answered."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient
from tests.web.conftest import token

from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.plan_of import plan_of

ENTRIES = "/job/sample/entries"


def sent(client: TestClient, entry: dict[str, object]) -> object:
    return client.post(ENTRIES, json=entry, headers={"x-form-token": token(client)}).json()


def overhang(desk: Desk) -> object:
    from crownwright.service.jobfile.syntax import parse_toml

    return parse_toml(plan_of(desk, "sample").text, "").values.get("cap", {}).get("overhang_wanted")


def test_an_entry_is_kept_once_however_often_it_is_sent(client: TestClient, desk: Desk) -> None:
    entry = {"id": "e-1", "base": 1, "changes": [{"path": "cap.overhang_wanted", "value": "4 1/2"}]}
    first, again = sent(client, entry), sent(client, entry)
    assert first == {"accepted": True, "revision": 2, "again": False, "conflicts": [], "problems": []}
    assert again == first | {"again": True}
    assert str(overhang(desk)) == "4 1/2"


def test_an_entry_that_cannot_be_kept_says_why(client: TestClient) -> None:
    answer = client.post(ENTRIES, json={"id": "!", "changes": []}, headers={"x-form-token": token(client)})
    assert answer.status_code == 422
    assert answer.json()["accepted"] is False
    assert answer.json()["remedy"]


def test_a_form_sends_only_what_was_changed(client: TestClient, desk: Desk) -> None:
    form = {
        "form_token": token(client), "id": "f-1", "base": "1", "back": "/job/sample/cap",
        "set:cap.overhang_wanted": "4", "was:cap.overhang_wanted": "",
        "set:place": "Oldbarrow", "was:place": "Oldbarrow",
        "set:customer": "", "was:customer": "R. Tallow",
        "item:readings.tapes[+]:start": "A", "item:readings.tapes[+]:end": "C", "item:readings.tapes[+]:reads": "57 1/4",
    }  # fmt: skip
    answer = client.post(ENTRIES, data=form)
    assert (answer.status_code, answer.headers["location"]) == (303, "/job/sample/cap")
    row = plan_of(desk, "sample").row
    assert (row.head, row.place, row.customer) == (2, "Oldbarrow", "")
    assert str(overhang(desk)) == "4"
    assert "tapes = [" in plan_of(desk, "sample").text


def test_a_form_in_which_nothing_was_changed_makes_no_revision(client: TestClient, desk: Desk) -> None:
    form = {"form_token": token(client), "id": "f-1", "base": "1", "set:place": "Oldbarrow", "was:place": "Oldbarrow"}
    client.post(ENTRIES, data=form)
    assert plan_of(desk, "sample").row.head == 1
    assert "Nothing was changed" in client.get("/").text
    assert "Nothing was changed" not in client.get("/").text


@pytest.mark.parametrize("back", ["https://elsewhere.example", "//elsewhere.example", "/\\elsewhere.example", "javascript:1"])
def test_a_form_sends_nobody_to_another_site(client: TestClient, back: str) -> None:
    form = {"form_token": token(client), "id": "f-1", "base": "1", "back": back}
    assert client.post(ENTRIES, data=form).headers["location"] == "/job/sample"
