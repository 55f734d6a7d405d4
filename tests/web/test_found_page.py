"""What was found, ticked: kept under its trade name where the repair looks for it, and taken off again."""

from __future__ import annotations

from starlette.testclient import TestClient
from tests.web.conftest import token

from crownwright.repair.defects import defects
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.plan_of import plan_of

FOUND = "/job/sample/found"


def seen(desk: Desk) -> set[tuple[str, str, str]]:
    job = plan_of(desk, "sample", cut_list=False).opened.job
    assert job is not None
    return {(one.what, one.face, one.flue) for one in (job.repair.seen if job.repair else ())}


def test_every_kind_that_may_be_found_is_on_the_page(client: TestClient) -> None:
    page = client.get(FOUND).text
    for kind in defects().values():
        assert f"{kind.name.capitalize()}</strong>" in page


def test_ticks_are_kept_and_taken_off(client: TestClient, desk: Desk) -> None:
    names = ("no drip", "open joints|AB", "broken liner top|F1")
    form = {"form_token": token(client), "id": "k-1", "base": "1"}
    ticked = form | {f"was:{name}": "no" for name in names} | {f"tick:{name}": "yes" for name in names}
    assert client.post(FOUND, data=ticked).status_code == 303
    assert seen(desk) == {("no drip", "", ""), ("open joints", "AB", ""), ("broken liner top", "", "F1")}
    off = form | {"id": "k-2", "base": "2", "was:no drip": "yes", "was:open joints|AB": "yes", "tick:open joints|AB": "yes"}
    client.post(FOUND, data=off)
    assert seen(desk) == {("open joints", "AB", ""), ("broken liner top", "", "F1")}


def looked(desk: Desk) -> list[tuple[str, str]]:
    job = plan_of(desk, "sample", cut_list=False).opened.job
    assert job is not None
    return [(one.part, one.how) for one in (job.repair.looked if job.repair else ())]


def test_what_was_looked_at_and_how_is_kept_and_taken_off(client: TestClient, desk: Desk) -> None:
    keys = ("looked|cap|by hand", "looked|faces|from the ground", "looked|faces|close to", "looked|attic|not there")
    form = {"form_token": token(client), "id": "k-1", "base": "1"}
    client.post(FOUND, data=form | {f"was:{key}": "no" for key in keys} | {f"tick:{key}": "yes" for key in keys})
    told = [("cap", "by hand"), ("faces", "from the ground"), ("faces", "close to"), ("attic", "not there")]
    assert looked(desk) == told
    page = client.get(FOUND).text
    assert [f'name="was:{key}" value="yes"' in page for key in keys] == [True] * 4
    client.post(FOUND, data=form | {"id": "k-2", "base": "2", "was:looked|faces|close to": "yes"})
    assert looked(desk) == [told[0], told[1], told[3]]


def test_a_part_that_every_chimney_has_cannot_be_told_as_not_there(client: TestClient) -> None:
    page = client.get(FOUND).text
    assert "tick:looked|attic|not there" in page
    assert "tick:looked|cap|not there" not in page


def test_what_is_no_name_is_not_kept(client: TestClient, desk: Desk) -> None:
    client.post(FOUND, data={"form_token": token(client), "id": "k-3", "base": "1", "was:x]y": "no", "tick:x]y": "yes"})
    assert seen(desk) == set()
    assert plan_of(desk, "sample").row.head == 1
