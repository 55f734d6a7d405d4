"""Open the job book and lay out what the other verbs need."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from crownwright.book.jobs import Stamp
from crownwright.book.store import Book, BookError, open_book
from crownwright.service.desk.model import By
from crownwright.service.desk.pairing import Pairing
from crownwright.service.desk.planner import Planner
from crownwright.service.desk.signs import as_text


@dataclass(frozen=True, slots=True)
class Desk:
    """An open book, whoever plans for it, the pairing of phones under way, and the clock (UTC)."""

    book: Book
    planner: Planner
    pairing: Pairing
    clock: Callable[[], datetime]

    def now(self) -> str:
        """The time as the book keeps it: UTC, ISO 8601, to the second."""
        return self.clock().astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")

    def stamp(self, by: By) -> Stamp:
        """Who, from which device, and when."""
        return Stamp(as_text(by.who, 120) or "nobody named", as_text(by.device, 40), self.now())

    def close(self) -> None:
        """Let go of the book and of whoever plans."""
        self.planner.close()
        self.book.close()


def open_desk(
    address: str | Path | None = None, *, planners: int = 0, clock: Callable[[], datetime] = lambda: datetime.now(UTC)
) -> Desk:
    """Open the book at a path or database address; None is the usual place in the user's data folder, made if missing.

    ``planners`` is the number of processes that plan beside this one (0: planned here). Raises `BookError` with what to do.
    """
    place = _usual_place() if address is None else address
    at = clock().astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    return Desk(open_book(place, at), Planner(planners), Pairing(), clock)


def _usual_place() -> Path:
    folder = data_folder()
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        what = f"The folder {folder} cannot be made: {error.strerror or error}"
        raise BookError(what, "Name another place for the book with --book") from error
    return folder / "jobs.book"


def data_folder() -> Path:
    """Where this user's programs keep their data, by the custom of the system."""
    home = Path.home()
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA", home / "AppData" / "Local")) / "Crownwright"
    if sys.platform == "darwin":
        return home / "Library" / "Application Support" / "Crownwright"
    return Path(os.environ.get("XDG_DATA_HOME") or home / ".local" / "share") / "crownwright"
