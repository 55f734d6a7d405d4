"""The drawings on sheets with border and title block, each printed true to its scale."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from crownwright.plan.model import Plan
from crownwright.sheets.draw.shapes import Drawing
from crownwright.sheets.papers.press import Paper
from crownwright.sheets.papers.say import common, picture

ROOM = 164.0  # mm high, inside border and title block on either size of page
BETWEEN = 11.0  # mm a second drawing on a sheet needs for its title


def drawing_sheets(plan: Plan, drawings: Sequence[Drawing]) -> Paper:
    """Return the drawings as a paper of one or more sheets; two share a sheet where both fit one under the other."""
    content = common(plan, "Drawings at scale: " + ", ".join(of.title.lower() for of in drawings) + ".")
    return Paper("drawings", "Drawings", "drawings", content | {"sheets": sheets_of(drawings)})


def sheets_of(drawings: Sequence[Drawing]) -> list[dict[str, Any]]:
    """Return the sheets that drawings fill, each with its title."""
    sheets = []
    for group in _grouped([picture(of, scaled=of.scale_says != "") for of in drawings]):
        sections = len(group) > 1 and all(of["title"].startswith("Section") for of in group)
        title = "Sections" if sections else " and ".join(of["title"] for of in group)
        sheets.append({"title": title, "drawings": group})
    return sheets


def _grouped(pictures: Sequence[dict[str, Any]]) -> list[list[dict[str, Any]]]:
    """Put neighbours on one sheet where their heights allow."""
    groups: list[list[dict[str, Any]]] = []
    room = 0.0
    for of in pictures:
        high = of["high"] + BETWEEN
        if groups and high <= room and len(groups[-1]) < 2:
            groups[-1].append(of)
            room -= high
        else:
            groups.append([of])
            room = ROOM - high
    return groups
