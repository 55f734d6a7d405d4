"""docs/repair.md lists every finding with the thresholds that the program judges by."""

from __future__ import annotations

import importlib.util
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def test_the_page_is_current():
    spec = importlib.util.spec_from_file_location("make_repair", ROOT / "docs" / "make_repair.py")
    assert spec is not None
    made = importlib.util.module_from_spec(spec)
    assert spec.loader is not None
    spec.loader.exec_module(made)
    text = (ROOT / "docs" / "repair.md").read_text("utf-8")
    assert text == made.page(text), "run docs/make_repair.py"
