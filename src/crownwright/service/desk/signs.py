"""Texts that come from outside: which signs a book can hold, and how deep and large what is sent may be."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

_NONE = re.compile("[\x00\ud800-\udfff]")
DEEPEST = 8
LARGEST = 2**53  # whole numbers beyond this are no two the same on a phone


def is_text(text: str) -> bool:
    """Whether every sign of a text can be kept: no zero byte, no half of a sign.

    >>> is_text("Étang 4' 5½\\""), is_text("a\\x00"), is_text("\\ud800")
    (True, False, False)
    """
    return _NONE.search(text) is None


def as_text(value: object, most: int) -> str:
    """What can be kept of a text, no longer than ``most``; nothing where it is none.

    >>> as_text("<b>\\x00\\ud800é", 4), as_text(7, 4)
    ('<b>é', '')
    """
    return _NONE.sub("", value)[:most] if isinstance(value, str) else ""


def wrong_value(value: Any, depth: int = 0) -> str | None:
    """Why a value cannot be one of a job, in words; None when it can."""
    if depth > DEEPEST:
        return "tables within tables, too deep"
    if isinstance(value, str):
        return None if is_text(value) else "it holds a sign that is none"
    if isinstance(value, bool) or (isinstance(value, int) and abs(value) < LARGEST):
        return None
    if isinstance(value, float):
        return None if abs(value) < 1e15 else "that is no number"
    if isinstance(value, list | tuple):
        return next((wrong for part in value if (wrong := wrong_value(part, depth + 1))), None)
    if isinstance(value, Mapping):
        parts = (*map(str, value), *value.values())
        return next((wrong for part in parts if (wrong := wrong_value(part, depth + 1))), None)
    return "that is neither text nor a number"
