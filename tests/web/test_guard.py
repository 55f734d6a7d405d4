"""The door: who is answered, who may come in, what may be sent, what every answer carries."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient
from tests.web.conftest import HOME, token

from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.pair_device import begin_pairing, list_devices, revoke_device
from crownwright.web.app import build_app

LAN = "http://192.0.2.10:8470"


@pytest.fixture
def phone(desk: Desk) -> Iterator[TestClient]:
    """Somebody on the network, not let in."""
    app = build_app(desk, lan=True, hosts=("192.0.2.10",), owner="E. Marr", homes=("http://192.0.2.10:8470",))
    with TestClient(app, LAN, client=("192.0.2.77", 40000), follow_redirects=False) as client:
        yield client


def let_in(phone: TestClient, desk: Desk, name: str = "Ed's phone") -> None:
    form = {"form_token": token(phone, "/pair"), "code": begin_pairing(desk).code, "name": name}
    assert phone.post("/pair", data=form).headers["location"] == "/"


@pytest.mark.parametrize("path", ["/", "/job/sample", "/nowhere", "/devices"])
def test_every_answer_carries_the_policy_and_lets_no_script_stand_in_a_page(client: TestClient, path: str) -> None:
    answer = client.get(path)
    policy = answer.headers["content-security-policy"]
    assert policy.startswith("default-src 'none'")
    assert "unsafe" not in policy
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["referrer-policy"] == "same-origin"
    assert not re.search(r"<script(?![^>]* src=)|<style|\son\w+=|\sstyle=|javascript:", answer.text)


def test_the_session_is_kept_from_scripts_and_from_other_sites(client: TestClient) -> None:
    cookie = client.get("/").headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Lax" in cookie


@pytest.mark.parametrize("host", ["evil.example", "evil.example:8470", "localhost.evil.example", "", "[::1", "192.0.2.10"])
def test_a_name_that_is_not_this_machines_is_not_answered(client: TestClient, host: str) -> None:
    assert client.get("/", headers={"host": host}).status_code == 421


@pytest.mark.parametrize("host", ["localhost:8470", "127.0.0.1", "[::1]:8470", "LOCALHOST"])
def test_this_machines_names_are_answered(client: TestClient, host: str) -> None:
    assert client.get("/", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": "http://localhost:9999"},
        {"origin": "https://localhost"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ],
)
def test_what_another_site_sends_is_refused_even_with_the_token(client: TestClient, headers: dict[str, str]) -> None:
    answer = client.post("/job/sample/entries", data={"form_token": token(client)}, headers=headers)
    assert answer.status_code == 403


@pytest.mark.parametrize("sent", ["", "0" * 64, "é"])
def test_nothing_changes_without_the_token_of_the_session(client: TestClient, desk: Desk, sent: str) -> None:
    client.get("/")
    entry = {"id": "e", "base": 1, "changes": [{"path": "place", "value": "Elsewhere"}]}
    headers = {b"x-form-token": sent.encode()}
    assert client.post("/job/sample/entries", json=entry, headers=headers).status_code == 403


def test_a_token_of_another_session_does_not_serve(client: TestClient, desk: Desk) -> None:
    with TestClient(client.app, HOME, client=("127.0.0.1", 1)) as other:
        theirs = token(other)
    assert theirs != token(client)
    assert client.post("/job/sample/entries", data={"form_token": theirs}).status_code == 403


def test_a_token_outlives_a_restart(client: TestClient, desk: Desk) -> None:
    mine = token(client)
    with TestClient(build_app(desk), HOME, client=("127.0.0.1", 1), cookies=client.cookies) as after:
        assert token(after) == mine


def test_too_much_is_not_read(client: TestClient) -> None:
    assert client.post("/job/sample/entries", content=b"x" * 1_000_001).status_code == 413

    def untold() -> Iterator[bytes]:
        yield from (b"x" * 100_000 for _ in range(11))

    headers = {"content-type": "application/json"}
    assert client.post("/job/sample/entries", content=untold(), headers=headers).status_code == 413


def test_text_that_is_no_json_is_told_so(client: TestClient) -> None:
    headers = {"content-type": "application/json", "x-form-token": token(client), "accept": "application/json"}
    for content in (b"{", b"[" * 100_000, b"\xff\xfe"):
        answer = client.post("/job/sample/entries", content=content, headers=headers)
        assert answer.status_code == 400
        assert answer.json()["accepted"] is False


def test_a_fault_of_the_program_is_told_in_the_look_of_the_house_and_gives_back_what_was_typed(
    client: TestClient, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    from crownwright.web.pages import entries

    def broken(*_: object) -> None:
        raise RuntimeError("told to nobody")

    monkeypatch.setattr(entries, "save_entry", broken)
    form = {"form_token": token(client), "id": "f", "set:place": "Under <Oak> Hill", "was:place": ""}
    answer = client.post("/job/sample/entries", data=form)
    assert answer.status_code == 500
    assert "Under &lt;Oak&gt; Hill" in answer.text
    assert "told to nobody" not in answer.text
    assert "told to nobody" in caplog.text
    assert answer.headers["content-security-policy"]


def test_a_stranger_on_the_network_sees_the_door_only(phone: TestClient) -> None:
    assert phone.get("/", headers={"accept": "text/html"}).headers["location"] == "/pair"
    for path in ("/", "/job/sample", "/devices", "/nowhere"):
        answer = phone.get(path, headers={"accept": "*/*"})
        assert answer.status_code == 401
        assert "Weir Cottage" not in answer.text
        assert "Marr" not in answer.text
    assert phone.post("/job/sample/entries", data={"form_token": token(phone, "/pair")}).status_code == 401
    assert phone.post("/devices/code", data={"form_token": token(phone, "/pair")}).status_code == 401
    assert "Marr" not in phone.get("/pair").text


def test_nobody_comes_in_from_the_network_unless_asked_for(desk: Desk) -> None:
    with TestClient(build_app(desk), HOME, client=("192.0.2.77", 1), follow_redirects=False) as stranger:
        assert stranger.get("/", headers={"accept": "text/html"}).status_code == 401
        assert stranger.get("/pair").status_code == 401


def test_a_phone_comes_in_by_the_code_once_and_is_known_by_its_name(phone: TestClient, desk: Desk) -> None:
    let_in(phone, desk)
    assert "Weir Cottage" in phone.get("/").text
    entry = {"id": "e", "base": 1, "changes": [{"path": "place", "value": "Newbarrow"}]}
    assert phone.post("/job/sample/entries", json=entry, headers={"x-form-token": token(phone)}).json()["accepted"]
    from crownwright.service.desk.revisions_of import history

    assert history(desk, "sample")[0].who == "Ed's phone"


def test_the_address_in_the_picture_alone_lets_nobody_in(phone: TestClient, desk: Desk) -> None:
    code = begin_pairing(desk).code
    assert code in phone.get(f"/pair?code={code}").text
    assert phone.get("/", headers={"accept": "text/html"}).status_code == 303
    assert not list_devices(desk)


def test_a_phone_that_was_shut_out_is_out_from_its_next_page_on(phone: TestClient, desk: Desk) -> None:
    let_in(phone, desk)
    revoke_device(desk, list_devices(desk)[0].id)
    assert phone.get("/", headers={"accept": "text/html"}).headers["location"] == "/pair"


def test_a_phone_shuts_itself_out_but_no_other(phone: TestClient, desk: Desk) -> None:
    let_in(phone, desk, "one")
    one = list_devices(desk)[0].id
    phone.cookies.clear()
    let_in(phone, desk, "two")
    two = next(d.id for d in list_devices(desk) if d.id != one)
    form = {"form_token": token(phone)}
    assert phone.post(f"/devices/{one}/out", data=form).status_code == 403
    assert phone.post("/devices/code", data=form).status_code == 403
    assert phone.post(f"/devices/{two}/out", data=form).status_code == 303
    assert phone.get("/", headers={"accept": "text/html"}).headers["location"] == "/pair"


def test_wrong_codes_are_told_and_soon_nobody_may_try(phone: TestClient, desk: Desk) -> None:
    begin_pairing(desk)
    form = {"form_token": token(phone, "/pair"), "name": "x"}
    answers = [phone.post("/pair", data=form | {"code": f"{n:08d}"}) for n in range(7)]
    assert {a.status_code for a in answers[:5]} <= {303, 422}
    assert answers[-1].status_code == 429
    assert "Wait" in answers[-1].text


def test_the_desk_shows_the_code_and_its_picture(desk: Desk) -> None:
    app = build_app(desk, lan=True, hosts=("192.0.2.10",), homes=("http://192.0.2.10:8470",))
    with TestClient(app, HOME, client=("127.0.0.1", 1)) as here:
        page = here.post("/devices/code", data={"form_token": token(here)}).text
        held = desk.pairing.held()
        assert held is not None
        assert f"{held.code[:4]} {held.code[4:]}" in page
        assert "data:image/svg+xml;base64," in page


def test_static_files_are_kept_by_the_browser_and_nothing_else_is_served(client: TestClient) -> None:
    from crownwright.web.page import static

    answer = client.get(static("css/sheet.css"))
    assert "immutable" in answer.headers["cache-control"]
    for path in ("../page.py", "..%2fpage.py", "%2e%2e/page.py", "css/../../page.py", "/etc/passwd"):
        assert client.get(static("") + path).status_code == 404


def test_the_book_that_cannot_be_written_is_told(client: TestClient, desk: Desk) -> None:
    mine = token(client)
    from sqlalchemy import event

    @event.listens_for(desk.book.engine, "checkout")
    def _only_read(raw: object, *_: object) -> None:
        raw.execute("PRAGMA query_only=ON")  # type: ignore[attr-defined]

    form = {"form_token": mine, "id": "f", "set:place": "Newbarrow", "was:place": "Oldbarrow"}
    answer = client.post("/job/sample/entries", data=form)
    assert answer.status_code == 503
    assert "may only be read" in answer.text
    assert "Newbarrow" in answer.text
