"""The words of the trade: every name that docs/words.md gives is a field of the model, and every row says what it is."""

import importlib
import re
from dataclasses import fields
from pathlib import Path

import pytest

from crownwright.survey.readings import Drop, Offset

PAGE = Path(__file__).resolve().parents[2] / "docs" / "words.md"
ROWS = [
    [cell.strip() for cell in line.strip("|").split(" | ")] for line in PAGE.read_text("utf-8").splitlines() if line[:2] == "| "
]
WORDS = [row for row in ROWS if row[0] != "word"]
NAMES = sorted({name for row in WORDS for name in re.findall(r"`([^`]+)`", row[2])})


@pytest.mark.parametrize("name", NAMES)
def test_a_name_is_a_field_of_the_model(name: str) -> None:
    module, kind, field = name.rsplit(".", 2)
    assert field in {one.name for one in fields(getattr(importlib.import_module(f"crownwright.{module}"), kind))}


def test_every_word_is_told_once_and_says_what_it_is() -> None:
    words = [word for row in WORDS for word in row[0].split(", ")]
    assert len(set(words)) == len(words) > 50
    assert all(len(row[1]) > 12 for row in WORDS)


def test_what_is_read_at_a_face_and_on_top_has_its_word() -> None:
    told = {name.rsplit(".", 1)[1] for name in NAMES}
    where = {"side", "along", "place"}  # these say where, not what
    assert {one.name for kind in (Offset, Drop) for one in fields(kind)} - where <= told
