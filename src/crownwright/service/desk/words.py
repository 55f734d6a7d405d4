"""A change in words, for the list of revisions and for comparing: "tape AB: 53 1/2, was 53 3/4"."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from crownwright.service.desk.paths import NOTHING, New, Part, Which, read_path

LONGEST = 400
ONE = {"tapes": "tape", "offsets": "offset", "drops": "drop", "flues": "flue", "corners": "corner", "higher": "higher thing",
       "batches": "batch", "temperatures": "temperature", "events": "event"}  # fmt: skip
"""What one item of a list is called."""


def in_words(done: Iterable[tuple[str, Any, Any]]) -> str:
    """Changes in words, no longer than the book keeps."""
    parts = [f"{name_of(path, before if after is NOTHING else after)}: {_moved(before, after)}" for path, before, after in done]
    text = "; ".join(parts[:4]) + (f"; and {len(parts) - 4} more" if len(parts) > 4 else "")
    return text if len(text) <= LONGEST else text[: LONGEST - 3] + "..."


def name_of(path: str, item: Any = None) -> str:
    """A place in words.

    >>> name_of("readings.tapes[start=A,end=B].reads"), name_of("cap.overhang_least"), name_of("readings.flues[0].outside")
    ('tape AB', 'cap: overhang least', 'flue 1: outside')
    """
    parts = read_path(path)
    if not isinstance(parts, tuple):
        return path
    words = [_word(part, before, item) for before, part in zip((None, *parts), parts, strict=False)]
    if parts[0] in ("readings", "quick") and len(parts) > 1:
        words = words[1:]
    if parts[-1] == "reads" and len(words) > 1:
        words = words[:-1]
    return ": ".join(word for word in words if word)


def _word(part: Part, before: Part | None, item: Any) -> str:
    match part:
        case str():
            return "" if part in ONE else part.replace("_", " ")
        case Which(says, nth):
            names = "".join(value if key in ("start", "end") else f" {value}" for key, value in says).strip()
            return f"{_one(before)} {names}" + (f", reading {nth}" if nth > 1 else "")
        case New():
            return f"{_one(before)} {said(item)}" if isinstance(item, Mapping) and _ends(item) else f"new {_one(before)}"
        case _:
            return f"{_one(before)} {part + 1}"


def _one(before: Part | None) -> str:
    return ONE.get(str(before), str(before).replace("_", " "))


def _ends(item: Mapping[str, Any]) -> bool:
    return any(key in item for key in ("start", "name", "corner", "side"))


def said(item: Mapping[str, Any]) -> str:
    """An item of a list by its names: AB, F1, side BC."""
    if "start" in item:
        return f"{item['start']}{item.get('end', '')}"
    return str(item.get("name") or item.get("corner") or item.get("side") or "")


def _moved(before: Any, after: Any) -> str:
    if after is NOTHING:
        return "taken away"
    return shown(after) + ("" if before is NOTHING else f", was {shown(before)}")


def shown(value: Any) -> str:
    """A value as typed, short."""
    if value is NOTHING or value is None:
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Mapping):
        return ", ".join(f"{str(key).replace('_', ' ')} {shown(part)}" for key, part in value.items())[:120]
    if isinstance(value, list | tuple):
        return (" ".join(map(shown, value)) if len(value) <= 6 else f"{len(value)} of them")[:120]
    text = " ".join(str(getattr(value, "typed", value)).split())
    return text if len(text) <= 80 else text[:77] + "..."
