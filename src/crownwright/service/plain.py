"""Results as plain values for JSON: dataclasses as objects, arrays as lists, problems and findings as they are."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from decimal import Decimal
from enum import Enum
from math import isfinite
from pathlib import Path
from typing import Any


def plain(value: Any) -> Any:
    """A value as JSON can hold it. Numbers that are none (nan, inf) become null; things with no plain form, their name."""
    if value is None or isinstance(value, bool | int):
        return value
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, str):
        return str(value)
    if isinstance(value, float):
        return float(value) if isfinite(value) else None
    if isinstance(value, Decimal | Path):
        return str(value)
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): plain(part) for key, part in value.items()}
    if isinstance(value, list | tuple | set | frozenset):
        return [plain(part) for part in value]
    return plain(value.tolist()) if hasattr(value, "tolist") else type(value).__name__
