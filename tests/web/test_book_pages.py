"""The book's pages: list, search, order, begin, copy, take out, bring back, take in, export, back up, what changed, about."""

from __future__ import annotations

import io
import re
import sqlite3
import zipfile
from html import unescape
from pathlib import Path

import pytest
from starlette.testclient import TestClient
from tests.web.conftest import token

from crownwright.service.desk.days_of import keep_forecast
from crownwright.service.desk.list_jobs import find_job, list_jobs
from crownwright.service.desk.model import By, Change, Entry
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.revisions_of import history
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.desk.text_of import values_as_typed
from crownwright.web.pages.history import AT_ONCE

ROOT = Path(__file__).parents[2]
AB = "readings.tapes[start=A,end=B].reads"
ANSEL, BERIT = By("Ansel", "phone-1"), By("Berit", "phone-2")


def posted(client: TestClient, path: str, **fields: str) -> str:
    """Where a form of these fields leads; a slash in a name stands for what a keyword cannot hold."""
    answer = client.post(path, data={"form_token": token(client), **fields})
    assert answer.status_code == 303, answer.text
    return str(answer.headers["location"])


def titles(page: str) -> list[str]:
    return [unescape(title) for title in re.findall(r'<a href="/job/[^"]*">\s*<strong>([^<]*)', page)]


def begun(client: TestClient, title: str, **told: str) -> str:
    return posted(client, "/new", title=title, **told).split("/")[2]


def test_the_book_is_searched_and_put_in_order(client: TestClient, desk: Desk) -> None:
    begun(client, "Mill Row", customer="Ö. Quist", place="3 Mill Row")
    begun(client, "Étang Close", customer="A. Bell")
    assert titles(client.get("/?by=title").text) == ["Mill Row", "Weir Cottage, kitchen stack", "Étang Close"]
    assert titles(client.get("/?by=customer").text) == ["Étang Close", "Weir Cottage, kitchen stack", "Mill Row"]
    assert titles(client.get("/?words=quist+mill").text) == ["Mill Row"]
    assert titles(client.get("/?words=ÉTANG").text) == ["Étang Close"]
    assert "No job has all of these words" in client.get("/?words=%25").text


@pytest.mark.parametrize("query", ["by=evil", "first=-1", "first=" + "9" * 30, "words=" + "x" * 3000, "out=%00", "by=a&by=x"])
def test_whatever_is_asked_the_list_answers(client: TestClient, query: str) -> None:
    assert client.get(f"/?{query}").status_code == 200


def test_a_long_book_is_shown_page_by_page(client: TestClient, desk: Desk) -> None:
    from crownwright.service.desk.begin_job import begin_job

    for k in range(45):
        begin_job(desk, ANSEL, f"j{k}", f"Job {k:02d}")
    first = client.get("/?by=title").text
    assert len(titles(first)) == 30
    further = unescape(re.findall(r'href="([^"]*first=30[^"]*)"', first)[0])
    assert len(titles(client.get(further).text)) == 16


def test_a_job_begun_twice_from_one_page_is_begun_once(client: TestClient, desk: Desk) -> None:
    page = client.get("/new").text
    made = re.findall(r'name="id" value="([^"]+)"', page)[0]
    for _ in range(2):
        posted(client, "/new", id=made, title="Mill Row", units="metric")
    assert list_jobs(desk, "mill").count == 1
    assert values_as_typed(desk, made)["units"] == "metric"
    assert '<option value="metric" selected>' in client.get("/new").text, "who works in metric does so in the next job"


def test_a_job_without_a_name_is_asked_for_one_and_nothing_typed_is_lost(client: TestClient) -> None:
    answer = client.post("/new", data={"form_token": token(client), "title": " ", "customer": "Ö. <Quist>"})
    assert answer.status_code == 422
    assert "Ö. &lt;Quist&gt;" in answer.text
    assert 'aria-invalid="true"' in answer.text


def test_work_and_visit_are_kept_as_revisions(client: TestClient, desk: Desk) -> None:
    posted(client, "/job/sample/work", state="agreed", visit="2026-05-13", hour="08:30")
    row = find_job(desk, "sample")
    assert (row.state, row.next_visit, row.head) == ("agreed", "2026-05-13T08:30", 3)
    assert history(desk, "sample")[0].who == "E. Marr"
    assert "next visit 13 May 2026, 08:30" in client.get("/").text
    posted(client, "/job/sample/undo", on="3")
    assert find_job(desk, "sample").state == "asked"


@pytest.mark.parametrize("fields", [{"state": "evil"}, {"state": "agreed", "visit": "tuesday"}])
def test_work_that_is_none_is_told(client: TestClient, desk: Desk, fields: dict[str, str]) -> None:
    answer = client.post("/job/sample/work", data={"form_token": token(client), **fields})
    assert answer.status_code == 422
    assert find_job(desk, "sample").head == 1


def test_a_copy_is_a_job_of_its_own(client: TestClient, desk: Desk) -> None:
    where = posted(client, "/job/sample/copy", id="copy-1")
    assert where == "/job/copy-1"
    assert "(copy)" in client.get(where).text


def test_taken_out_and_brought_back(client: TestClient) -> None:
    posted(client, "/job/sample/take-out")
    assert titles(client.get("/").text) == []
    assert titles(client.get("/?out=1").text) == ["Weir Cottage, kitchen stack"]
    assert "taken out of the book" in client.get("/job/sample").text
    posted(client, "/job/sample/bring-back")
    assert titles(client.get("/").text) == ["Weir Cottage, kitchen stack"]


def test_a_job_goes_out_and_comes_in_again(client: TestClient, desk: Desk) -> None:
    answer = client.get("/job/sample/export")
    assert answer.headers["content-disposition"] == 'attachment; filename="weir-cottage-kitchen-stack.zip"'
    assert "job.toml" in zipfile.ZipFile(io.BytesIO(answer.content)).namelist()
    taken = client.post("/import", data={"form_token": token(client)}, files={"file": ("x.zip", answer.content)})
    assert taken.status_code == 303
    assert list_jobs(desk).count == 2
    text = b'title = "From a file"\n[quick]\nlength = "40"\nwidth = "30"\nmasonry = "brick"\n'
    taken = client.post("/import", data={"form_token": token(client)}, files={"file": ("job.toml", text)})
    assert "From a file" in client.get(taken.headers["location"]).text


@pytest.mark.parametrize("content", [b"PK\x03\x04nonsense", b"\xff\xfe\x00", b"\x00" * 100])
def test_a_file_that_is_no_job_is_told_and_not_taken_in(client: TestClient, desk: Desk, content: bytes) -> None:
    answer = client.post("/import", data={"form_token": token(client)}, files={"file": ("../../x.zip", content)})
    assert answer.status_code == 422
    assert list_jobs(desk).count == 1


def test_a_backup_is_a_book(client: TestClient, tmp_path: Path) -> None:
    answer = client.get("/backup")
    assert answer.headers["content-disposition"] == 'attachment; filename="jobs-2026-05-03.book"'
    (tmp_path / "saved.book").write_bytes(answer.content)
    raw = sqlite3.connect(tmp_path / "saved.book")
    assert raw.execute("SELECT title FROM job").fetchall() == [("Weir Cottage, kitchen stack",)]
    raw.close()


def test_two_readings_stand_side_by_side_until_one_is_settled(client: TestClient, desk: Desk) -> None:
    save_entry(desk, ANSEL, Entry("a", "sample", 1, (Change(AB, "45 1/2"),)))
    save_entry(desk, BERIT, Entry("b", "sample", 1, (Change(AB, "45 5/8"),)))
    page = client.get("/job/sample/history").text
    assert "45 1/2" in page
    assert "45 5/8" in page
    assert "Two devices changed the same thing" in client.get("/job/sample").text
    posted(client, "/job/sample/conflicts/b.0", keep="second")
    values = values_as_typed(desk, "sample")
    assert str(next(t for t in values["readings"]["tapes"] if (t["start"], t["end"]) == ("A", "B"))["reads"]) == "45 5/8"
    posted(client, "/job/sample/conflicts/b.0", keep="first")
    assert find_job(desk, "sample").head == 3, "settled once"


def test_two_revisions_are_compared_with_what_the_change_did(client: TestClient, desk: Desk) -> None:
    save_entry(desk, ANSEL, Entry("a", "sample", 1, (Change("cap.overhang_wanted", "5"),)))
    page = client.get("/job/sample/history?one=1&other=2").text
    assert "overhang wanted 5" in page
    for figure in ("concrete in the cap", "weight on the chimney, wet", "price with tax"):
        assert figure in page
    assert client.get("/job/sample/history?one=1&other=99").status_code == 404
    assert "Go back to revision 1" in page
    posted(client, "/job/sample/restore", on="2", number="1")
    assert "overhang_wanted" not in str(values_as_typed(desk, "sample"))


def test_a_long_history_is_paged_and_its_newest_change_can_be_undone_from_every_page(client: TestClient, desk: Desk) -> None:
    assert "Undo the newest change" not in client.get("/job/sample/history").text
    for k in range(AT_ONCE + 1):
        save_entry(desk, ANSEL, Entry(f"a{k}", "sample", k + 1, (Change("notes", f"note {k}"),)))
    pages = [client.get(f"/job/sample/history?after={after}").text for after in (0, AT_ONCE, 10**6)]
    listed = [[int(number) for number in re.findall(r"<p><b>(\d+)</b>", page)] for page in pages]
    assert listed == [list(range(AT_ONCE + 2, 2, -1)), [2, 1], []]
    assert [f"after={AT_ONCE}" in page for page in pages] == [True, False, False]
    assert all("Undo the newest change" in page for page in pages)


def test_what_was_changed_meanwhile_is_not_undone_unseen(client: TestClient, desk: Desk) -> None:
    save_entry(desk, ANSEL, Entry("a", "sample", 1, (Change(AB, "45"),)))
    form = {"form_token": token(client), "on": "1"}
    for path, more in (("undo", {}), ("restore", {"number": "1"})):
        assert client.post(f"/job/sample/{path}", data=form | more).status_code == 409
    assert client.post("/job/sample/undo", data=form | {"on": "77"}).status_code == 400
    assert client.post("/job/sample/restore", data=form | {"on": "2", "number": "9"}).status_code == 404
    assert find_job(desk, "sample").head == 2


def test_what_the_local_authority_asks_is_told_beside_the_rule(client: TestClient, desk: Desk) -> None:
    page = client.get("/job/sample/about").text
    name = re.search(r'name="(set:overrides[^"]*overhang[^"]*)"', page)
    assert name
    form = {
        "form_token": token(client), "id": "o", "base": "1", "set:units": "metric", "was:units": "",
        unescape(name[1]): "3 in", unescape(name[1]).replace("set:", "was:"): "",
        "item:rules[+]:rule": "drip", "item:rules[+]:says": "A groove under every cap",
    }  # fmt: skip
    assert client.post("/job/sample/entries", data=form).status_code == 303
    values = values_as_typed(desk, "sample")
    assert list(values["overrides"].values()) == ["3 in"]
    assert values["units"] == "metric"
    page = client.get("/job/sample/about").text
    assert 'value="3 in"' in page
    assert "A groove under every cap" in page


def test_a_job_whose_text_has_faults_is_still_shown_with_what_to_do(client: TestClient, desk: Desk) -> None:
    save_entry(desk, ANSEL, Entry("a", "sample", 1, (Change(AB, "forty <b>five</b>"),)))
    for path in ("", "/history", "/about", "/history?one=1&other=2"):
        answer = client.get(f"/job/sample{path}")
        assert answer.status_code == 200
        assert "<b>five" not in answer.text
    assert "forty" in client.get("/job/sample").text


def test_a_job_just_begun_is_sent_up_top(client: TestClient) -> None:
    job = begun(client, "Mill Row")
    assert "Nothing is read yet" in client.get(f"/job/{job}").text
    for path in ("", "/history", "/about"):
        assert client.get(f"/job/{job}{path}").status_code == 200


@pytest.mark.parametrize("path", ["", "/history", "/about", "/export"])
def test_a_job_that_is_not_there_is_told(client: TestClient, path: str) -> None:
    answer = client.get(f"/job/nowhere{path}")
    assert answer.status_code == 404
    assert "There is no such job in this book" in answer.text


@pytest.mark.slow
def test_what_a_change_did_to_the_days_is_told_under_one_weather(client: TestClient, desk: Desk) -> None:
    save_entry(desk, ANSEL, Entry("a", "sample", 1, (Change("concrete.portland", "5 lb"),)))
    assert "There is no weather for this job yet" in client.get("/job/sample/history/days?one=1&other=2").text
    keep_forecast(desk, "sample", "ten-days.toml", (ROOT / "examples" / "weather" / "ten-days.toml").read_bytes())
    page = client.get("/job/sample/history/days?one=1&other=2").text
    assert "Hours that will do" in page
    assert re.search(r'<tr class="main"><th scope="row">strong enough to strip</th><td>\w+ May', page), (
        "more portland strips sooner"
    )
    assert client.get("/job/sample/history/days?one=1&other=7").status_code == 404


def test_the_price_comes_after_the_page(client: TestClient) -> None:
    assert 'data-late="/job/sample/price"' in client.get("/job/sample").text
    assert re.fullmatch(r"\$[\d,]+\.\d\d with tax", client.get("/job/sample/price").json()["says"])
    job = begun(client, "Mill Row")
    assert "no cap to price yet" in client.get(f"/job/{job}/price").json()["says"]
