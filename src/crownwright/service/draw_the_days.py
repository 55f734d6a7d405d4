"""The charts of the days as files."""

from __future__ import annotations

from collections.abc import Iterator

from crownwright.plan.days import DaysPlan


def drawn_days(days: DaysPlan) -> Iterator[tuple[str, bytes]]:
    """Names and contents of the charts: the hours to begin, and where a pour was followed its cure."""
    from crownwright.sheets.draw.svg import svg
    from crownwright.sheets.drawings.days import cure_chart, window_chart

    yield "days.svg", svg(window_chart(days.cure)).encode()
    if days.cure.course is not None:
        yield "cure.svg", svg(cure_chart(days.cure, days.plan.job.units)).encode()
