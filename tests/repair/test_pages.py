"""The page on flashing, order and years has every life of the table as it stands there."""

from __future__ import annotations

from pathlib import Path

from crownwright.repair.years import lives

PAGE = (Path(__file__).resolve().parents[2] / "docs" / "repair-work.md").read_text("utf-8")


def test_every_life_stands_on_the_page():
    rows = [line for line in PAGE.splitlines() if line.startswith("|")]
    for life in lives().values():
        low, high = life.years.mean - 2 * life.years.sd, life.years.mean + 2 * life.years.sd
        word = {"top": "top", "liner": "liner", "joints": "joints"}.get(life.part, life.part)
        assert any(row.startswith(f"| {word}") and f"| {low:.0f} to {high:.0f} |" in row for row in rows), life.part
