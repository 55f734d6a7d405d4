"""The charts and papers of the days as files."""

from __future__ import annotations

from collections.abc import Iterator

from crownwright.cure.on_the_day import Revision
from crownwright.plan.days import DaysPlan
from crownwright.service.write_papers import Size, usual_size


def drawn_days(days: DaysPlan) -> Iterator[tuple[str, bytes]]:
    """Names and contents of the charts: the hours to begin, and where a pour was followed its cure."""
    from crownwright.sheets.draw.svg import svg
    from crownwright.sheets.drawings.days import cure_chart, window_chart

    yield "days.svg", svg(window_chart(days.cure)).encode()
    if days.cure.course is not None:
        yield "cure.svg", svg(cure_chart(days.cure, days.plan.job.units)).encode()


def printed_days(
    days: DaysPlan, size: Size | None, made_at: int, names: tuple[str, ...] = (), number: str = ""
) -> Iterator[tuple[str, bytes]]:
    """Names and contents of the papers: day plan, batch card, cure card, calculations (or of those ``names`` alone); ``made_at``
    UNIX seconds, ``number`` the one they are handed out under.
    """
    from crownwright.sheets.papers.days import day_papers
    from crownwright.sheets.papers.press import pdfs

    papers = [paper for paper in day_papers(days) if not names or paper.name in names]
    for name, data in pdfs(papers, size or usual_size(days.plan.job.units), made_at, number):
        yield f"{name}.pdf", data


def printed_revision(
    days: DaysPlan, revision: Revision, size: Size | None, made_at: int, number: str = ""
) -> Iterator[tuple[str, bytes]]:
    """Names and contents of what the log of the pour day moves: the cure chart and the cure card as they are now."""
    from crownwright.plan.days import as_revised
    from crownwright.sheets.draw.svg import svg
    from crownwright.sheets.drawings.days import cure_chart
    from crownwright.sheets.papers.cure_card import cure_card
    from crownwright.sheets.papers.press import pdfs

    now = as_revised(days, revision)
    units = days.plan.job.units
    yield "cure-now.svg", svg(cure_chart(now.cure, units)).encode()
    for name, data in pdfs((cure_card(now, revision.moved),), size or usual_size(units), made_at, number):
        yield f"{name}-now.pdf", data
