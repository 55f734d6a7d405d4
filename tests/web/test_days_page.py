"""The days: told at once that they are being worked out, and there when they are; no other page waits for them."""

from __future__ import annotations

import re
import threading
from collections.abc import Iterator
from typing import Any

import pytest
from starlette.testclient import TestClient
from tests.web.conftest import HOME, token

from crownwright.service.desk import days_of
from crownwright.service.desk.model import By
from crownwright.service.desk.open_desk import Desk, open_desk
from crownwright.service.desk.sample import lay_in_sample
from crownwright.web.app import build_app


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """The sample as it is laid in, one for all that only look: its days are seconds' work."""
    from datetime import UTC, datetime

    desk = open_desk(tmp_path_factory.mktemp("sample") / "jobs.book", clock=lambda: datetime(2026, 5, 3, 12, 0, tzinfo=UTC))
    lay_in_sample(desk, By("E. Marr"))
    yield desk
    desk.close()


def client_of(desk: Desk, patience: float) -> TestClient:
    app = build_app(desk, owner="E. Marr", patience=patience)
    return TestClient(app, HOME, client=("127.0.0.1", 50000), follow_redirects=False)


def test_the_days_are_told_as_coming_and_nothing_waits_for_them(sample: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    held, really = threading.Event(), days_of.plan_the_days

    def slowly(*args: Any) -> Any:
        assert held.wait(60)
        return really(*args)

    monkeypatch.setattr(days_of, "plan_the_days", slowly)
    with client_of(sample, 0.01) as client:
        for page in ("days", "pour-day", "history/days?one=1&other=1"):
            text = client.get(f"/job/sample/{page}").text
            assert "being worked out" in text, page
            assert re.search(r'<noscript><meta http-equiv="refresh" content="\d"></noscript>', text), page
            asked = re.search(r'data-coming="([^"]+)"', text)
            assert asked, page
            assert client.get(asked[1].replace("&amp;", "&")).status_code == 202
            assert client.get("/").status_code == 200
        held.set()
        assert days_of.days_of(sample, "sample").told is not None
        assert client.get("/job/sample/days?part=days").status_code == 200
        assert "data-coming" not in client.get("/job/sample/days").text


def test_what_failed_is_told_once_and_then_tried_anew(desk: Desk) -> None:
    tried = []

    def fails() -> int:
        tried.append(1)
        if len(tried) == 1:
            raise RuntimeError("out of memory")
        return 7

    with pytest.raises(RuntimeError):
        desk.planner.begin("key", fails).result(10)
    with pytest.raises(RuntimeError):
        desk.planner.begin("key", fails).result(10)
    assert desk.planner.begin("key", fails).result(10) == 7


def test_the_sample_shows_days_a_clock_and_papers_of_them_from_the_first_minute(sample: Desk) -> None:
    with client_of(sample, 60) as client:
        days = client.get("/job/sample/days").text
        assert "First batch Fri 8 May, 07:00" in days
        assert "invented-for-the-sample.csv" in days
        pour_day = client.get("/job/sample/pour-day").text
        assert "Next: " in pour_day
        assert "Fri 8 May" in pour_day
        assert token(client, "/job/sample/days")


def test_papers_of_the_days_are_handed_out_under_numbers_and_those_of_the_log_once_there_is_one(sample: Desk) -> None:
    with client_of(sample, 60) as client:
        papers = client.get("/job/sample/papers").text
        assert "/papers/pour-log/hand-out" not in papers
        form = {"form_token": token(client)}
        refused = client.post("/job/sample/papers/pour-log/hand-out", data=form | {"id": "log0"})
        assert refused.status_code == 422
        assert "nothing is logged yet" in refused.text
        log = form | {"list": "batches", "log:bags": "2", "log:water": "6 qt", "log:temperature": "66 F"}
        assert client.post("/job/sample/pour-day/log", data=log | {"id": "b1", "log:at": "2026-05-08T07:12"}).status_code == 303
        event = form | {"list": "events", "log:what": "struck off", "log:note": "ready early", "log:at": "2026-05-08T09:20"}
        assert client.post("/job/sample/pour-day/log", data=event | {"id": "v1"}).status_code == 303
        for paper in ("batch-card", "cure-card-now", "pour-log"):
            assert f"/papers/{paper}/hand-out" in client.get("/job/sample/papers").text
            for _ in range(2):  # sent twice, it is handed out once
                sent = client.post(f"/job/sample/papers/{paper}/hand-out", data=form | {"id": f"p-{paper}"})
                assert sent.status_code == 303
        listed = client.get("/job/sample/papers").text
        for name in ("Batch card", "Cure card, as it is now", "Pour log"):
            assert f"<td>{name}</td>" in listed
        assert listed.count("/issued/") == 3
        text = words_of(client.get("/job/sample/issued/p-pour-log.pdf").content)
        for said in ("Fri 8 May, 07:12", "6.0 qt", "66 °F", "struck off", "ready early", "2 of ", "not logged"):
            assert said in text, said


def words_of(pdf: bytes) -> str:
    """The text of a PDF, as a reader that knows nothing of us takes it out."""
    import pypdfium2

    return " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in pypdfium2.PdfDocument(pdf))
