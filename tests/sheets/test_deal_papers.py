"""Papers for the customer: text that can be selected, the shipped typeface inside, what must stand there stands there."""

from __future__ import annotations

from datetime import date, datetime

import pypdfium2
import pytest

from crownwright.plan.plan_job import plan_job
from crownwright.price.business import Business
from crownwright.price.rows import example_book
from crownwright.service.open_job import open_demo
from crownwright.service.price_a_job import quote_a_plan, quote_pdf
from crownwright.sheets.calendar_visits import visits_of
from crownwright.sheets.papers.handover import Record, handover_paper, record_text, still_covered
from crownwright.sheets.papers.press import pdf


def text_of(data: bytes) -> str:
    made = pypdfium2.PdfDocument(data)
    return "\n".join(page.get_textpage().get_text_range() for page in made)


def test_a_draft_quote_and_a_handover() -> None:
    job = open_demo().job
    assert job is not None
    plan, firm = plan_job(job), Business(name="Marr Masonry")
    quote = quote_a_plan(plan, example_book(), firm, date(2026, 5, 3))
    assert not isinstance(quote, tuple), quote
    data = quote_pdf(quote, plan, "letter", 0)
    text = text_of(data)
    for says in (
        "Draft, not issued",
        "Marr Masonry",
        "R. Tallow",
        quote.options[0].price.gross.shown("en_US"),
        "Before and after",
    ):
        assert says in text
    assert b"FontFile" in data  # the typeface is inside
    record = Record(date(2026, 5, 20), 13, uncovered=("F1",), uncovered_by="E. Marr")
    assert still_covered(plan, record) == ("F2",)
    care = [v for v in visits_of("j", "x", "", datetime(2026, 5, 20, 9)) if v.key.startswith("care")]
    text = text_of(pdf(handover_paper(plan, firm, record, care), "a4", 0))
    assert "Not signed as uncovered: F2" in text
    assert "May 27, 2028" in text
    lines = record_text(plan, firm, record, care).split("\n")
    assert lines[0] == "Weir Cottage, kitchen stack, Oldbarrow"
    assert lines[1].startswith("Cap poured 2026-05-20, 54 1/4 in. x 43 1/4 in., 13 bags")
    assert lines[2:] == [
        "Flues open again: F1 (E. Marr)", "Look at the sealant: 2028-05-27, 2030-05-27, 2032-05-27", "Marr Masonry",
    ]  # fmt: skip
    with pytest.raises(KeyError, match="there are: Recast the cap"):
        quote.option("another")
