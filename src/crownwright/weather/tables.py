"""Text tables as weather files have them: bounded, split, numbers read with the missing ones as NaN."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

import numpy as np

from crownwright.quantity.problems import Problem
from crownwright.weather.hours import Floats

LARGEST = 20_000_000  # characters; a year of hours in the widest format is a tenth of that
MOST_ROWS = 24 * 400


def as_text(data: str | bytes, where: str) -> tuple[str | None, tuple[Problem, ...]]:
    """Return the file's text, or the one problem that stops: too long, or not text."""
    if len(data) > LARGEST:
        what = f"{len(data) / 1e6:.0f} MB is too long for hourly weather (limit {LARGEST / 1e6:.0f} MB); it was not read"
        return None, (Problem(where, what, "Cut it down to the weeks that matter."),)
    if isinstance(data, str):
        return data, ()
    try:
        return data.decode("utf-8-sig"), ()
    except UnicodeDecodeError:
        return data.decode("latin-1"), ()  # old weather files carry place names so; their numbers are plain


def split_rows(text: str) -> list[list[str]]:
    """Return the rows that are not blank; raise ValueError when a quoted field never ends or there are too many rows."""
    try:
        rows = [row for row in csv.reader(io.StringIO(text), strict=True) if any(field.strip() for field in row)]
    except csv.Error as fault:
        raise ValueError(f"not readable as comma-separated text ({fault})") from None
    if len(rows) > MOST_ROWS:
        raise ValueError(f"{len(rows)} rows are more than {MOST_ROWS // 24} days of hours")
    return rows


def number(text: str) -> float:
    """Return a number, NaN for an empty field or one of the usual marks of a missing value; raise ValueError for other text.

    >>> number(" 12.5 "), number("")
    (12.5, nan)
    """
    bare = text.strip()
    if bare.lower() in {"", "na", "n/a", "nan", "null", "none", "-", "--", "m"}:
        return float("nan")
    value = float(bare)
    if np.isinf(value) or "_" in bare:
        raise ValueError(bare[:20])
    return value


def column(rows: Sequence[Sequence[str]], index: int, missing: Iterable[float] = ()) -> Floats:
    """Return one column as numbers, with the format's own missing marks as NaN; raise ValueError naming row and text."""
    values = np.empty(len(rows))
    for i, row in enumerate(rows):
        try:
            values[i] = number(row[index])
        except (ValueError, IndexError):
            told = row[index][:20] if index < len(row) else "nothing"
            raise ValueError(f"{told!r} in data row {i + 1} is not a number") from None
    for mark in missing:
        values[values == mark] = np.nan
    return values
