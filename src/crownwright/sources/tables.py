"""Published tables as CSV beside the code that uses them; lines that start with # say what the table is."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from importlib import resources
from typing import TypeVar

from crownwright.quantity.working import Standing

MARKS: Mapping[str, Standing] = {"R": "read", "M": "from memory", "D": "derived", "P": "common practice"}
"""What the one-letter mark in a table means."""

Row = TypeVar("Row")


def rows(package: str | None, file: str) -> list[dict[str, str]]:
    """Return the rows of a CSV table that lies in ``package``, each as {column: text}; comment lines are left out."""
    text = resources.files(package or "").joinpath(file).read_text("utf-8")
    return list(csv.DictReader(line for line in text.splitlines() if line.strip() and not line.startswith("#")))


def pick(table: Mapping[str, Row], key: str, what: str) -> Row:
    """Return one row by name; KeyError names the unknown key and lists the allowed ones.

    >>> pick({"a": 1}, "b", "letter")
    Traceback (most recent call last):
    KeyError: "no letter 'b'; there are: a"
    """
    if key not in table:
        raise KeyError(f"no {what} {key!r}; there are: {', '.join(table)}")
    return table[key]
