"""The plan's pages: drawn, worked, tried before anything is kept, and all of it as plain pages without a script."""

from __future__ import annotations

import io
import re
import zipfile

import pytest
from starlette.testclient import TestClient
from tests.web.conftest import token

from crownwright.price.rows import example_book
from crownwright.service.desk.begin_job import begin_from_text
from crownwright.service.desk.keep_work import set_state
from crownwright.service.desk.list_jobs import list_jobs
from crownwright.service.desk.model import By, Change, Entry
from crownwright.service.desk.money_of import keep_firm, keep_prices
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.own_way import learn_and_keep
from crownwright.service.desk.pairing import new_id
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.open_job import open_demo
from crownwright.service.price_files import book_bytes
from crownwright.web.views.choices import CAP, POUR, filled

PAGES = ("cap", "form", "pour", "rules", "papers", "money", "days", "pour-day")
BY = By("E. Marr")
WEATHER = [
    {"on": f"2026-05-{day}", "high": "68 F", "low": "50 F", "wind": "6 mph", "humidity": "60 %", "sky": "half"}
    for day in range(11, 14)
]


@pytest.fixture
def job(desk: Desk) -> str:
    return list_jobs(desk).rows[0].id


def put(desk: Desk, job: str, *changes: Change) -> None:
    save_entry(desk, BY, Entry(new_id(), job, 0, changes))


@pytest.mark.parametrize("path", PAGES)
def test_every_page_stands_and_has_no_script_or_style_of_its_own(client: TestClient, job: str, path: str) -> None:
    answer = client.get(f"/job/{job}/{path}")
    assert answer.status_code == 200
    assert " style=" not in answer.text
    assert not re.search(r"<script(?![^>]*\ssrc=)", answer.text)


@pytest.mark.parametrize("path", PAGES)
def test_a_job_without_readings_says_what_to_do_first(client: TestClient, desk: Desk, path: str) -> None:
    from crownwright.service.desk.begin_job import begin_job

    begin_job(desk, BY, "empty", "Nothing yet")
    answer = client.get(f"/job/empty/{path}")
    assert answer.status_code == 200
    assert "/job/empty/" in answer.text


def test_a_choice_is_tried_and_only_kept_when_it_is_sent_on(client: TestClient, desk: Desk, job: str) -> None:
    fields = {"form_token": token(client), "set:cap.edge_board": "2x4", "was:cap.edge_board": ""}
    bags = plan_of(desk, job).planned.plan.concrete.count.bags  # type: ignore[union-attr]
    tried = client.post(f"/job/{job}/cap", data=fields)
    assert f"was {bags} of" in tried.text
    assert plan_of(desk, job).revision.number == 1
    part = client.post(f"/job/{job}/cap?part=answer", data=fields)
    assert part.text.lstrip().startswith("<section")
    assert "was $" in part.text
    kept = client.post(f"/job/{job}/entries", data=fields | {"id": "k1", "base": "1", "back": f"/job/{job}/cap"})
    assert kept.headers["location"] == f"/job/{job}/cap"
    assert plan_of(desk, job).planned.plan.concrete.count.bags < bags  # type: ignore[union-attr]


def test_what_cannot_be_read_is_told_beside_its_field(client: TestClient, job: str) -> None:
    fields = {"form_token": token(client), "set:cap.overhang_wanted": "wide", "was:cap.overhang_wanted": ""}
    tried = client.post(f"/job/{job}/cap", data=fields)
    assert tried.status_code == 200
    assert 'value="wide"' in tried.text
    assert 'aria-invalid="true"' in tried.text


def test_text_that_means_to_be_a_script_is_shown_as_text(client: TestClient, desk: Desk, job: str) -> None:
    put(desk, job, Change("title", "<script>alert(1)</script>"), Change("checks.people.fall_protection", "<img src=x onerror=1>"))
    for path in PAGES:
        text = client.get(f"/job/{job}/{path}").text
        assert "<script>alert" not in text
        assert "<img src=x" not in text


def test_any_figure_opens_to_its_working(client: TestClient, desk: Desk, job: str) -> None:
    planned = plan_of(desk, job).planned
    assert planned is not None
    for figure in planned.plan.figures[::40]:
        answer = client.get(f"/job/{job}/working/{figure.key}")
        assert answer.status_code == 200
        assert "Source" in answer.text
    assert client.get(f"/job/{job}/working/no.such").status_code == 404


@pytest.mark.parametrize("name", ["cap-plan", "section-a", "edge", "pieces", "assembly-1", "stripping", "cut-bars", "bags"])
def test_every_drawing_stands_alone(client: TestClient, job: str, name: str) -> None:
    answer = client.get(f"/job/{job}/drawing/{name}.svg")
    assert answer.headers["content-type"].startswith("image/svg+xml")
    assert answer.text.startswith("<svg ")


def test_a_drawing_goes_into_a_drawing_program(client: TestClient, job: str) -> None:
    assert client.get(f"/job/{job}/drawing/cap-plan.dxf").content.lstrip().startswith(b"0")
    assert client.get(f"/job/{job}/drawing/nothing.svg").status_code == 404


def test_a_paper_opens_and_once_handed_out_stays_as_it_was(client: TestClient, desk: Desk, job: str) -> None:
    assert client.get(f"/job/{job}/papers/cut-list.pdf").content.startswith(b"%PDF")
    assert client.get(f"/job/{job}/papers/nothing.pdf").status_code == 404
    fields = {"form_token": token(client), "id": "paper1"}
    for _ in range(2):  # sent twice, it is handed out once
        assert client.post(f"/job/{job}/papers/cut-list/hand-out", data=fields).status_code == 303
    before = client.get(f"/job/{job}/issued/paper1.pdf").content
    put(desk, job, Change("cap.edge_board", "2x4"))
    assert client.get(f"/job/{job}/issued/paper1.pdf").content == before
    assert client.get(f"/job/{job}/papers").text.count("/issued/") == 1


def test_a_quote_that_something_stands_against_asks_for_the_reason(client: TestClient, job: str) -> None:
    sent = client.post(f"/job/{job}/money/quote", data={"form_token": token(client), "id": "q1"})
    assert sent.status_code == 422
    names = re.findall(r'name="(reason:[^"]+)"', sent.text)
    assert names
    fields = {"form_token": token(client), "id": "q2"} | dict.fromkeys(names, "told to the customer")
    assert client.post(f"/job/{job}/money/quote", data=fields).status_code == 303
    sign = {"form_token": token(client), "quote": "2026-0001", "on": "2026-05-04"}
    assert client.post(f"/job/{job}/money/accept", data=sign | {"id": "a0", "signed_by": ""}).status_code == 422
    assert client.post(f"/job/{job}/money/accept", data=sign | {"id": "a1", "signed_by": "R. Tallow"}).status_code == 303
    form = {"form_token": token(client)}
    offered = re.findall(r'<option value="(when [^"]+)"', client.get(f"/job/{job}/money").text)
    assert offered == ["when the quote is accepted", "when the cap is poured", "when finished"]
    first = form | {"stage": offered[0]}
    assert client.post(f"/job/{job}/money/invoice", data=first | {"id": "b1"}).status_code == 303
    assert client.post(f"/job/{job}/money/invoice", data=first | {"id": "b2"}).status_code == 422, "asked for once"
    assert client.post(f"/job/{job}/money/invoice", data=form | {"id": "b3", "stage": ""}).status_code == 303
    assert client.post(f"/job/{job}/money/receipt", data=form | {"id": "r0", "amount": "a lot"}).status_code == 422
    assert (
        client.post(f"/job/{job}/money/receipt", data=form | {"id": "r1", "amount": "100", "how": "by bank"}).status_code == 303
    )
    text = client.get(f"/job/{job}/money").text
    for number in ("2026-0001", "2026-0001-A", "2026-0002", "2026-0003", "2026-0001-R1", "all that was left"):
        assert number in text


def test_a_job_is_handed_over_when_its_pour_is_logged_and_its_flues_are_signed_open(
    client: TestClient, desk: Desk, job: str
) -> None:
    form = {"form_token": token(client), "id": "h1", "remarks": "Renew the sealant in five years."}
    assert client.post(f"/job/{job}/papers/handover", data=form).status_code == 422
    put(desk, job, Change("day.batches[+]", {"at": "2026-05-12 11:05", "bags": "2"}))
    covered = client.post(f"/job/{job}/papers/handover", data=form)
    assert covered.status_code == 422
    assert "F1, F2" in covered.text
    put(desk, job, Change("checks.uncovered", ["F1", "F2"]))
    assert client.post(f"/job/{job}/papers/handover", data=form).status_code == 303
    assert client.get(f"/job/{job}/issued/h1.pdf").content.startswith(b"%PDF")


def test_prices_that_cannot_be_used_are_told_and_not_taken_in(client: TestClient, job: str) -> None:
    files = {"prices": ("prices.csv", b"key,what\n", "text/csv")}
    sent = client.post(f"/job/{job}/money/prices", data={"form_token": token(client)}, files=files)
    assert sent.status_code == 422
    assert "Nothing was taken in" in sent.text
    mine = client.get("/prices.csv").content
    files = {"prices": ("prices.csv", mine, "text/csv")}
    assert client.post(f"/job/{job}/money/prices", data={"form_token": token(client)}, files=files).status_code == 303


def test_an_hour_is_chosen_and_the_log_moves_the_clock(client: TestClient, desk: Desk, job: str) -> None:
    put(desk, job, Change("day.zone", "America/New_York"), Change("day.weather", WEATHER))
    days = client.get(f"/job/{job}/days").text
    hour = re.findall(r'name="set:day.begins" value="([^"]+)" class="best', days)[0]
    fields = {"form_token": token(client), "id": "h1", "base": "2", "back": f"/job/{job}/days", "set:day.begins": hour}
    client.post(f"/job/{job}/entries", data=fields)
    assert "chosen" in client.get(f"/job/{job}/days").text
    log = {"form_token": token(client), "list": "events", "log:what": "first batch", "log:at": hour[:10] + "T13:40"}
    assert client.post(f"/job/{job}/pour-day/log", data=log | {"id": "l1"}).status_code == 303
    now = client.get(f"/job/{job}/pour-day?part=now").text
    assert "later than planned" in now or "earlier than planned" in now
    assert "first batch" in now
    assert client.get(f"/job/{job}/days/visits.ics").text.startswith("BEGIN:VCALENDAR")


def test_a_slip_in_the_log_is_told_on_its_page_and_can_be_taken_out(client: TestClient, desk: Desk, job: str) -> None:
    put(desk, job, Change("day.zone", "America/New_York"), Change("day.weather", WEATHER))
    log = {"form_token": token(client), "id": "l1", "list": "temperatures", "log:place": "top", "log:temperature": "hot"}
    client.post(f"/job/{job}/pour-day/log", data=log)
    page = client.get(f"/job/{job}/pour-day").text
    assert "Temperature 1" in page
    assert "remove:day.temperatures[0]" in page


def test_a_weather_file_that_is_none_is_turned_away(client: TestClient, job: str) -> None:
    files = {"weather": ("notes.csv", b"fine all week", "text/csv")}
    sent = client.post(f"/job/{job}/days/weather", data={"form_token": token(client)}, files=files)
    assert sent.status_code == 422


def test_the_solid_is_loaded_only_where_it_is_asked_for(client: TestClient, job: str) -> None:
    page = client.get(f"/job/{job}/3d").text
    assert "<svg " in page
    assert "js/solid.js" not in client.get(f"/job/{job}/cap").text
    solid = client.get(f"/job/{job}/solid.glb")
    assert solid.content[:4] == b"glTF"


def test_a_metric_job_is_told_what_is_usual_in_its_own_units() -> None:
    us, metric = (filled(POUR, {}, {}, units)[1].choices[0].usual for units in ("us", "metric"))
    assert (us, metric) == ("0 lb", "0 kg")
    overhang = filled(CAP, {}, {}, "metric")[0].choices[0]
    assert overhang.usual == "102 mm"


def test_a_workbook_that_unpacks_to_a_mountain_is_turned_away(client: TestClient, job: str) -> None:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as book:
        book.writestr("xl/worksheets/sheet1.xml", b" " * 80_000_000)
    files = {"prices": ("prices.xlsx", packed.getvalue(), "application/octet-stream")}
    sent = client.post(f"/job/{job}/money/prices", data={"form_token": token(client)}, files=files)
    assert sent.status_code == 422
    assert "unpacks" in sent.text


def test_a_year_of_hours_may_be_sent(client: TestClient, job: str) -> None:
    files = {"weather": ("year.csv", b"x" * 2_000_000, "text/csv")}
    sent = client.post(f"/job/{job}/days/weather", data={"form_token": token(client)}, files=files)
    assert sent.status_code == 422  # it is no weather, but it is not too much


def test_an_amount_of_money_opens_to_its_working(client: TestClient, job: str) -> None:
    keys = set(re.findall(rf"/job/{job}/working/(price[^\"]+)", client.get(f"/job/{job}/money").text))
    assert len(keys) > 30
    gross = client.get(f"/job/{job}/working/price.gross")
    assert gross.status_code == 200
    assert "$" in gross.text


def test_new_prices_a_new_firm_and_a_finished_job_price_the_same_plan_anew(client: TestClient, desk: Desk, job: str) -> None:
    """All within one second of the desk's clock: what is kept goes by what the files say, not by when they came."""

    def price() -> str:
        told = re.search(r"Price with tax</dt><dd>.*?</dd>", client.post(f"/job/{job}/cap?part=answer", data=fields).text, re.S)
        assert told
        return told[0]

    def cast(name: str, hours: float) -> None:
        begin_from_text(desk, BY, name, open_demo().text)
        put(desk, name, Change("quote.done.hours", hours))
        set_state(desk, name, "closed")
        learn_and_keep(desk)

    fields = {"form_token": token(client)}
    book = book_bytes(example_book(), "p.csv").decode()
    seen = [price()]
    for hour in (",76.00,", ",91.00,"):
        assert keep_prices(desk, "prices.csv", book.replace(",48.00,", hour).encode()) == ()
        seen.append(price())
    assert keep_firm(desk, "firm.toml", b'currency = "CAD"') == ()
    seen.append(price())
    for name, hours in (("first", 60.0), ("second", 95.0)):
        cast(name, hours)
        seen.append(price())
    assert len(set(seen)) == 6, seen
    assert price() == seen[-1]
