"""The whole job with scripts off, on a phone: from an empty book to papers in hand through plain forms and links alone."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect
from tests.browser.conftest import NOW, Opener, Served
from tests.browser.mason import Sheet, the_sample
from tests.browser.waits import LONGEST
from tests.lived_in import FORECAST

from crownwright.service.desk.issue_paper import issued_papers
from crownwright.service.desk.list_jobs import find_job, list_jobs
from crownwright.service.desk.model import By, Change, Entry, Saved
from crownwright.service.desk.open_desk import Desk, open_desk
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.jobfile.syntax import parse_toml
from crownwright.service.open_job import open_demo

BY_FORM = 7
"""Readings typed into plain forms beside the flue: sides, diagonals and a tie."""


@pytest.fixture
def sheet(tmp_path: Path) -> Iterator[Sheet]:
    desk = open_desk(tmp_path / "sample.book", clock=lambda: NOW)
    yield the_sample(desk)
    desk.close()


def test_a_whole_job_without_scripts(empty: Served, opened: Opener, sheet: Sheet) -> None:
    with opened(empty.home, script=False) as page:
        page.goto("/new")
        page.get_by_label("What you call the job").fill("Weir Cottage, kitchen stack")
        page.get_by_role("button", name=re.compile("^Begin")).click()
        expect(page.locator("h1")).to_have_text("Up top")
        read_the_top(page, sheet)
        job = list_jobs(empty.desk).rows[0].id
        the_rest(empty.desk, job)
        assert plan_of(empty.desk, job).planned is not None
        to(page, "The cap")
        choices = page.locator("details", has=page.locator("summary", has_text="Overhang and size"))
        if choices.get_attribute("open") is None:
            choices.locator("summary").click()
        page.get_by_label("Overhang to aim at").fill("4 1/4")
        page.get_by_role("button", name="See what it does").click()
        expect(page.locator(".trying").first).to_be_visible()
        page.locator("#choices .keep .do").click()
        expect(page.get_by_label("Overhang to aim at")).to_have_value("4 1/4")
        choose_the_day(page)
        log_the_day(page)
        print_and_hand_out(page)
        assert {row.kind for row in issued_papers(empty.desk, job)} == {"summary", "pour-log"}


def to(page: Page, name: str) -> None:
    """Go to a sheet of the job by the list of sheets at the foot of the page."""
    page.locator("#sheets a", has_text=re.compile(f"^{name}$")).click()
    expect(page.locator("h1")).to_have_text(name)


def read_the_top(page: Page, sheet: Sheet) -> None:
    """A flue, then the next readings that are asked for, one after another."""
    page.locator("#adds a", has_text="flue").first.click()
    answer(page, sheet.reads["flue:F1"])
    for _ in range(BY_FORM):
        key = page.locator('#typed input[name="step"]').get_attribute("value") or ""
        answer(page, sheet.reads[key])


def the_rest(desk: Desk, job: str) -> None:
    """The other readings, as a second phone sends them: their plain forms are the same as those above."""
    readings = parse_toml(open_demo().text, "").values["readings"]
    changes = tuple(Change(f"readings.{name}", readings[name]) for name in ("tapes", "offsets", "drops", "flues"))
    saved = save_entry(desk, By("Ansel"), Entry("the-rest", job, find_job(desk, job).head, changes))
    assert isinstance(saved, Saved)
    assert not saved.problems
    assert not saved.conflicts


def answer(page: Page, reads: dict[str, str]) -> None:
    """Type what the tape says into the plain form and keep it."""
    form = page.locator("#typed")
    for name, value in reads.items():
        chip = form.locator(f'input[type=radio][name="{name}"][value="{value}"]')
        if chip.count():
            chip.check(force=True)
        elif form.locator(f'input[name="{name}"]').count():
            form.locator(f'input[name="{name}"]').fill(value)
    form.get_by_role("button", name="Keep").click()


def choose_the_day(page: Page) -> None:
    """Tell the place, take a weather file in, and wait as the page asks again by itself."""
    to(page, "The days")
    for label, typed in (("Latitude", "44.2"), ("Longitude", "-72.8")):
        page.get_by_label(f"{label}, degrees").fill(typed)
    page.get_by_role("button", name="Keep the place").click()
    page.locator("#weather").set_input_files(FORECAST)
    page.get_by_role("button", name="Take in").click()
    expect(page.locator("main")).to_contain_text("First batch", timeout=LONGEST)
    page.locator(".hourly button.best").first.click()
    expect(page.locator("main")).to_contain_text("The hour you chose", timeout=LONGEST)


def log_the_day(page: Page) -> None:
    to(page, "Pour day")
    page.get_by_label("Water").fill("6 qt")
    page.get_by_role("button", name="Batch in", exact=True).click()
    expect(page.locator("#log")).to_contain_text("batch of")
    page.get_by_role("button", name="Struck off").click()
    expect(page.locator("#log")).to_contain_text("struck off")


def print_and_hand_out(page: Page) -> None:
    """Each paper opens as PDF, and two are handed out under numbers."""
    to(page, "Papers")
    for paper in ("cut-list", "batch-card"):
        address = page.locator(f"main a[href$='/{paper}.pdf']").first.get_attribute("href")
        assert page.request.get(str(address)).body().startswith(b"%PDF"), paper
    for paper in ("Summary", "Pour log"):
        page.get_by_role("button", name=f"Hand out the {paper.lower()}", exact=True).click()
        expect(page.locator("[role=status]").first).to_contain_text(f"{paper} handed out as 2026-000")
    assert page.pdf().startswith(b"%PDF")
