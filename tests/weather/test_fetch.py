"""Fetching against a server of our own on the loopback address: answers, failures that pass, failures that do not, silence."""

from __future__ import annotations

import json
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

import pytest

from crownwright.weather.fetch import fetch_forecast

NOW = datetime(2026, 4, 1, 6, tzinfo=UTC)


@contextmanager
def service(answers) -> Iterator[tuple[str, list[str]]]:
    """Serve ``answers(path, visit)`` -> (code, body) on the loopback; yields the address and the paths asked for."""
    asked: list[str] = []

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self):
            asked.append(self.path)
            code, body = answers(self.path, asked.count(self.path), f"http://127.0.0.1:{self.server.server_port}")
            if self.headers.get("User-Agent", "").startswith("Python"):
                code, body = 403, "who are you"
            self.send_response(code)
            self.send_header("Content-Length", str(len(body)))
            self.end_headers()
            self.wfile.write(body.encode())

        def log_message(self, *_):
            pass

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    thread = threading.Thread(target=server.serve_forever, args=(0.01,), daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}", asked
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


def fetch(root, **more):
    return fetch_forecast(36.1, -79.95, now=NOW, service=root, timeout=2.0, wait=lambda s: None, **more)


def point(root):
    return json.dumps({"properties": {"forecastGridData": f"{root}/gridpoints/RAH/1,2", "timeZone": "America/New_York"}})


def test_point_then_grid(forecast):
    with service(lambda path, n, root: (200, point(root) if "points/3" in path else forecast())) as (root, asked):
        hours, problems = fetch(root)
    assert hours is not None
    assert not [p for p in problems if p.stops]
    assert hours.zone == "America/New_York"
    assert asked == ["/points/36.1,-79.95", "/gridpoints/RAH/1,2"]


def test_passing_failures_are_tried_again(forecast):
    def answers(path, n, root):
        return (503, "") if n < 3 else (200, point(root) if "points/3" in path else forecast())

    with service(answers) as (root, asked):
        hours, _ = fetch(root)
    assert hours is not None
    assert len(asked) == 6


@pytest.mark.parametrize(
    ("code", "said", "asks"), [(404, "no forecast for this place", 1), (403, "403", 1), (500, "tried 3 times", 3)]
)
def test_lasting_failures_are_told(code, said, asks):
    with service(lambda path, n, root: (code, "no")) as (root, asked):
        hours, problems = fetch(root)
    assert hours is None
    assert said in problems[0].what
    assert len(asked) == asks


def test_offline_is_told_with_what_to_do_instead():
    hours, problems = fetch("http://127.0.0.1:9")  # the discard port: nothing listens
    assert hours is None
    assert "cannot be reached" in problems[0].what
    assert "by hand" in problems[0].remedy


def test_silence_ends_at_the_time_out():
    def opener(request, timeout):
        raise TimeoutError("timed out")

    waits: list[float] = []
    hours, problems = fetch_forecast(36.1, -79.95, now=NOW, opener=opener, wait=waits.append)
    assert hours is None
    assert "timed out" in problems[0].what
    assert waits == [2.0, 4.0]


@pytest.mark.parametrize("body", ["", "[]", "{}", '{"properties": {"forecastGridData": 3, "timeZone": "UTC"}}'])
def test_answers_that_are_not_points_stop(body):
    with service(lambda path, n, root: (200, body)) as (root, _):
        hours, problems = fetch(root)
    assert hours is None
    assert problems[0].where == "forecast point"


def test_an_answer_never_sends_us_elsewhere():
    body = json.dumps({"properties": {"forecastGridData": "http://192.0.2.1/x", "timeZone": "UTC"}})
    with service(lambda path, n, root: (200, body)) as (root, asked):
        hours, problems = fetch(root)
    assert hours is None
    assert "another service" in problems[0].what
    assert len(asked) == 1
