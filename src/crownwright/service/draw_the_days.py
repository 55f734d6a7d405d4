"""The charts and papers of the days as files."""

from __future__ import annotations

from collections.abc import Iterator

from crownwright.plan.days import DaysPlan
from crownwright.service.write_papers import Size, usual_size


def drawn_days(days: DaysPlan) -> Iterator[tuple[str, bytes]]:
    """Names and contents of the charts: the hours to begin, and where a pour was followed its cure."""
    from crownwright.sheets.draw.svg import svg
    from crownwright.sheets.drawings.days import cure_chart, window_chart

    yield "days.svg", svg(window_chart(days.cure)).encode()
    if days.cure.course is not None:
        yield "cure.svg", svg(cure_chart(days.cure, days.plan.job.units)).encode()


def printed_days(days: DaysPlan, size: Size | None, made_at: int) -> Iterator[tuple[str, bytes]]:
    """Names and contents of the papers: day plan, batch card, cure card, calculations; ``made_at`` UNIX seconds."""
    from crownwright.sheets.papers.days import day_papers
    from crownwright.sheets.papers.press import pdfs

    for name, data in pdfs(day_papers(days), size or usual_size(days.plan.job.units), made_at):
        yield f"{name}.pdf", data
