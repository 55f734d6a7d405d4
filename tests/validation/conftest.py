"""The `theirs` fixture: compare our number with a published one and keep the row for docs/validation.md."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

ROWS: list[dict[str, object]] = []


@pytest.fixture
def theirs(request: pytest.FixtureRequest) -> Callable[..., None]:
    """Assert that ours is within ``tol`` of the published value, and record both for the validation page."""
    source = (request.module.__doc__ or "").strip().splitlines()[0]

    def check(
        what: str, expected: float, ours: float, *, unit: str = "", tol: float, place: str = "", grade: str = "read"
    ) -> None:
        assert grade in {"read", "from memory", "derived", "common practice", "independent program", "open data"}
        ROWS.append(
            {
                "source": source,
                "place": place,
                "what": what,
                "theirs": expected,
                "ours": float(ours),
                "unit": unit,
                "tol": tol,
                "grade": grade,
                "test": request.node.nodeid.split("::")[0].rsplit("/", 1)[-1],
            }
        )
        assert abs(ours - expected) <= tol, f"{what}: theirs {expected} {unit}, ours {ours} {unit}, tolerance {tol}"

    return check


@pytest.fixture(scope="session", autouse=True)
def _keep_rows() -> Iterator[None]:
    """Write the rows where CROWNWRIGHT_VALIDATION names a folder (the docs task does); a file a worker, so xdist is fine."""
    yield
    folder = os.environ.get("CROWNWRIGHT_VALIDATION")
    if folder and ROWS:
        Path(folder).mkdir(parents=True, exist_ok=True)
        worker = os.environ.get("PYTEST_XDIST_WORKER", "one")
        (Path(folder) / f"{worker}.json").write_text(json.dumps(ROWS), "utf-8")
