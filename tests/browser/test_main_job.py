"""The whole job on a phone, from an empty book to papers in hand, with a thumb and no mouse."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import NOW, Opener, Served
from tests.browser.mason import NO_MOUSE, Sheet, answer, asked, tap, the_sample
from tests.browser.waits import all_sent
from tests.lived_in import FORECAST

from crownwright.service.desk.begin_job import begin_from_text
from crownwright.service.desk.issue_paper import issued_papers
from crownwright.service.desk.list_jobs import list_jobs
from crownwright.service.desk.model import By
from crownwright.service.desk.open_desk import Desk, open_desk
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.open_job import open_demo


@pytest.fixture
def sheet(tmp_path: Path) -> Iterator[Sheet]:
    desk = open_desk(tmp_path / "sample.book", clock=lambda: NOW)
    yield the_sample(desk)
    desk.close()


def to(page: Page, name: str) -> None:
    """Go to a sheet of the job by the list of sheets."""
    tap(page.locator(".to-list"))
    tap(page.locator("#sheets a", has_text=re.compile(f"^{name}$")))
    expect(page.locator("h1")).to_have_text(name)


def test_a_whole_job_from_an_empty_book_to_papers_with_a_thumb(empty: Served, opened: Opener, sheet: Sheet) -> None:
    with opened(empty.home) as page:
        page.add_init_script(NO_MOUSE)
        page.goto("/")
        tap(page.get_by_role("link", name="New job").first)
        page.get_by_label("What you call the job").fill("Weir Cottage, kitchen stack")
        page.get_by_label("Customer").fill("R. Tallow")
        tap(page.get_by_role("button", name=re.compile("^Begin")))
        expect(page.locator("h1")).to_have_text("Up top")
        read_everything(page, sheet)
        job = list_jobs(empty.desk).rows[0]
        same_as_the_sample(empty.desk, job.id)
        plan_and_print(page, empty.desk, job.id)
        assert page.evaluate("window.mice") == []
    assert plan_of(empty.desk, job.id).planned is not None


def plan_and_print(page: Page, desk: Desk, job: str) -> None:
    """Through the plan's sheets in the order of the job."""
    to(page, "The cap")
    choose_overhang(page)
    to(page, "The form")
    expect(page.locator(".drawing svg").first).to_be_visible()
    to(page, "The pour")
    expect(page.locator("main")).to_contain_text("80 lb")
    to(page, "The days")
    tell_the_place(page)
    page.locator("#weather").set_input_files(FORECAST)
    tap(page.get_by_role("button", name="Take in"))
    expect(page.locator("main")).to_contain_text("First batch")
    to(page, "Held against the rules")
    expect(page.locator("main")).to_contain_text("Cap")
    to(page, "Papers")
    print_papers(page, desk, job)


def tell_the_place(page: Page) -> None:
    """Where the chimney stands, where that is not told yet."""
    if page.get_by_label("Latitude, degrees").is_visible():
        page.get_by_label("Latitude, degrees").fill("44.2")
        page.get_by_label("Longitude, degrees").fill("-72.8")
        tap(page.get_by_role("button", name="Keep the place"))
        expect(page.get_by_text("Asks the government forecast service")).to_be_visible()


def read_everything(page: Page, sheet: Sheet) -> None:
    """First the two flues, then whatever is asked for, then what nobody asks for."""
    for name in ("F1", "F2"):
        tap(page.locator('#adds [data-key="flue:+rectangular"] a'))
        answer(page, sheet.reads[f"flue:{name}"])
    done = set()
    while (key := asked(page)) not in ("", *done):
        done.add(key)
        answer(page, sheet.reads[key] if key != "drop:inside" else sheet.reads[sheet.of("drop")[0]])
    assert key == ""
    assert len(done) >= 30
    for kind in ("offset", "drop"):
        for key in sheet.of(kind)[kind == "drop" :]:
            tap(page.locator(f'#adds [data-key="{kind}:+"] a'))
            answer(page, sheet.reads[key])
    all_sent(page)


def same_as_the_sample(desk: Desk, job: str) -> None:
    """What was tapped is what stands in the sample's file: every reading once, none lost, none doubled, none another's."""
    begin_from_text(desk, By("nobody"), "sample", open_demo().text)
    tapped, sample = (plan_of(desk, one, cut_list=False).opened.job for one in (job, "sample"))
    assert tapped is not None
    assert sample is not None
    for kind in ("tapes", "offsets", "drops", "flues"):
        assert sorted(as_read(getattr(tapped.readings, kind))) == sorted(as_read(getattr(sample.readings, kind))), kind


def as_read(rows: Any) -> list[str]:
    """Readings by what they say in metres, however they were typed (3 ft, 36 in.)."""
    plain = (re.sub(r"""typed=('[^']*'|"[^"]*")""", "", repr(row)) for row in rows)
    return [re.sub(r"metres=(-?[\d.e-]+)", lambda found: f"{float(found[1]):.6f}", row) for row in plain]


def choose_overhang(page: Page) -> None:
    choice = page.locator("details", has=page.locator("summary", has_text="Overhang and size"))
    if choice.get_attribute("open") is None:
        tap(choice.locator("summary"))
    page.get_by_label(re.compile("Overhang to aim at")).fill("4 1/4")
    tap(page.locator("#choices .keep .do"))
    expect(page.get_by_label(re.compile("Overhang to aim at"))).to_have_value("4 1/4")


def print_papers(page: Page, desk: Desk, job: str) -> None:
    """Every paper opens as PDF; one is handed out; and the page itself prints."""
    papers = page.locator("main a[href$='.pdf']").evaluate_all(
        "links => [...new Set(links.map(link => link.getAttribute('href')))]"
    )
    assert len(papers) >= 6
    for address in papers:
        answer = page.request.get(address)
        assert answer.status == 200, address
        assert answer.body().startswith(b"%PDF"), address
    tap(page.get_by_role("button", name=re.compile("^Hand out")).first)
    expect(page.locator("main")).to_contain_text("2026-0001")
    assert [row.number for row in issued_papers(desk, job)] == ["2026-0001"]
    assert page.pdf().startswith(b"%PDF")
