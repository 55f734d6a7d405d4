"""Documents as plain text values and back, for a book to store: every amount as decimal text, every date as ISO 8601."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import MISSING, Field, fields, is_dataclass
from datetime import date
from decimal import Decimal
from types import UnionType
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from crownwright.quantity.money import Money

Document = TypeVar("Document")
LATER = {"later": True}
"""Metadata of a field that documents did not have at first: at its default it is not written, so that a document kept before
reads, and its seal holds.
"""


def as_plain(value: Any) -> Any:
    """Return a document as values that JSON holds; TypeError for a float, which no document may have."""
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, Decimal):
        return str(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Money):
        return {"amount": str(value.amount), "currency": value.currency}
    if isinstance(value, tuple):
        return [as_plain(part) for part in value]
    if is_dataclass(value) and not isinstance(value, type):
        told = ((field, getattr(value, field.name)) for field in fields(value))
        return {field.name: as_plain(part) for field, part in told if not _unsaid(field, part)}
    raise TypeError(f"a {type(value).__name__} cannot stand in a document")


def _unsaid(field: Field[Any], value: Any) -> bool:
    return bool(field.metadata.get("later")) and field.default is not MISSING and value == field.default


def as_json(value: Any) -> str:
    """Return a document as JSON, the same text for the same document."""
    return json.dumps(as_plain(value), ensure_ascii=False, indent=1, sort_keys=True)


def seal(value: Any) -> str:
    """Return the hash by which a document that was altered can be told."""
    return hashlib.sha256(as_json(value).encode()).hexdigest()


def read_json(kind: type[Document], text: str) -> Document:
    """Return the document of a JSON text; ValueError where it is not one of this kind."""
    try:
        made = _read(kind, json.loads(text, parse_float=_no_float))
    except (KeyError, TypeError, ArithmeticError) as error:
        raise ValueError(f"this is no {kind.__name__.lower()} as it was kept: {error}") from None
    return made  # type: ignore[no-any-return]


def _no_float(text: str) -> Any:
    raise TypeError(f"{text} is not kept as text")


def _read(kind: Any, value: Any) -> Any:
    origin = get_origin(kind)
    if origin in (Union, UnionType):
        return None if value is None else _read(next(k for k in get_args(kind) if k is not type(None)), value)
    if origin is tuple:
        return tuple(_read(get_args(kind)[0], part) for part in value)
    if kind is Decimal:
        return Decimal(value)
    if kind is date:
        return date.fromisoformat(value)
    if isinstance(kind, type) and is_dataclass(kind):
        return _of_fields(kind, value)
    if isinstance(kind, type) and not isinstance(value, kind):
        raise TypeError(f"{value!r} is no {kind.__name__}")
    return value


def _of_fields(kind: type, value: Mapping[str, Any]) -> Any:
    hints = get_type_hints(kind)
    there = [field for field in fields(kind) if field.name in value or not field.metadata.get("later")]
    return kind(**{field.name: _read(hints[field.name], value[field.name]) for field in there})
