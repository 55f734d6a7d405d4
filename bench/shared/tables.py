"""A table in docs/bench with a row for each database: a run on one of them leaves the other's row as it was."""

from __future__ import annotations

import os
import statistics
from collections.abc import Sequence
from pathlib import Path


def keep_row(table: Path, says: str, head: str, row: str) -> None:
    """Put a row into a table, in place of the one that begins with the same cell.

    Args:
        table: the file; made where there is none.
        says: what stands above the table.
        head: its head, as ``| database | saves |``.
        row: one row in the same form.
    """
    old = table.read_text("utf-8").splitlines() if table.exists() else []
    kept = [line for line in old if line.startswith("| ") and _first(line) not in (_first(head), _first(row))]
    rule = "|" + "---|" * (head.count("|") - 1)
    table.write_text("\n".join([says + head, rule, *sorted([*kept, row])]) + "\n", "utf-8")


def _first(row: str) -> str:
    return row.split("|")[1].strip()


def p95(times: Sequence[float]) -> float:
    """The time that one in twenty is longer than."""
    return statistics.quantiles(times, n=20)[-1]


def load() -> str:
    """How many processes wanted the processor in the last minute, on how many cores."""
    return f"{os.getloadavg()[0]:.0f} on {os.cpu_count()}"
