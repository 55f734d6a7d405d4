"""The guide: every step has its picture, all of them small, and the page of the docs says what the page of the app says."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest
from PIL import Image
from starlette.testclient import TestClient

from crownwright.web.page import STATIC
from crownwright.web.pages.help import guide

ROOT = Path(__file__).resolve().parents[2]
MOST = 1_000_000  # bytes of pictures that come with the program


def test_the_guide_opens_with_every_step_and_its_picture(client: TestClient) -> None:
    page = client.get("/help")
    assert page.status_code == 200
    for step in guide():
        assert f'id="{step["key"]}"' in page.text
        assert step["says"][0][:40] in page.text
        if "at" in step:
            assert f"help/{step['key']}.webp" in page.text


@pytest.mark.parametrize("step", [step for step in guide() if "at" in step], ids=lambda step: step["key"])
def test_every_step_leads_to_a_page_that_is_there(client: TestClient, step: dict[str, str]) -> None:
    assert client.get(step["at"].format(job="sample")).status_code == 200


def test_the_pictures_are_of_a_phone_and_small_together() -> None:
    pictures = sorted((STATIC / "help").glob("*.webp"))
    assert len(pictures) == sum("at" in step for step in guide())
    assert sum(path.stat().st_size for path in pictures) < MOST
    for path in pictures:
        with Image.open(path) as picture:
            assert picture.size == (360, 740)


def test_the_page_of_the_docs_is_current() -> None:
    spec = importlib.util.spec_from_file_location("make_guide", ROOT / "docs" / "make_guide.py")
    assert spec is not None
    assert spec.loader is not None
    made = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(made)
    assert (ROOT / "docs" / "guide.md").read_text("utf-8") == made.written()
