"""An app on a fresh book with one whole job in it, without weather yet, asked from this machine."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from crownwright.service.desk.begin_job import begin_from_text
from crownwright.service.desk.model import By
from crownwright.service.desk.open_desk import Desk, open_desk
from crownwright.service.open_job import open_demo
from crownwright.web.app import build_app

HOME = "http://localhost"


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    desk = open_desk(tmp_path / "jobs.book", clock=lambda: datetime(2026, 5, 3, 12, 0, tzinfo=UTC))
    begin_from_text(desk, By("E. Marr"), "sample", open_demo().text)
    yield desk
    desk.close()


@pytest.fixture
def client(desk: Desk) -> Iterator[TestClient]:
    app = build_app(desk, owner="E. Marr", patience=60)
    with TestClient(app, HOME, client=("127.0.0.1", 50000), follow_redirects=False) as client:
        yield client


def token(client: TestClient, at: str = "/") -> str:
    """The token that the page's forms carry."""
    found = re.search(r'name="form-token" content="([0-9a-f]{64})"', client.get(at).text)
    assert found
    return found[1]
