"""Values of a job file as typed: text for showing, plain values for sending, names that may stand in a path."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

Values = Mapping[str, Any]
_PLAIN = frozenset('[]=,#"\\\n')


def typed_text(value: Any) -> str:
    """What was typed for a value, "" where nothing was."""
    if isinstance(value, Mapping):
        value = value.get("reads")
    if value is None or isinstance(value, bool | list | Mapping):
        return ""
    return str(getattr(value, "typed", value))


def is_plain(name: str) -> bool:
    """Whether a name may stand in a path."""
    return bool(name.strip()) and name == name.strip() and not _PLAIN & set(name) and len(name) < 30


def others(item: Values, asked: Sequence[str]) -> dict[str, Any]:
    """What stands in an item beside what is asked."""
    keys = {key.partition(".")[0] for key in asked}
    return {key: plain_value(value) for key, value in item.items() if key not in keys}


def plain_item(item: Values) -> Any:
    """A whole item, None where there is none."""
    return {key: plain_value(value) for key, value in item.items()} if item else None


def plain_value(value: Any) -> Any:
    """A value as JSON can carry it, still as typed."""
    if isinstance(value, Mapping):
        return {key: plain_value(part) for key, part in value.items()}
    if isinstance(value, list):
        return [plain_value(part) for part in value]
    if isinstance(value, bool) or value is None:
        return value
    return str(getattr(value, "typed", value))
