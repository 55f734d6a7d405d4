"""Targets, gaps, text and contrast of a page as a browser shows it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import Page

SCRIPT = (Path(__file__).parent / "measure.js").read_text("utf-8")
LEAST_TARGET, LEAST_GAP, LEAST_CONTRAST, LEAST_TEXT = 64.0, 8.0, 7.0, 18.0  # px, px, ratio, px: on the roof's pages
LEAST_TARGET_ELSEWHERE = 44.0
HAIR = 0.06  # px; layout rounds to sixty-fourths


@dataclass(frozen=True, slots=True)
class Measured:
    """The smallest of each on a page, and everything by itself: (what it is called, how much)."""

    targets: tuple[tuple[str, float], ...]
    in_lines: frozenset[str]
    gaps: tuple[tuple[str, float], ...]
    texts: tuple[tuple[str, float], ...]
    contrasts: tuple[tuple[str, float], ...]
    wide: float
    room: float

    def least(self) -> tuple[float, float, float, float]:
        """Smallest target, gap, contrast and text."""
        found = (self.targets, self.gaps, self.contrasts, self.texts)
        return tuple(min((size for _, size in some), default=float("inf")) for some in found)  # type: ignore[return-value]

    def too_small(self) -> list[str]:
        """What is smaller than the roof's pages may have it."""
        wanted = (
            ("target", self.targets, LEAST_TARGET),
            ("gap", self.gaps, LEAST_GAP),
            ("contrast", self.contrasts, LEAST_CONTRAST),
            ("text", self.texts, LEAST_TEXT),
        )
        return [f"{what} {size:.1f}: {name}" for what, some, least in wanted for name, size in some if size < least - HAIR]

    def small_elsewhere(self) -> list[str]:
        """Targets smaller than any page may have them, but for links in a line of text (WCAG 2.2, 2.5.8, excepts those)."""
        small = ((name, size) for name, size in self.targets if size < LEAST_TARGET_ELSEWHERE - HAIR)
        return [f"target {size:.1f}: {name}" for name, size in small if name not in self.in_lines]


def measure(page: Page) -> Measured:
    """Measure a page as it is shown now."""
    found: dict[str, Any] = page.evaluate(SCRIPT)
    return Measured(
        tuple((one["name"], one["least"]) for one in found["targets"]),
        frozenset(one["name"] for one in found["targets"] if one["inline"]),
        tuple((one["names"], one["gap"]) for one in found["near"]),
        tuple((one["name"], one["size"]) for one in found["texts"]),
        tuple((one["name"], one["contrast"]) for one in found["texts"]),
        found["wide"],
        found["room"],
    )
