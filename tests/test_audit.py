"""The audit of pinned packages, asked of a database of our own on this machine."""

from __future__ import annotations

import json
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path

import pytest
from tests.audit import MUST, Audit, audit
from tests.server import free_port

HASH = "--hash=sha256:" + "0" * 64
FOUND = {
    "id": "TEST-2026-1",
    "affected": [
        {
            "package": {"name": "leaky", "ecosystem": "PyPI"},
            "ranges": [{"type": "ECOSYSTEM", "events": [{"introduced": "0"}, {"fixed": "1.0.1"}]}],
        }
    ],
}


class _Database(BaseHTTPRequestHandler):
    """Knows of one hole, in one version of one package."""

    def do_POST(self) -> None:
        asked = json.loads(self.rfile.read(int(self.headers["content-length"])))
        leaky = asked["package"]["name"] == "leaky" and asked["version"] == "1.0.0"
        body = json.dumps({"vulns": [FOUND]} if leaky else {}).encode()
        self.send_response(200)
        self.send_header("content-length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: object) -> None:
        """Not in the way of the tests."""


@contextmanager
def database() -> Iterator[str]:
    server = HTTPServer(("127.0.0.1", 0), _Database)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/v1/query"
    server.shutdown()
    server.server_close()


@pytest.fixture
def cache(tmp_path: Path) -> tuple[str, ...]:
    return ("--cache-dir", str(tmp_path / "cache"))


def lock(folder: Path, version: str) -> Path:
    path = folder / "some.lock"
    path.write_text(f"dense==2.1 \\\n    {HASH}\nleaky=={version} \\\n    {HASH}\n")
    return path


def test_an_advisory_is_named_with_what_mends_it(tmp_path: Path, cache: tuple[str, ...]) -> None:
    with database() as url:
        found = audit(lock(tmp_path, "1.0.0"), (*cache, "--osv-url", url))
    assert found.asked == 2
    assert not found.passes
    assert found.known == ("  leaky 1.0.0: TEST-2026-1, mended in 1.0.1",)


def test_without_an_advisory_the_run_goes_on(tmp_path: Path, cache: tuple[str, ...]) -> None:
    with database() as url:
        found = audit(lock(tmp_path, "1.0.1"), (*cache, "--osv-url", url))
    assert found == Audit(2)
    assert found.passes


def test_a_database_that_does_not_answer_is_told_and_stops_the_run_where_it_must_answer(
    tmp_path: Path, cache: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    found = audit(lock(tmp_path, "1.0.1"), (*cache, "--osv-url", f"http://127.0.0.1:{free_port()}/"))
    assert found.asked == 0
    assert "NOT held" in found.lines("some.lock")[0]
    assert found.passes
    monkeypatch.setenv(MUST, "must")
    assert not found.passes
