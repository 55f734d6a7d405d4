"""Make a blank roof card: boxes for every reading of a first climb."""

from __future__ import annotations

from crownwright import __version__
from crownwright.plan.job import Units
from crownwright.service.write_papers import Size, usual_size


def blank_roof_card(units: Units, corners: int, flues: int, size: Size | None, made_at: int) -> bytes:
    """A blank roof card as PDF for a top with so many corners (3 to 8) and flues; ValueError outside that."""
    from crownwright.sheets.papers.press import pdf
    from crownwright.sheets.papers.roofcard import blank_card

    return pdf(blank_card(units, corners, flues, __version__), size or usual_size(units), made_at)
