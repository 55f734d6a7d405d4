"""Charts and papers of the days: their text can be selected and says what the days say, on letter and A4."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pypdfium2 as pdfium
import pytest

from crownwright.plan.days import DaysPlan, hours_of_work, plan_days
from crownwright.plan.plan_job import plan_job
from crownwright.quantity.display import show_figure
from crownwright.quantity.units import HOUR, QUART
from crownwright.service.explain_a_figure import explanation, find_figures
from crownwright.service.jobfile import read_job
from crownwright.service.weather_for import read_weather
from crownwright.sheets.drawings.days import cure_chart, window_chart
from crownwright.sheets.papers.day_words import clock
from crownwright.sheets.papers.days import day_papers
from crownwright.sheets.papers.press import Paper, pdf
from crownwright.sources.bibliography import spell

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
NOON = 1_780_000_000


@pytest.fixture(scope="module")
def days() -> DaysPlan:
    job, problems = read_job(EXAMPLES / "stone-two-flues.toml")
    assert job is not None, problems
    data = (EXAMPLES / "weather" / "ten-days.toml").read_bytes()
    hours, faults = read_weather(data, "w", job, "America/New_York", datetime(2026, 5, 10, tzinfo=UTC))
    assert hours is not None, faults
    made = plan_days(plan_job(replace(job, form=replace(job.form, solve_seconds=0.01))), hours)
    assert made is not None
    return made


@pytest.fixture(scope="module")
def papers(days: DaysPlan) -> dict[str, Paper]:
    return {paper.name: paper for paper in day_papers(days)}


def text_of(paper: Paper, size: str = "letter") -> str:
    document = pdfium.PdfDocument(pdf(paper, size, NOON))  # type: ignore[arg-type]
    return re.sub(r"\s+", " ", " ".join(page.get_textpage().get_text_bounded() for page in document))


def flat(text: str) -> str:
    return re.sub(r"[^\w.,;:()=+/±°'\"]", "", text)


def test_charts_hold_every_hour_and_every_panel(days: DaysPlan) -> None:
    chart = window_chart(days.cure)
    titles = [getattr(shape, "title", "") for shape in chart.shapes]
    assert sum(bool(title) for title in titles) == len(days.cure.windows)
    assert sum("will do" in title for title in titles) == len(days.cure.best)
    assert len(cure_chart(days.cure, "metric").shapes) > 20


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_the_batch_card_is_one_page_with_every_batch(days: DaysPlan, papers: dict[str, Paper], size: str) -> None:
    assert days.mixing is not None
    assert len(pdfium.PdfDocument(pdf(papers["batch-card"], size, NOON))) == 1  # type: ignore[arg-type]
    text = text_of(papers["batch-card"], size)
    for batch in days.mixing.batches.batches:
        assert f"{batch.number} {clock(batch.wet)} {batch.lift} {batch.bags} {batch.water / QUART:.1f} qt" in text
    assert "flows round the drip" in text
    assert "Wet cement burns" in text


def test_the_day_plan_says_the_days_and_each_refusal(days: DaysPlan, papers: dict[str, Paper]) -> None:
    pour = days.cure.pour
    assert pour is not None
    assert pour.bed is not None
    text = text_of(papers["day-plan"])
    for at in (pour.at, pour.bed, days.cure.moment("strip").at):
        assert at is not None
        assert f"{at:%a} {at.day} {at:%b}, {at:%H:%M}" in text
    for rule in {w.refused[0].rule for w in days.cure.windows if w.refused}:
        assert flat(rule) in flat(text)


def test_the_cure_card_sets_the_saying_beside_models_and_data(days: DaysPlan, papers: dict[str, Paper]) -> None:
    text = text_of(papers["cure-card"])
    for part in ("about 80 % in three days", "22 mixes measured", "ACI 209, type I", "Mist", "wet burlap", "three days only"):
        assert part in text
    mist = next(f for f in days.figures if f.key == "cure.mist")
    assert f"every {show_figure(mist, 'us')}" in text


def test_every_figure_and_finding_of_the_days_is_on_its_sheet_and_cites_a_known_source(
    days: DaysPlan, papers: dict[str, Paper]
) -> None:
    text = flat(text_of(papers["day-calculations"]))
    for figure in days.figures:
        for part in (figure.key, show_figure(figure, "us"), spell(figure.cite)):
            assert flat(part) in text, (figure.key, part)
        assert all(spell(term.cite) for term in figure.inputs if term.cite is not None)
    for finding in days.findings:
        assert flat(spell(finding.cite)) in text
    for window in days.cure.windows:
        assert all(spell(reason.cite) for reason in window.refused)


def test_a_figure_of_the_days_is_explained(days: DaysPlan) -> None:
    found = find_figures(days, "cure.mist")
    assert isinstance(found, tuple)
    assert "film / evaporation" in explanation(found[0], "us")


def test_keys_of_figures_are_not_used_twice(days: DaysPlan) -> None:
    keys = [figure.key for figure in days.figures]
    assert len(keys) == len(set(keys))


def test_a_man_alone_has_a_longer_day_than_the_usual_two_hours(days: DaysPlan) -> None:
    pour, site = days.plan.concrete, days.choices.site
    assert pour is not None
    alone = hours_of_work(pour, replace(site, people=1, mixer=1, trip=300.0))
    assert alone > 2.0
    longer = replace(days.plan, job=replace(days.plan.job, pour=replace(days.choices, site=replace(site, people=1, trip=300.0))))
    made = plan_days(longer, days.hours)
    assert made is not None
    assert made.mixing is not None
    start = made.choices.site.start
    assert made.cure.choices.crew_hours * HOUR > made.mixing.batches.done - made.mixing.batches.batches[0].wet
    assert start == days.choices.site.start


def test_without_an_hour_that_will_do_there_is_a_plan_and_no_cards(days: DaysPlan) -> None:
    cold = replace(days.cure.choices.limits, air_low=60.0, mix_low=60.0)
    choices = replace(days.choices, cure=replace(days.choices.cure, limits=cold))
    made = plan_days(days.plan, days.hours, choices)
    assert made is not None
    names = [paper.name for paper in day_papers(made)]
    assert names == ["day-plan", "day-calculations"]
    assert "no hour will do" in text_of(day_papers(made)[0])
