"""From the doorstep: five questions, an answer with its spread, and a job of it."""

from __future__ import annotations

import re

from starlette.testclient import TestClient
from tests.web.conftest import token

from crownwright.service.desk.doorstep import SIZES, Answers, doorstep_text, seen_from_the_door
from crownwright.service.desk.list_jobs import list_jobs
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.jobfile import parse_job


def test_no_more_than_eight_entries_are_asked(client: TestClient) -> None:
    page = client.get("/doorstep").text
    names = set(re.findall(r'<input(?![^>]*type="hidden")[^>]* name="([^"]+)"', page))
    assert names - {"title", "customer", "place"} == {"length", "width", "flues", "size", "masonry", "lumpiness"}


def test_length_and_width_give_a_first_answer_with_its_spread(desk: Desk) -> None:
    seen = seen_from_the_door(desk, Answers("48", "3 ft"))
    assert seen.bags is not None
    assert seen.weight is not None
    assert seen.price is not None
    assert int(seen.bags.low) < int(seen.bags.about) < int(seen.bags.high)
    assert seen.own == ""


def test_a_larger_top_takes_more_bags_and_a_wilder_one_a_wider_range(desk: Desk) -> None:
    small, large = (seen_from_the_door(desk, Answers(length, "36")).bags for length in ("40", "60"))
    assert small is not None
    assert large is not None
    assert int(large.about) > int(small.about)
    calm, wild = (seen_from_the_door(desk, Answers("48", "36", lumpiness=lumps)).bags for lumps in ("smooth", "wild"))
    assert calm is not None
    assert wild is not None
    assert int(wild.high) - int(wild.low) > int(calm.high) - int(calm.low)


def test_every_size_and_both_units_make_a_job_without_faults() -> None:
    for size in SIZES:
        for units, length in (("us", "48"), ("metric", "1200")):
            answers = Answers(length, length, 2, size, units=units)  # type: ignore[arg-type]
            assert parse_job(doorstep_text("x", answers))[1] == ()


def test_what_cannot_be_read_is_told_beside_it(client: TestClient) -> None:
    page = client.get("/doorstep?length=4x&width=36").text
    assert "“4x”" in page
    assert 'aria-invalid="true"' in page
    assert client.get("/doorstep?length=48&width=36&flues=99&size=none&masonry=cheese&lumpiness=7&part=seen").status_code == 200


def test_it_turns_into_a_job_once(client: TestClient, desk: Desk) -> None:
    form = {"form_token": token(client), "id": "door-1", "title": "Weir Lane 3", "length": "48", "width": "36", "flues": "2"}
    for _ in range(2):
        assert client.post("/doorstep", data=form).headers["location"] == "/job/door-1"
    assert list_jobs(desk).count == 2
    of = plan_of(desk, "door-1", cut_list=False)
    assert of.planned is not None
    assert of.planned.plan.survey is not None
    assert of.planned.plan.survey.quick
    page = client.post("/doorstep", data=form | {"id": "door-2", "width": ""})
    assert page.status_code == 422
    assert 'value="Weir Lane 3"' in page.text
