"""Whatever is sent to whatever address: the app answers, the book stays whole, nothing is written beside it."""

from __future__ import annotations

import os
import re
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from schemathesis.core import NotSet
from starlette.testclient import TestClient
from tests.lived_in import live_in
from tests.web.conftest import HOME, token

from crownwright.service.desk.list_jobs import list_jobs
from crownwright.service.desk.open_desk import Desk, open_desk
from crownwright.service.desk.revisions_of import history
from crownwright.web.app import build_app

NOW = datetime(2026, 5, 10, 12, tzinfo=UTC)
SETTINGS = settings(
    max_examples=5,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.function_scoped_fixture],
)
NASTY = (
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "{{7*7}}${7*7}<%= 7 %>",
    "../../../etc/passwd",
    "'; DROP TABLE job; --",
    "\x00",
    "\u202etxet",
    "9" * 400,
    "1e999",
    "-0",
    "NaN",
    "٣",
    "2026-13-45",
    "x" * 20_000,
    "a\r\nSet-Cookie: b=c",
    "[[[[",
    "1/0",
    " ",
)
TEXT = st.one_of(st.sampled_from(NASTY), st.text(max_size=30))


@dataclass
class Writes:
    """Files opened for writing, by Python, while it is on, outside the folder of the book and the one for files of a moment (a
    backup while it is sent).
    """

    own: Path
    moment: Path
    on: bool = False
    seen: list[str] = field(default_factory=list)

    def __call__(self, what: str, args: tuple[Any, ...]) -> None:
        if not self.on or what not in ("open", "os.rename", "os.remove", "os.mkdir", "subprocess.Popen", "os.system"):
            return
        if what == "open":
            mode, flags = args[1], args[2] or 0
            if not (isinstance(mode, str) and set(mode) & set("wax+")) and not flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT):
                return
        if not str(args[0]).startswith((str(self.own), str(self.moment), "/dev/null")):
            self.seen.append(f"{what} {args[0]}")


@dataclass(frozen=True)
class Target:
    """The app on a book that is lived in, asked from this machine, with whoever watches what is written."""

    desk: Desk
    client: TestClient
    jobs: tuple[str, ...]
    writes: Writes
    folder: Path
    token: str

    def send(self, method: str, address: str, **more: Any) -> Any:
        """Send, with the token where something is to change; whatever comes back, it is no failure of the app's."""
        headers = {"x-form-token": self.token} if method not in ("GET", "HEAD") else {}
        self.writes.on = True
        try:
            answer = self.client.request(method, address, headers=headers, **more)
        finally:
            self.writes.on = False
        assert answer.status_code < 500, f"{method} {address} {str(more)[:300]}: {answer.status_code}"
        return answer


@pytest.fixture(scope="module")
def target(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Target]:
    folder = tmp_path_factory.mktemp("hostile")
    (folder / "book").mkdir()
    (folder / "moment").mkdir()
    desk = open_desk(folder / "book" / "jobs.book", clock=lambda: NOW)
    there = live_in(desk)
    writes = Writes(folder / "book", folder / "moment")
    usual, tempfile.tempdir = tempfile.tempdir, str(writes.moment)
    sys.addaudithook(writes)
    with TestClient(build_app(desk, owner="E. Marr"), HOME, client=("127.0.0.1", 50000), follow_redirects=False) as client:
        yield Target(desk, client, (there.begun, there.doorstep, there.job), writes, folder, token(client))
    writes.on, tempfile.tempdir = False, usual
    desk.close()


@pytest.fixture(autouse=True)
def whole(target: Target) -> Iterator[None]:
    """After each test: nothing beside the book, and every job in it can be read and listed."""
    yield
    seen, target.writes.seen = target.writes.seen, []
    assert seen == []
    assert not list(target.writes.moment.iterdir()), "a file for a moment stayed"
    assert sorted(path.name for path in target.folder.iterdir()) == ["book", "moment"]
    assert all(path.name.startswith("jobs.book") for path in (target.folder / "book").iterdir())
    for deleted in (False, True):
        for row in list_jobs(target.desk, deleted=deleted, most=200).rows:
            assert [r.number for r in history(target.desk, row.id)] == list(range(row.head, 0, -1))
    assert set(target.jobs) <= {row.id for out in (False, True) for row in list_jobs(target.desk, deleted=out, most=200).rows}


class Forms(HTMLParser):
    """Addresses and field names of the forms of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.found: dict[str, set[str]] = {}
        self._at = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        if tag == "form" and (told.get("method") or "").lower() == "post":
            self._at = told.get("action") or ""
            self.found.setdefault(self._at, set())
        elif tag in ("input", "select", "textarea", "button") and self._at and told.get("name"):
            self.found[self._at].add(str(told["name"]))

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._at = ""


def routes(method: str) -> list[str]:
    from crownwright.web.app import PAGES

    every = [route for module in PAGES for route in module.router.routes]
    return sorted({route.path for route in every if method in (getattr(route, "methods", None) or ())})


def schema_of(target: Target) -> Any:
    """The app's own description, with ids that are there among those that may be sent, and forms that may hold anything."""
    raw = target.client.app.openapi()  # type: ignore[attr-defined]
    for operations in raw["paths"].values():
        for method, operation in operations.items():
            for parameter in operation.get("parameters", ()):
                if parameter["name"] == "job":
                    parameter["schema"] = {"anyOf": [{"enum": [*target.jobs, "none"]}, {"type": "string"}]}
            if method == "post":
                anything = {"schema": {"type": "object", "additionalProperties": {"type": "string"}}}
                operation["requestBody"] = {
                    "content": {"application/x-www-form-urlencoded": anything, "application/json": {"schema": {}}}
                }
    return schemathesis.openapi.from_dict(raw)


@pytest.mark.parametrize("method", ["GET", "POST"])
def test_no_address_fails_whatever_stands_in_it(target: Target, method: str) -> None:
    schema = schema_of(target)
    operations = [found.ok() for found in schema.get_all_operations()]
    for operation in [one for one in operations if one.method.upper() == method]:

        @SETTINGS
        @given(case=operation.as_strategy())
        def send(case: Any) -> None:
            body: dict[str, Any] = {}
            if case.media_type == "application/json" and not isinstance(case.body, NotSet):
                body = {"json": case.body}
            elif isinstance(case.body, dict):
                body = {"data": case.body}
            target.send(method, case.formatted_path, params=case.query or None, **body)

        send()


PATHS = ("none", "..", "%2e%2e%2f", "%00", "a%0d%0ab", "%ED%A0%80", "'", "<script>", "x" * 300, "٣", "-1", "9" * 30, "a/b")


@pytest.mark.parametrize("route", routes("GET"))
def test_no_address_is_undone_by_an_id_that_is_none(target: Target, route: str) -> None:
    names = re.findall(r"\{([a-z_:]+)\}", route)
    for nasty in PATHS:
        for wrong in names:
            said = {name: nasty if name == wrong else target.jobs[0] for name in names}
            answer = target.send("GET", re.sub(r"\{([a-z_:]+)\}", lambda name, said=said: said[name[1]], route))  # type: ignore[misc]
            assert "set-cookie: b" not in str(answer.headers).lower()


def test_no_form_is_undone_by_what_is_typed_in_it(target: Target) -> None:
    """Every form of every page, with hostile text in all of its fields, some of them missing, some twice."""
    forms: dict[str, set[str]] = {}
    for route in routes("GET"):
        for job in target.jobs:
            page = target.send("GET", re.sub(r"\{job\}", job, route))
            if page.headers.get("content-type", "").startswith("text/html"):
                found = Forms()
                found.feed(page.text)
                forms |= {at or route: names | forms.get(at or route, set()) for at, names in found.found.items()}
    assert forms
    for address, names in sorted(forms.items()):
        if "{" in address:
            continue

        _typed_in(target, address, names - {"form_token"})


def _typed_in(target: Target, address: str, names: set[str]) -> None:
    @SETTINGS
    @given(data=st.fixed_dictionaries({}, optional=dict.fromkeys(sorted(names), TEXT)))
    def send(data: dict[str, str]) -> None:
        target.send("POST", address, data=data)

    send()


BODIES = (
    b"",
    b"null",
    b"[]",
    b"{",
    b"[" * 50_000,
    b'{"changes": [{"path": "notes", "value": "\\ud800"}], "id": "e-half", "base": 1}',
    b'{"changes": [{"path": "notes", "value": 1e999}], "id": "e-inf", "base": 1}',
    b'{"changes": [{"path": "notes", "value": NaN}], "id": "e-nan", "base": 1}',
    b'{"changes": [{"path": "notes", "value": "x", "was": [[[[[[[[[[[[1]]]]]]]]]]]]}], "id": "e-was", "base": -1}',
    b'{"changes": [{"path": "' + b"a." * 90 + b'a", "value": "x"}], "id": "e-deep", "base": 1}',
    b'{"id": {"a": []}, "base": "1", "changes": [{"path": "notes", "value": "x"}]}',
    b"\xff\xfe\x00",
    b'{"id": "e", "changes": ' + b"9" * 5000 + b"}",
)


KINDS = ("application/json", "application/x-www-form-urlencoded", "multipart/form-data", "text/plain", "")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("route", routes("POST"))
def test_no_body_undoes_the_app(target: Target, route: str, kind: str) -> None:
    """JSON of every odd shape, forms that are none, a multipart without its end, a kind nobody reads."""
    address = re.sub(r"\{[a-z_:]+\}", target.jobs[0], route)
    for body in BODIES if kind == "application/json" else BODIES[:4]:
        headers = {"x-form-token": target.token, **({"content-type": kind} if kind else {})}
        answer = target.client.post(address, content=body, headers=headers)
        assert answer.status_code < 500, f"{address} {kind} {body[:80]!r}: {answer.status_code}"


def test_a_script_typed_in_a_form_comes_back_as_text(target: Target) -> None:
    """What cannot be kept is given back with the error; it must come back as text there too."""
    typed = "</textarea></script><script>alert(1)</script>"
    for route in routes("POST"):
        address = re.sub(r"\{[a-z_:]+\}", target.jobs[0], route)
        answer = target.client.post(address, data={"set:title": typed, "note": typed, "code": typed, "x": typed})
        assert "<script>alert" not in answer.text
