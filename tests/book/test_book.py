"""A job book keeps every revision, finds jobs again, and never half-saves."""

from __future__ import annotations

import sqlite3
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import event

from crownwright.book import jobs, revisions
from crownwright.book.jobs import Heading, Stamp
from crownwright.book.schema import STEP
from crownwright.book.store import Book, BookError, open_book

STAMP = Stamp("Ansel", "phone-1", "2026-11-25T08:00:00Z")
HEADING = Heading("North stack, Heron Lane", "M. Okafor", "12 Heron Lane")


def test_a_job_begun_twice_is_there_once(book: Book) -> None:
    with book.writing() as c:
        first = jobs.begin(c, "j1", "title = 'x'", HEADING, STAMP)
        again = jobs.begin(c, "j1", "something else", Heading("other"), STAMP)
    assert first == again
    with book.reading() as c:
        assert revisions.newest(c, "j1").text == "title = 'x'"


def test_every_revision_is_kept_and_a_stale_save_is_refused(book: Book) -> None:
    with book.writing() as c:
        jobs.begin(c, "j1", "one", HEADING, STAMP)
        revisions.add(c, "j1", 1, "two", HEADING, replace(STAMP, at="2026-11-25T09:00:00Z"), "tape AB read")
    with pytest.raises(revisions.StaleError) as stale, book.writing() as c:
        revisions.add(c, "j1", 1, "three", HEADING, STAMP, "from another phone")
    assert stale.value.head == 2
    with book.reading() as c:
        assert [r.text for r in revisions.texts(c, "j1")] == ["one", "two"]
        assert jobs.need(c, "j1").changed_at == "2026-11-25T09:00:00Z"


def test_a_failed_block_keeps_nothing(book: Book) -> None:
    with pytest.raises(RuntimeError), book.writing() as c:  # noqa: PT012
        jobs.begin(c, "j1", "one", HEADING, STAMP)
        raise RuntimeError
    with book.reading() as c:
        assert jobs.find(c, "j1") is None


def test_search_takes_every_word_and_no_wildcards(book: Book) -> None:
    with book.writing() as c:
        for k, place in enumerate(("12 Heron Lane", "100% Farm", "3 Mill_Row")):
            jobs.begin(c, f"j{k}", "x", Heading("North stack", f"customer {k}", place), STAMP)
    with book.reading() as c:
        assert [r.id for r in jobs.listed(c, "heron north")[0]] == ["j0"]
        assert [r.id for r in jobs.listed(c, "100%")[0]] == ["j1"]
        assert [r.id for r in jobs.listed(c, "l_r")[0]] == ["j2"]
        assert jobs.listed(c, most=2)[1] == 3


def test_taken_out_can_be_brought_back_until_cleared(book: Book) -> None:
    with book.writing() as c:
        jobs.begin(c, "j1", "x", HEADING, STAMP)
        jobs.take_out(c, "j1", "2026-12-01T00:00:00Z")
        assert jobs.listed(c)[1] == 0
        assert jobs.may_go(c, "2026-12-01T00:00:00Z") == ()
        jobs.bring_back(c, "j1")
        assert jobs.listed(c)[1] == 1
        jobs.take_out(c, "j1", "2026-12-01T00:00:00Z")
        assert [row.id for row in jobs.may_go(c, "2026-12-31T00:00:00Z")] == ["j1"]
        jobs.clear(c, "j1")
        assert jobs.find(c, "j1") is None


def test_visits_sort_with_the_undated_last(book: Book) -> None:
    with book.writing() as c:
        for k, visit in enumerate((None, "2026-12-03", "2026-12-01")):
            jobs.begin(c, f"j{k}", "x", HEADING, STAMP, work=jobs.Work("asked", visit))
        assert [r.id for r in jobs.listed(c, order="visit")[0]] == ["j2", "j1", "j0"]


def test_a_page_of_the_list_tells_how_many_there_are_and_past_its_end_too(book: Book) -> None:
    with book.writing() as c:
        for k in range(5):
            jobs.begin(c, f"j{k}", "x", Heading(f"North {k}", "abc"[k % 3]), STAMP)
        jobs.take_out(c, "j4", STAMP.at)
    with book.reading() as c:
        for words in ("", "north"):
            pages = [jobs.listed(c, words, "customer", first=first, most=2) for first in (0, 2, 4, 99)]
            assert [count for _, count in pages] == [4, 4, 4, 4]
            assert [row.id for page, _ in pages for row in page] == ["j0", "j3", "j1", "j2"]
        assert jobs.listed(c, "nobody") == ((), 0)


@pytest.mark.parametrize("order", jobs.ORDERS)
def test_a_page_of_the_list_is_read_in_order_and_nothing_is_sorted(book: Book, order: jobs.Order) -> None:
    """However long the book is. A server is told that it must not sort where it can do without, as it would with many jobs."""
    asked: list[tuple[str, Any]] = []
    event.listen(book.engine, "before_cursor_execute", lambda _c, _cursor, sql, values, *_: asked.append((sql, values)))
    with book.reading() as c:
        jobs.listed(c, order=order)
        sql, values = next(said for said in asked if "ORDER BY" in said[0])
        if c.dialect.name == "postgresql":
            c.exec_driver_sql("SET LOCAL enable_sort = off")
            c.exec_driver_sql("SET LOCAL enable_seqscan = off")
        plan = c.exec_driver_sql(("EXPLAIN QUERY PLAN " if c.dialect.name == "sqlite" else "EXPLAIN ") + sql, values)
        told = "\n".join(" ".join(map(str, row)) for row in plan)
    assert "job_" in told
    assert "SORT" not in told.upper()
    assert "ORDER BY" not in told


def test_the_last_change_is_told_of_jobs_taken_out_too(book: Book) -> None:
    with book.writing() as c:
        assert jobs.changed_last(c) is None
        jobs.begin(c, "j1", "x", HEADING, STAMP)
        jobs.begin(c, "j2", "x", HEADING, replace(STAMP, at="2026-11-26T08:00:00Z"))
        for job in ("j1", "j2"):
            last = jobs.changed_last(c)
            assert last is not None
            assert last.id == "j2"
            jobs.take_out(c, job, "2026-11-27T08:00:00Z")


def test_an_entry_is_known_by_its_id(book: Book) -> None:
    with book.writing() as c:
        jobs.begin(c, "j1", "x", HEADING, STAMP)
        assert revisions.entry_seen(c, "e1") is None
        revisions.note_entry(c, "e1", "j1", 1, "{}", STAMP)
        assert revisions.entry_seen(c, "e1") == 1


def test_a_newer_book_is_not_touched(book: Book, address: str) -> None:
    with book.writing() as c:
        c.execute(STEP.insert().values(name="2099-01 something", done_at=STAMP.at))
    with pytest.raises(BookError, match="newer version"):
        open_book(address, STAMP.at)


def test_a_file_that_is_no_book_is_told(tmp_path: Path) -> None:
    path = tmp_path / "notes.txt"
    path.write_text("not a book at all, but long enough to be read as a file of another kind" * 40)
    with pytest.raises(BookError, match="not a job book"):
        open_book(path, STAMP.at)


def test_a_second_writer_waits_for_the_first(tmp_path: Path) -> None:
    path = tmp_path / "jobs.book"
    book = open_book(path, STAMP.at)
    other = sqlite3.connect(path, timeout=0.1)
    with book.writing() as c:
        jobs.begin(c, "j1", "x", HEADING, STAMP)
        with pytest.raises(sqlite3.OperationalError, match="locked"):
            other.execute("BEGIN IMMEDIATE")
    other.close()
    book.close()
