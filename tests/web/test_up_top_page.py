"""The roof page without a script: what a plain form posts, and what it says."""

from __future__ import annotations

import html
import json
import re
from dataclasses import replace

import pytest
from starlette.testclient import TestClient
from tests.web.conftest import token

from crownwright.quantity.problems import Problem
from crownwright.service.desk.begin_job import begin_job
from crownwright.service.desk.model import By
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.up_top_of import up_top_of
from crownwright.web.pages import up_top as up_top_page

BY = By("E. Marr")


def form(client: TestClient, job: str, at: str) -> dict[str, str]:
    """The hidden fields of the form that asks for a reading."""
    page = client.get(f"/job/{job}/up-top", params={"at": at}).text
    whole = re.search(r'<form id="typed".*?</form>', page, re.DOTALL)
    assert whole
    return {name: html.unescape(value) for name, value in re.findall(r'type="hidden" name="([^"]+)" value="([^"]*)"', whole[0])}


def test_a_reading_is_kept_by_a_plain_form_and_the_next_is_asked(client: TestClient, desk: Desk) -> None:
    begin_job(desk, BY, "new", "Mill House")
    sent = form(client, "new", "")
    assert sent["step"] == "tape:A-B"
    answer = client.post("/job/new/up-top", data=sent | {"reads": "45 3/4"})
    assert (answer.status_code, answer.headers["location"]) == (303, "/job/new/up-top")
    assert "Tape B to C" in client.get("/job/new/up-top").text
    client.post("/job/new/up-top", data=sent | {"reads": "45 3/4"})
    assert up_top_of(desk, "new").revision == 2


def test_what_another_typed_meanwhile_is_not_put_over(client: TestClient, desk: Desk) -> None:
    sent = form(client, "sample", "tape:A-B")
    client.post("/job/sample/up-top", data=form(client, "sample", "tape:A-B") | {"reads": "46"})
    desk_token = token(client)
    late = sent | {"reads": "45", "before": json.dumps({"start": "A", "end": "B", "reads": "50"}), "form_token": desk_token}
    client.post("/job/sample/up-top", data=late)
    step = up_top_of(desk, "sample").top.step("tape:A-B")
    assert step is not None
    assert step.says in ("45", "46")


def test_what_is_missing_is_asked_for_and_what_was_typed_stands(client: TestClient) -> None:
    sent = form(client, "sample", "drop:highest")
    answer = client.post("/job/sample/up-top", data=sent | {"side": "AB", "along": "43 1/2", "inward": "", "below": ""})
    assert answer.status_code == 422
    assert "Still wanted: down to the stone" in answer.text
    assert 'value="43 1/2"' in answer.text


def test_a_wrong_length_is_kept_as_typed_and_told(client: TestClient) -> None:
    client.post("/job/sample/up-top", data=form(client, "sample", "tape:A-B") | {"reads": "45 3 4"})
    page = client.get("/job/sample/up-top?at=tape:A-B").text
    assert "45 3 4" in page
    assert "Kept as typed, but" in page


def test_trying_a_reading_keeps_nothing(client: TestClient, desk: Desk) -> None:
    tried = {"step": "tape:A-C", "values": {"reads": "69 1/4"}}
    answer = client.post("/job/sample/up-top", json=tried, headers={"x-form-token": token(client)}).json()
    assert answer["closes"] is False
    assert "do not close" in answer["says"][0]
    assert up_top_of(desk, "sample").revision == 1


def test_what_is_wrong_with_no_one_reading_is_told_by_its_name(
    client: TestClient, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A place of the file (counted from 1 there) is none that a mason knows."""
    of = up_top_of(desk, "sample")
    told = (Problem("flues.1.tape", "it misses", "Tape it"), Problem("line 9, readings.drops", "two are the highest", "Mark one"))
    monkeypatch.setattr(up_top_page, "up_top_of", lambda *_: replace(of, top=replace(of.top, problems=told)))
    notes = re.findall(r'<p class="note bad">(.*?)</p>', client.get("/job/sample/up-top").text)
    assert notes == ["Flue 1: tape: it misses. Tape it.", "Two are the highest. Mark one."]


def test_nonsense_is_refused(client: TestClient) -> None:
    for raw in (
        [],
        {"step": 3},
        {"step": "tape:A-B", "values": {"reads": 7}},
        {"step": "tape:A-B", "values": {"reads": "9" * 200}},
    ):
        assert client.post("/job/sample/up-top", json=raw, headers={"x-form-token": token(client)}).status_code == 422


def test_a_doorstep_job_begins_its_readings(client: TestClient, desk: Desk) -> None:
    begin_job(desk, BY, "door", "Doorstep", kind="doorstep")
    assert "Begin the readings" in client.get("/job/door/up-top").text
    client.post("/job/door/up-top/begin", data={"form_token": token(client), "id": "b-1"})
    assert up_top_of(desk, "door").top.next == "tape:A-B"


def test_names_that_mean_to_be_markup_are_text(client: TestClient, desk: Desk) -> None:
    begin_job(desk, BY, "odd", "Odd")
    token_ = token(client)
    change = {"path": "readings.corners", "value": ["A", "<b>", "C", '"><script>']}
    client.post("/job/odd/entries", json={"id": "o-1", "base": 1, "changes": [change]}, headers={"x-form-token": token_})
    page = client.get("/job/odd/up-top").text
    assert "<script>" not in page.replace('<script type="module"', "")
    assert '<b>"' not in page
