"""The book's tables, in one place, and the named steps that bring an older book up to them.

A job's content is the text of its job file, readings exactly as typed; plans are recomputed and never kept. What was handed
to a customer is kept as the bytes that were handed over.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable

from sqlalchemy import (
    Column,
    Connection,
    ForeignKey,
    ForeignKeyConstraint,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
    inspect,
    select,
    text,
)

META = MetaData()

STEP = Table(
    "step",
    META,
    Column("name", String(80), primary_key=True),
    Column("done_at", String(32), nullable=False),
)
"""Which migrations this book has had."""

DEVICE = Table(
    "device",
    META,
    Column("id", String(40), primary_key=True),
    Column("name", String(120), nullable=False),
    Column("token_hash", String(64), unique=True),  # never the token itself
    Column("paired_at", String(32), nullable=False),
    Column("revoked_at", String(32)),
)

JOB = Table(
    "job",
    META,
    Column("id", String(40), primary_key=True),  # made where the job was begun, so that sending it twice is harmless
    Column("begun_at", String(32), nullable=False),
    Column("head", Integer, nullable=False),  # number of the newest revision
    Column("title", String(400), nullable=False),
    Column("customer", String(400), nullable=False, default=""),
    Column("place", String(400), nullable=False, default=""),
    Column("state", String(40), nullable=False),
    Column("next_visit", String(32)),
    Column("changed_at", String(32), nullable=False),
    Column("deleted_at", String(32)),
    Column("search", Text, nullable=False, server_default=""),  # title, customer and place with no difference of case
)
"""Its indexes are laid by `_lists_in_order`."""

REVISION = Table(
    "revision",
    META,
    Column("job", String(40), ForeignKey("job.id", ondelete="CASCADE"), primary_key=True),
    Column("number", Integer, primary_key=True),
    Column("made_at", String(32), nullable=False),
    Column("who", String(120), nullable=False),
    Column("device", String(40), nullable=False),
    Column("what", String(400), nullable=False),  # in words, for the list of revisions
    Column("restores", Integer),  # number of the revision whose text an undo brought back
    Column("text", Text, nullable=False),
    Column("state", String(40)),  # state of work as this revision left it; null in revisions older than these two columns
    Column("next_visit", String(32)),
)

ENTRY = Table(
    "entry",
    META,
    Column("id", String(40), primary_key=True),  # made on the phone: the same entry sent again is known by it
    Column("job", String(40), nullable=False),
    Column("revision", Integer, nullable=False),
    Column("device", String(40), nullable=False),
    Column("received_at", String(32), nullable=False),
    Column("change", Text, nullable=False),  # JSON, as sent
    ForeignKeyConstraint(["job", "revision"], ["revision.job", "revision.number"], ondelete="CASCADE"),
)

CONFLICT = Table(
    "conflict",
    META,
    Column("id", String(40), primary_key=True),  # the entry that came second
    Column("job", String(40), ForeignKey("job.id", ondelete="CASCADE"), nullable=False),
    Column("path", String(200), nullable=False),
    Column("theirs", Text, nullable=False),  # JSON of what stands in the job
    Column("mine", Text, nullable=False),  # JSON of what the second device sent
    Column("device", String(40), nullable=False),
    Column("found_at", String(32), nullable=False),
    Column("settled_at", String(32)),
    Column("kept", String(10)),  # "theirs" or "mine"
)

PHOTO = Table(
    "photo",
    META,
    Column("id", String(40), primary_key=True),
    Column("job", String(40), ForeignKey("job.id", ondelete="CASCADE"), nullable=False),
    Column("added_at", String(32), nullable=False),
    Column("taken_at", String(32)),
    Column("name", String(200), nullable=False),
    Column("note", Text, nullable=False, default=""),
    Column("where_x", String(32)),  # on the plan, metres in the survey's datum, as decimal text
    Column("where_y", String(32)),
    Column("original", LargeBinary, nullable=False),
    Column("upright", LargeBinary, nullable=False),  # JPEG, turned upright, no location
    Column("thumbnail", LargeBinary, nullable=False),
    Column("printed", LargeBinary),  # as papers show it; null in photos older than this column
    Column("sha256", String(64), nullable=False),
    Column("deleted_at", String(32)),
    UniqueConstraint("job", "sha256", name="photo_once"),
)

ISSUED = Table(
    "issued",
    META,
    Column("id", String(40), primary_key=True),
    Column("job", String(40), ForeignKey("job.id", ondelete="CASCADE"), nullable=False),
    Column("revision", Integer, nullable=False),
    Column("kind", String(40), nullable=False),  # quote, change order, invoice, hand-over ...
    Column("number", String(40), nullable=False, unique=True),
    Column("issued_at", String(32), nullable=False),
    Column("data", Text, nullable=False),  # JSON it was made from
    Column("paper", LargeBinary, nullable=False),  # the PDF as handed over
    Column("sha256", String(64), nullable=False),
)

SHELF = Table(
    "shelf",
    META,
    Column("place", String(80), primary_key=True),  # "prices", "firm", "forecast <job>"
    Column("name", String(200), nullable=False),
    Column("put_at", String(32), nullable=False),
    Column("data", LargeBinary, nullable=False),
)
"""Files that are no readings: the newest of each kind only."""


def _first_tables(connection: Connection) -> None:
    """The book as first laid down."""
    META.create_all(connection, [DEVICE, JOB, REVISION, ENTRY, CONFLICT, PHOTO, ISSUED])


def search_words(*texts: str) -> str:
    """What a search looks in: the texts with no difference of case, in any script (a database folds only some).

    >>> search_words("Étang Mill", "Ö. Quist")
    'étang mill ö. quist'
    """
    return unicodedata.normalize("NFC", " ".join(texts)).casefold()


def _words_to_search_by(connection: Connection) -> None:
    """Searches that find Étang by étang."""
    if "search" not in {column["name"] for column in inspect(connection).get_columns("job")}:
        connection.execute(text("ALTER TABLE job ADD COLUMN search TEXT NOT NULL DEFAULT ''"))
    for row in connection.execute(select(JOB.c.id, JOB.c.title, JOB.c.customer, JOB.c.place)).all():
        words = search_words(row.title, row.customer, row.place)
        connection.execute(JOB.update().where(JOB.c.id == row.id).values(search=words))


def _a_shelf(connection: Connection) -> None:
    """A place for forecasts and price books."""
    META.create_all(connection, [SHELF])


def _work_in_revisions(connection: Connection) -> None:
    """State of work and next visit kept with every revision, so that changing them can be undone."""
    there = {column["name"] for column in inspect(connection).get_columns("revision")}
    for name, kind in (("state", "VARCHAR(40)"), ("next_visit", "VARCHAR(32)")):
        if name not in there:
            connection.execute(text(f"ALTER TABLE revision ADD COLUMN {name} {kind}"))


def _photos_for_print(connection: Connection) -> None:
    """Photos kept at the size of a paper too, so that a quote need not make them small each time."""
    if "printed" not in {column["name"] for column in inspect(connection).get_columns("photo")}:
        kind = PHOTO.c.printed.type.compile(connection.dialect)
        connection.execute(text(f"ALTER TABLE photo ADD COLUMN printed {kind}"))


def _lists_in_order(connection: Connection) -> None:
    """An index for each order of the list, so that a page of it is read and nothing is sorted, and one for what belongs to a job.

    In a file, the order that a search goes through bears the words too: read in one run instead of from all over the table. A
    server's index takes no texts that long.
    """
    words = ", deleted_at, search, state" if connection.dialect.name == "sqlite" else ""
    for old in ("job_by_change", "job_by_visit"):
        connection.execute(text(f"DROP INDEX IF EXISTS {old}"))
    for index in (
        f"job_changed_last ON job (changed_at DESC, id{words}) WHERE deleted_at IS NULL",
        "job_next_visit ON job (next_visit, id) WHERE deleted_at IS NULL",
        "job_customer ON job (lower(customer), id) WHERE deleted_at IS NULL",
        "job_title ON job (lower(title), id) WHERE deleted_at IS NULL",
        "job_taken_out ON job (deleted_at, id) WHERE deleted_at IS NOT NULL",
        "conflict_of_job ON conflict (job)",
        "entry_of_revision ON entry (job, revision)",
        "issued_of_job ON issued (job)",
    ):
        connection.execute(text(f"CREATE INDEX IF NOT EXISTS {index}"))


MIGRATIONS: tuple[tuple[str, Callable[[Connection], None]], ...] = (
    ("2026-11 first tables", _first_tables),
    ("2026-11 words to search by", _words_to_search_by),
    ("2026-11 a shelf", _a_shelf),
    ("2026-11 work in revisions", _work_in_revisions),
    ("2026-11 photos for print", _photos_for_print),
    ("2026-11 lists in order", _lists_in_order),
)
"""In order; each runs once, in a transaction together with its record. A step finds the tables as any version since its own may
have made them, so it adds only what is not there.
"""


def steps_done(connection: Connection) -> set[str]:
    """Return the names of the migrations this book has had."""
    if not inspect(connection).has_table("step"):
        return set()
    return {row.name for row in connection.execute(STEP.select())}
