"""The published instances of sheets to cut, as the tests and the bench read them."""

from __future__ import annotations

import csv
from pathlib import Path

from crownwright.repair.nesting.lot import Lot

DATA = Path(__file__).parent / "data"


def table(name: str) -> list[dict[str, str]]:
    """Rows of one file of instances."""
    lines = (DATA / name).read_text("utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def lot_of(row: dict[str, str], *, turns: bool) -> Lot:
    """One published instance."""
    sizes = []
    for text in row["sizes"].split():
        size, _, count = text.partition("*")
        wide, _, high = size.partition("x")
        sizes.append((int(wide), int(high), int(count or 1)))
    wide, high, demand = zip(*sizes, strict=True)
    return Lot(wide, high, (turns,) * len(wide), demand, ((int(row["wide"]), int(row["high"])),), (1,), (10**6,))
