"""Back a book up into one file, and bring a backup back."""

from __future__ import annotations

import os
import shutil
from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory

from crownwright.book.backup import copy_book
from crownwright.book.store import BookError, open_book
from crownwright.service.desk.open_desk import Desk


def back_up(desk: Desk, path: Path) -> Mapping[str, int]:
    """Write the book as it stands at this moment into a new file, whole or not at all, whichever database it is kept in.

    The file is itself a book. Returns how many rows of each table it has. Raises `BookError`.
    """
    if path.exists():
        raise BookError(f"There is a file {path} already", "Name a new one; a backup is never put over another")
    part = path.with_name(f".{path.name}.part")
    _away(part)
    try:
        target = open_book(part, desk.now())
        try:
            counts = copy_book(desk.book, target)
        finally:
            target.close()  # the last to close it folds its log into the one file
        os.replace(part, path)
    except OSError as error:
        raise BookError(f"{path} cannot be written: {error.strerror or error}", "Name another place") from error
    finally:
        _away(part)
    return counts


def restore_book(desk: Desk, path: Path) -> Mapping[str, int]:
    """Bring a backup back into the desk's book, which must be empty. Raises `BookError`."""
    if not path.is_file():
        raise BookError(f"There is no file {path}", "Look at the name of the backup")
    with TemporaryDirectory() as folder:
        copy = Path(folder) / "backup.book"  # one of an older version is brought up, and a backup must stay as it is
        shutil.copyfile(path, copy)
        source = open_book(copy, desk.now())
        try:
            return copy_book(source, desk.book)
        finally:
            source.close()


def _away(part: Path) -> None:
    for name in (part.name, part.name + "-wal", part.name + "-shm"):
        part.with_name(name).unlink(missing_ok=True)
