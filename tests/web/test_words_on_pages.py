"""Words on pages: days as people write them where the browser is, and problems by the names that things have on the pages."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient
from tests.web.conftest import token

from crownwright.service.desk.keep_work import set_visit
from crownwright.service.desk.model import By, Change, Entry, Saved
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.save_entry import save_entry


def put(desk: Desk, *changes: Change) -> None:
    saved = save_entry(desk, By("E. Marr"), Entry("typed-wrong", "sample", 1, changes))
    assert isinstance(saved, Saved)
    assert not saved.problems


@pytest.mark.parametrize(
    ("accepted", "written"),
    [("en-US,en;q=0.9", "May 13, 2026, 08:30"), ("en-GB", "13 May 2026, 08:30"), ("de-CH,de", "13 May 2026, 08:30")],
)
def test_a_visit_stands_in_the_history_as_people_write_it(client: TestClient, desk: Desk, accepted: str, written: str) -> None:
    set_visit(desk, "sample", "2026-05-13T08:30", By("E. Marr"))
    text = client.get("/job/sample/history", headers={"accept-language": accepted}).text
    assert f"next visit: {written}, was none" in text.lower().replace("may", "May")
    shown = re.sub(r"<[^>]*>", " ", text)
    assert not re.search(r"\d{4}-\d\d-\d\d", shown)


@pytest.mark.parametrize(
    ("path", "typed", "name", "leads"),
    [
        ("readings.tapes[start=A,end=C].reads", "57 1/x", "Tape AC", "up-top?at=tape:A-C#ask"),
        ("cap.overhang_wanted", "abc", "Overhang to aim at", "cap#cap-overhang_wanted"),
        ("pour.water", "hot", "Temperature of the water", "days#pour-water"),
        ("surroundings.latitude", 144.2, "Where the chimney stands", "days#latitude"),
        ("checks.people.line_away", "far", "Nearest power line, how far", "rules#checks-people-line_away"),
    ],
)
def test_what_was_typed_wrong_is_told_by_its_name_with_a_way_to_its_field(
    client: TestClient, desk: Desk, path: str, typed: object, name: str, leads: str
) -> None:
    put(desk, Change(path, typed))
    for page in ("", "/cap", "/days"):
        text = client.get(f"/job/sample{page}").text
        assert name in text, page
        assert f'href="/job/sample/{leads}"' in text, page
        assert not re.search(r"\bline \d+, ", text), page
    address, _, anchor = leads.partition("#")
    assert f'id="{anchor}"' in client.get(f"/job/sample/{address}").text
    assert token(client)
