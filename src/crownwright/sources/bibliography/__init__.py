"""The bibliography as data: one TOML file an area, merged by `crownwright.sources.bibliography.entries`."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Literal

from crownwright.quantity.working import Cite

How = Literal["whole", "quoted", "memory", "practice", "derived", "entered", "judgement"]


@dataclass(frozen=True, slots=True)
class Source:
    """One document: its title with edition and issuing body, and how its content was read (see ``how`` in the data files)."""

    key: str
    title: str
    how: How
    note: str = ""


@cache
def entries() -> dict[str, Source]:
    """Return all sources by key.

    Raises ValueError when two data files define the same key.
    """
    merged: dict[str, Source] = {}
    for file in sorted(resources.files(__name__).iterdir(), key=lambda f: f.name):
        if not file.name.endswith(".toml"):
            continue
        for key, row in tomllib.loads(file.read_text("utf-8")).items():
            if key in merged:
                raise ValueError(f"bibliography key {key!r} is defined twice, the second time in {file.name}")
            merged[key] = Source(key, row["title"], row["how"], row.get("note", ""))
    return merged


def spell(cite: Cite) -> str:
    """Return a citation as it is printed: title, clause, and how it is known where that is not from the source itself.

    Raises KeyError, naming the key, for a document that is not in the bibliography.

    >>> spell(Cite("practice", standing="common practice"))
    'common practice, no source'
    """
    if cite.document not in entries():
        raise KeyError(f"no source {cite.document!r} in the bibliography; add it to a file in sources/bibliography")
    if cite.document == "practice":
        return "common practice, no source"
    source = entries()[cite.document]
    text = source.title + (f", {cite.clause}" if cite.clause else "")
    return text + (" (from memory)" if cite.standing == "from memory" or source.how == "memory" else "")
