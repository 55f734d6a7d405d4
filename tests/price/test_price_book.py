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
    "strap,strap,tool,each,1,,,2026-01-01": ("row 2, column price", "there is none"),
    'strap,strap,tool,each,1,"1.234,56",,2026-01-01': ("row 2, column price", "en_US"),
    "strap,strap,tool,each,1,1.234,,2026-01-01": ("row 2, column price", "may be 1.234 or 1,234"),
    "strap,strap,tool,each,1,15 %,,2026-01-01": ("row 2, column price", "per cent"),
    "strap,strap,tool,each,1,$5.00,,2026-01-01": ("row 2, column price", "en_US"),
    "strap,strap,tool,each,1,1000000000,,2026-01-01": ("row 2, column price", "more than any price"),
    "rule margin,margin,rule,%,1,0.15,,2026-01-01": ("row 2, column price", "next to nothing"),
    "strap,strap,tool,each,1,5,,0026-01-01": ("row 2, column since", "not a date"),
    "strap,a\x07b,tool,each,1,5,,2026-01-01": ("row 2, column what", "cannot be seen"),
    'strap,"a,tool,each,1,5,,2026-01-01': ("row 2", "not closed"),
    "rule deposit,d,rule,%,1,60,,2026-01-01\nrule stage 1,poured,rule,%,1,40,,2026-01-01": (
        "row 3, column price",
        "100 per cent",
    ),
    "rule stage 1,when finished,rule,%,1,40,,2026-01-01": ("row 2, column what", "does not tell"),
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


def workbook(*rows: list[object], merge: str = "", shown: str = "") -> bytes:
    made = openpyxl.Workbook()
    sheet = made.active
    assert sheet is not None
    for row in rows:
        sheet.append(row)
    if merge:
        sheet.merge_cells(merge)
    if shown:
        sheet[shown].number_format = "0.00%"
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


HEADS: list[object] = ["Key", "what", "kind", "unit", "pack", "PRICE", "since"]
STRAP: list[object] = ["strap", "strap", "tool", "each", 1, 5, datetime(2026, 1, 1)]
SHEETS = (
    ({"merge": "F2:F3"}, [[*STRAP], ["bag", *STRAP[1:]]], ("row 2, cells F2:F3", "merged")),
    ({}, [[*STRAP[:5], "=2*3", STRAP[6]]], ("row 2, cell F2", "never worked out")),
    ({}, [[None] * 7, [*STRAP[:5], -1, STRAP[6]]], ("row 3, column price", "below nothing")),
    ({}, [[*STRAP[:4], True, *STRAP[5:]]], ("row 2, column pack", "not a number")),
    ({"shown": "F2"}, [[*STRAP[:5], 0.15, STRAP[6]]], ("row 2, column price", "per cent")),
    ({}, [[*STRAP[:6], 46023]], ("row 2, column since", "not a date")),
)


@pytest.mark.parametrize("case", range(len(SHEETS)))
def test_a_bad_cell_of_a_sheet_is_told_with_row_and_cell(case: int) -> None:
    how, rows, (where, what) = SHEETS[case]
    book, problems = book_of_bytes(workbook(HEADS, *rows, **how), "p.xlsx", Business())
    assert book is None
    assert any(p.where == where and what in p.what for p in problems), problems


def test_per_cent_is_read_as_it_is_shown_and_typed() -> None:
    rule: list[object] = ["rule margin", "m", "rule", "%", 1, 0.15, datetime(2026, 1, 1)]
    in_sheet, problems = book_of_bytes(workbook(HEADS, rule, shown="F2"), "p.xlsx", Business())
    assert in_sheet is not None, problems
    in_text, problems = parse_csv(HEAD + "rule margin,m,rule,%,1,15 %,,2026-01-01\n", "USD", "en_US")
    assert in_text is not None, problems
    assert in_sheet.rows[0].price == in_text.rows[0].price == 15


def test_rows_keep_the_numbers_a_spreadsheet_shows() -> None:
    """Comments, empty rows and a cell of two lines: the fault is in the sixth row."""
    text = (
        "# mine\n" + HEAD + '\nstrap,"two\nlines",tool,each,1,5,,2026-01-01\n# more\nx,x,tool,each,1,-6,,2026-01-01\nshort,row\n'
    )
    _, problems = parse_csv(text, "USD", "en_US")
    assert [p.where for p in problems] == ["row 7", "row 6, column price"]


@pytest.mark.parametrize("code", ["utf-8-sig", "utf-16"])
def test_a_byte_order_mark_is_no_letter_of_the_key(code: str) -> None:
    book, problems = book_of_bytes((HEAD + "strap,strap,tool,each,1,5,,2026-01-01\n").encode(code), "p.csv", Business())
    assert book is not None, problems


def test_a_letter_of_another_code_is_told_with_its_row() -> None:
    _, problems = book_of_bytes((HEAD + "strap,Gür,tool,each,1,5,,2026-01-01\n").encode("latin-1"), "p.csv", Business())
    assert problems[0].where == "p.csv, row 2"
    assert "'strap,G'" in problems[0].what


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
