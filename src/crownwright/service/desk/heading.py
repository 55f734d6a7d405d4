"""What the list of jobs shows of a job, taken from its text."""

from __future__ import annotations

from typing import Any

from crownwright.book.jobs import Heading
from crownwright.service.jobfile.syntax import parse_toml

UNNAMED = "no title yet"


def heading_of(text: str) -> Heading:
    """Title, customer and place as typed; a text that cannot be read has none."""
    return heading_from(parse_toml(text, "job.toml").values)


def heading_from(values: dict[str, Any]) -> Heading:
    """Title, customer and place of a job's values."""
    title, customer, place = (_text(values.get(key)) for key in ("title", "customer", "place"))
    return Heading(title or UNNAMED, customer, place)


def _text(value: Any) -> str:
    return " ".join(value.replace("\x00", "").split())[:400] if isinstance(value, str) else ""
