"""The one way a page is made: its template, the title block, the list of sheets, notes left by the page before."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from datetime import datetime
from functools import cache
from http.cookies import CookieError, SimpleCookie
from pathlib import Path
from typing import Any
from urllib.parse import quote, unquote

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse

from crownwright.service.desk.model import JobRow
from crownwright.service.desk.pairing import new_id
from crownwright.web.forms import TOKEN, token_of

HERE = Path(__file__).parent
STATIC = HERE / "static"
NOTE = "crownwright_note"
LONGEST_NOTE = 400


def page(
    request: Request,
    template: str,
    /,
    *,
    sheet: str,
    job: JobRow | None = None,
    status: int = 200,
    headers: Mapping[str, str] | None = None,
    **context: Any,
) -> HTMLResponse:
    """Render a template that extends sheet.html.

    Args:
        request: what was asked.
        template: its name, like "cap.html".
        sheet: the sheet's name in the title block.
        job: the job it belongs to, None outside any.
        status: HTTP status.
        headers: more headers.
        context: what the template shows.
    """
    note = _note(request)
    caller = request.scope["crownwright"]
    state = request.app.state
    known = {
        "sheet": sheet,
        "job": job,
        "path": request.url.path,
        "sheets": state.sheets,
        "outside": state.outside,
        "lan": state.lan,
        "owner": state.owner,
        "today": state.desk.clock().isoformat(),
        "by": caller.by,
        "at_desk": caller.by.device == "desk",
        "let_in": caller.by.device != "nobody",
        "note": note,
        "token_name": TOKEN,
        "form_token": token_of(caller.session),
    }
    answer = HTMLResponse(environment().get_template(template).render(known | context), status, headers)
    if note:
        answer.delete_cookie(NOTE, path="/", httponly=True, samesite="lax")
    return answer


def fragment(template: str, status: int = 200, /, **context: Any) -> HTMLResponse:
    """Render a part of a page, for a script that swaps it in."""
    return HTMLResponse(environment().get_template(template).render(context), status)


def go(where: str, note: str = "") -> RedirectResponse:
    """Send the browser on after a form was kept; the next page shows ``note``, once."""
    answer = RedirectResponse(where, 303)
    if note:
        answer.set_cookie(NOTE, quote(note[:LONGEST_NOTE]), max_age=60, path="/", httponly=True, samesite="lax")
    return answer


def local(where: str, otherwise: str) -> str:
    """A place of this app to go back to, from what a form sent; never another site.

    >>> local("/job/a/cap", "/"), local("//elsewhere/x", "/"), local("https://elsewhere", "/")
    ('/job/a/cap', '/', '/')
    """
    plain = where.startswith("/") and not where.startswith(("//", "/\\")) and where.isprintable() and "\\" not in where
    return where if plain and len(where) < 500 else otherwise


@cache
def environment() -> Environment:
    """Templates that escape everything and stop at a name that is not there."""
    env = Environment(
        loader=FileSystemLoader(HERE / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    env.globals.update(static=static, new_id=new_id)
    env.filters.update(day=day, moment=moment)
    return env


@cache
def version() -> str:
    """A short hash of everything static: a changed file has a new address, and an old page keeps its old ones."""
    whole = hashlib.sha256()
    for file in sorted(p for p in STATIC.rglob("*") if p.is_file()):
        whole.update(str(file.relative_to(STATIC)).encode() + file.read_bytes())
    return whole.hexdigest()[:12]


def static(path: str) -> str:
    """The address of a static file; modules import one another by relative names and so stay within one version."""
    return f"/static/{version()}/{path}"


def day(at: str | None) -> str:
    """A day as it is written on a sheet.

    >>> day("2026-05-03"), day(None)
    ('3 May 2026', '')
    """
    if not at:
        return ""
    try:
        then = datetime.fromisoformat(at)
    except ValueError:
        return at
    then = then.astimezone() if then.tzinfo else then
    return f"{then.day} {then:%B %Y}"


def moment(at: str | None) -> str:
    """A day and time of this machine.

    >>> moment("2026-05-03T08:30")
    '3 May 2026, 08:30'
    """
    if not at or len(at) < 12:
        return day(at)
    try:
        then = datetime.fromisoformat(at)
    except ValueError:
        return at
    then = then.astimezone() if then.tzinfo else then
    return f"{day(at)}, {then:%H:%M}"


def _note(request: Request) -> str:
    try:
        cookie = SimpleCookie(request.headers.get("cookie", "")).get(NOTE)
    except CookieError:
        return ""
    return unquote(cookie.value)[:LONGEST_NOTE] if cookie else ""
