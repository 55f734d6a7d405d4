"""The price book: whole or not at all, every fault with row and column, CSV and XLSX round trips."""

from __future__ import annotations

import io
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.price.business import Business
from crownwright.price.pricebook import PriceBook, Row
from crownwright.price.rows import COLUMNS, example_book, parse_csv, write_csv
from crownwright.service.price_files import book_bytes, book_of_bytes, read_book

HEAD = "key,what,kind,unit,pack,price,tax,since\n"
BAD = {
    "strap,strap,tool,each,1,-5,,2026-01-01": ("row 2, column price", "below nothing"),
    "strap,strap,tool,each,0,5,,2026-01-01": ("row 2, column pack", "not above nothing"),
    "strap,strap,tool,each,1,,,2026-01-01": ("row 2, column price", "not a number"),
    "strap,strap,tool,each,1,five,,2026-01-01": ("row 2, column price", "not a number"),
    'strap,strap,tool,each,1,"5,50",,2026-01-01': ("row 2, column price", "en_US"),
    "strap,strap,tool,each,1,5,,01.02.2026": ("row 2, column since", "not a date"),
    "strap,strap,tool,bushel,1,5,,2026-01-01": ("row 2, column unit", "bushel"),
    "strap,strap,gadget,each,1,5,,2026-01-01": ("row 2, column kind", "gadget"),
    ",strap,tool,each,1,5,,2026-01-01": ("row 2, column key", "there is none"),
    "strap,strap,tool,each,1,5,moon,2026-01-01": ("row 2, column tax", "tax moon"),
    "labour mason,mason,labour,each,1,5,,2026-01-01": ("row 2, column unit", "labour is not counted in each"),
    "rule luck,luck,rule,%,1,5,,2026-01-01": ("row 2, column key", "no rule"),
    "tax a,tax,tax,%,1,100,,2026-01-01": ("row 2, column price", "whole or more"),
    "strap,strap,tool,each,1,5": ("row 2", "cells"),
}


@pytest.mark.parametrize("row", BAD)
def test_a_bad_row_is_told_with_row_and_column(row: str) -> None:
    book, problems = parse_csv(HEAD + row, "USD", "en_US")
    assert book is None
    where, what = BAD[row]
    assert any(p.where == where and what in p.what for p in problems), problems


def test_all_faults_come_at_once_and_nothing_is_taken_in() -> None:
    good = "strap,strap,tool,each,1,5.00,,2026-01-01"
    text = HEAD + "\n".join([good, good, "bag,bag,material,each,1,-1,,2026-13-01", "x,x,y,each,1,1,,2026-01-01"])
    book, problems = parse_csv(text, "USD", "en_US")
    assert book is None
    assert [p.where for p in problems] == [
        "row 4, column price", "row 4, column since", "row 5, column kind", "row 3, column key"]  # fmt: skip
    assert all(p.remedy for p in problems)


def test_margin_and_mark_up_at_once_missing_columns_and_no_rows() -> None:
    both = "rule margin,m,rule,%,1,10,,2026-01-01\nrule mark-up,m,rule,%,1,10,,2026-01-01"
    assert "both given" in parse_csv(HEAD + both, "USD", "en_US")[1][0].what
    _, problems = parse_csv("key,colour\nstrap,red\n", "USD", "en_US")
    said = {p.where for p in problems}
    assert {"row 1, column price", "row 1, column since", "row 1, column colour"} <= said
    assert parse_csv("", "USD", "en_US")[1][0].what == "there are no rows"


def test_the_example_goes_through_csv_and_xlsx_and_comes_back_the_same(tmp_path: Path) -> None:
    book = example_book()
    for name in ("prices.csv", "prices.xlsx"):
        path = tmp_path / name
        path.write_bytes(book_bytes(book, name))
        again, problems = read_book(path, Business())
        assert problems == ()
        assert again == book


def test_a_book_in_another_locale_and_a_sheet_with_numbers_and_dates() -> None:
    german = Business(currency="EUR", locale="de_DE")
    text = "key;what;kind;unit;pack;price;since\nestrich;Sack;material;each;1;1.006,48;2026-01-01\n"
    book, problems = book_of_bytes(text.encode(), "preise.csv", german)
    assert book is not None, problems
    assert book.rows[0].price == Decimal("1006.48")
    made = openpyxl.Workbook()
    sheet = made.active
    assert sheet is not None
    sheet.append(["key", "what", "kind", "unit", "pack", "price", "since"])
    sheet.append(["strap", "strap", "tool", "each", 1, 6.48, datetime(2026, 1, 1)])
    sheet.append([None] * 7)
    out = io.BytesIO()
    made.save(out)
    book, problems = book_of_bytes(out.getvalue(), "p.xlsx", german)
    assert book is not None, problems
    assert (book.rows[0].price, book.rows[0].since) == (Decimal("6.48"), date(2026, 1, 1))


@pytest.mark.parametrize("data", [b"", b"PK\x03\x04 no sheet", b"\xff\xfe\x00"])
@pytest.mark.parametrize("name", ["x.xlsx", "x.csv"])
def test_what_is_no_book_is_a_problem_and_no_crash(data: bytes, name: str) -> None:
    book, problems = book_of_bytes(data, name, Business())
    assert book is None
    assert problems


PRICES = st.decimals(0, 100_000, places=2)


NAMED = st.lists(st.tuples(st.text("abc \",;'é", min_size=1, max_size=8), PRICES), min_size=1, max_size=6)


@settings(max_examples=40)
@given(NAMED, st.sampled_from(["en_US", "de_DE", "fr_FR"]))
def test_any_book_reads_back_as_written(rows: list[tuple[str, Decimal]], locale: str) -> None:
    made = tuple(
        Row(f"k{n}", what.strip(), "material", "each", Decimal(1), price, "", date(2026, 1, 1))
        for n, (what, price) in enumerate(rows)
    )
    book = PriceBook(made, "EUR", locale)
    assert parse_csv(write_csv(book), "EUR", locale) == (book, ())
    assert write_csv(book).splitlines()[0] == ",".join(COLUMNS)
