"""Words on pages: days as people write them where the browser is, and problems by the names that things have on the pages."""

from __future__ import annotations

import html
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


US_MEASURE = r"\d ?(?:°F|F|psi|psf|mph|lbf|in\.|ft)(?![a-z/])"
BOTH_WAYS = rf"{US_MEASURE}\s*\([^)]*\)"
WITH_US_NAMES = (
    "that a 1/2 in.",
    "eave 10 ft",
    "close within",
)  # a size of bar sold by the inch, what was typed, what the tape itself read


def words_of(client: TestClient, address: str, *, workings: bool = True) -> str:
    """A page's own words: no list of sheets, no drawing, no select (its options may name bags and slumps of both systems)."""
    text = client.get(address).text
    for left_out in (
        r"<nav.*?</nav>",
        r"<svg.*?</svg>",
        r"<select.*?</select>",
        r"<small>.*?</small>",
        r"<(?:script|style).*?</\1>",
    ):
        text = re.sub(left_out.replace(r"\1", "(?:script|style)"), " ", text, flags=re.DOTALL)
    text = re.sub(r'<div class="working">.*?</div>', " ", text, flags=re.DOTALL) if not workings else text
    placeholders = " ".join(re.findall(r'placeholder="([^"]*)"', text))
    return f"{html.unescape(re.sub(r'<[^>]*>', ' ', text))} {placeholders}"


@pytest.mark.parametrize("page", ["", "/cap", "/form", "/pour", "/rules"])
def test_a_job_that_became_metric_is_told_in_metric(client: TestClient, desk: Desk, page: str) -> None:
    put(desk, Change("units", "metric"))
    said = re.sub(BOTH_WAYS, "", words_of(client, f"/job/sample{page}", workings=False))
    assert "mm" in said or page == "/pour"
    found = [said[max(m.start() - 40, 0) : m.end()] for m in re.finditer(US_MEASURE, said)]
    assert [words for words in found if not any(name in words for name in WITH_US_NAMES)] == []


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize("page", ["", "/cap", "/form", "/pour", "/days", "/rules", "/about", "/papers"])
def test_no_page_shows_a_raw_number_or_two_full_stops(client: TestClient, desk: Desk, page: str, units: str) -> None:
    put(desk, Change("units", units), Change("notes", "none"))
    said = words_of(client, f"/job/sample{page}")
    for raw in (r"\d\.\d{7,}", r"\d (?:rad|m2K/W|m3|m2)\b", r"[a-z]\.\.(?!\.)", r"\bbare_numbers\b"):
        assert re.findall(rf".{{0,40}}{raw}", said) == []
