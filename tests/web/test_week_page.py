"""The week, the calls and the calendar of all jobs; forecast against actual with no job, with one, and as pictures."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Any

import icalendar
from starlette.testclient import TestClient

from crownwright.service.desk.begin_job import begin_from_text
from crownwright.service.desk.keep_work import set_state, set_visit
from crownwright.service.desk.kept_lessons import kept_lessons
from crownwright.service.desk.model import By
from crownwright.service.desk.open_desk import Desk
from crownwright.service.learn_from_jobs import lessons
from crownwright.service.open_job import open_demo
from crownwright.web.views.lessons import EDGE, SQUARE, chances_of, course_of, things_of

ME = By("E. Marr")


def begun(desk: Desk, job: str, title: str, more: str = "", state: Any = "agreed") -> str:
    text = open_demo().text.replace("Weir Cottage, kitchen stack", title)
    begin_from_text(desk, ME, job, text + more)
    set_state(desk, job, state)
    return job


def test_the_week_shows_every_job_its_clashes_and_whom_to_call(desk: Desk, client: TestClient) -> None:
    today = desk.clock().date()
    for job, title in (("a", "Mill <Row>"), ("b", "Kiln Lane")):
        begun(desk, job, title, f'\n[day]\nzone = "America/New_York"\nbegins = "{today}T12:00"\n[quote]\nphone = "555 0142"\n')
    set_visit(desk, begun(desk, "c", "Tithe Barn"), today.isoformat())
    page = client.get("/week").text
    assert "Pour: Mill &lt;Row&gt; and Pour: Kiln Lane: at the same time" in page
    assert 'href="/job/a"' in page
    assert 'href="tel:5550142"' in page, "kept wet tomorrow"
    assert "Visit: Tithe Barn" in page
    later = client.get("/week", params={"from": "2031-01-06"}).text
    assert "No visit in this week" in later
    for odd in ("soon", "9999-12-31", "0001-01-01", "2026-02-30"):
        assert "at the same time" in client.get("/week", params={"from": odd}).text, "this week instead"
    events = icalendar.Calendar.from_ical(client.get("/week/visits.ics").content).walk("VEVENT")
    assert {str(e["SUMMARY"]) for e in events} >= {"Pour: Mill <Row>", "Pour: Kiln Lane", "Visit: Tithe Barn"}


def test_an_empty_book_has_an_empty_week_and_no_calendar(client: TestClient) -> None:
    assert "No visit in this week" in client.get("/week").text
    assert client.get("/week/visits.ics").status_code == 404
    page = client.get("/finished").text
    assert "No job is poured yet" in page
    assert "Take this into prices" not in page


def test_what_a_job_took_is_told_on_the_page_and_taken_into_prices(desk: Desk, client: TestClient) -> None:
    job = begun(desk, "a", "Mill Row", state="poured")
    page = client.get("/finished").text
    assert "No finished job says yet what it took" in page
    form = re.search(r'<form method="post" action="/job/a/entries">.*?</form>', page, re.DOTALL)
    assert form is not None
    sent = dict(re.findall(r'name="([^"]+)" value="([^"]*)"', form[0]))
    assert client.post(f"/job/{job}/entries", data=sent | {"number:quote.done.bags": "15", "number:quote.done.hours": "30.5"})
    page = client.get("/finished").text
    assert page.count("<circle") == 2
    assert "Too few jobs to say" in page
    assert "too few to judge" in page
    assert "Told already" in page
    token = re.search(r'name="form_token" value="([^"]+)"', page)
    assert token is not None
    client.post("/finished/keep", data={"form_token": token[1]})
    kept = kept_lessons(desk)
    assert kept is not None
    assert [job.actual for job in kept.jobs["hours"]] == [30.5]
    assert "Prices take their hours from these jobs" in client.get("/finished").text


def csv(ratios: list[float]) -> str:
    rows = [f"Job {n},bags,10,{10 * ratio}," for n, ratio in enumerate(ratios)]
    return "job,what,forecast,actual,spread\n" + "\n".join(rows)


def test_pictures_of_what_was_learned() -> None:
    found, _ = lessons(csv([1.05, 1.1, 0.98, 1.02, 10.4, 1.07, 1.01, 1.12, 1.0, 1.06]))
    assert found is not None
    (thing,) = things_of(found)
    course = thing.course
    assert [dot.aside for dot in course.dots].index(True) == 4
    counted = [dot for dot in course.dots if not dot.aside]
    assert max(counted, key=lambda dot: dot.y).says.startswith("Job 2:"), "the least taken lies lowest"
    line = [tuple(map(float, point.split(","))) for point in course.believed.split()]
    assert line[0][1] == course.even, "before the first job the defaults hold"
    assert line[-1][1] < course.even, "this mason takes more"
    assert thing.chances is not None
    assert thing.chances.count == 9
    assert all("Not counted" in line for line in thing.aside)
    assert course_of(found.told["bags"][:1], 1.0).count == 1


def test_the_steps_climb_from_corner_to_corner_within_what_was_counted() -> None:
    found, _ = lessons(csv([1.0 + 0.01 * n for n in range(-6, 7)]))
    assert found is not None
    chances = chances_of(found.told["bags"])
    assert chances is not None
    points = [tuple(map(float, point.split(","))) for point in chances.steps.split()]
    assert points[0] == (EDGE, SQUARE - EDGE)
    assert points[-1] == (SQUARE - 8, 8)
    assert all(a[0] <= b[0] and a[1] >= b[1] for a, b in pairwise(points))
    low, _ = lessons(csv([1.0] * 3))
    assert low is not None
    assert chances_of(low.told["bags"]) is None
