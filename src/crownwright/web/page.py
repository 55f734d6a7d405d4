"""The one way a page is made: its template, the title block, the list of sheets, notes left by the page before."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from functools import cache, lru_cache
from http.cookies import CookieError, SimpleCookie
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import quote, unquote

from jinja2 import Environment, FileSystemLoader, StrictUndefined, pass_context
from jinja2.runtime import Context
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse

from crownwright.service.desk.model import JobRow
from crownwright.service.desk.pairing import new_id
from crownwright.web.forms import TOKEN, token_of
from crownwright.web.views import dates
from crownwright.web.views.places import placed

if TYPE_CHECKING:
    from crownwright.web.views.figures import Shown

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
        "locale": locale_of(request),
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


def locale_of(request: Request) -> str:
    """The locale of whoever reads the page, by what the browser says."""
    return dates.locale_of(request.headers.get("accept-language", ""))


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
    env.globals.update(static=static, new_id=new_id, placed=placed, figure=figure)
    env.filters.update(day=_by_locale(dates.day), moment=_by_locale(dates.moment), dates=_by_locale(dates.dates_in))
    return env


@lru_cache(maxsize=8192)  # a plan has three hundred figures, and few of them move when one value is changed
def figure(job: str, shown: Shown) -> Markup:
    """A figure of a job that opens to its working."""
    from crownwright.web.views.figures import row_of  # what words a figure takes a while to load, and few pages show one

    parts: Any = environment().get_template("plan_parts.html").module
    return Markup(parts.figure({"id": job}, row_of(shown.figure, shown.units)))


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


def _by_locale(write: Callable[[Any, str], str]) -> Callable[[Context, Any], str]:
    """A filter that writes as it is written where the page is read; in a part of a page without a locale, as is usual."""

    @pass_context
    def written(context: Context, at: Any) -> str:
        return write(at, context.get("locale", dates.USUAL))

    return written


def _note(request: Request) -> str:
    try:
        cookie = SimpleCookie(request.headers.get("cookie", "")).get(NOTE)
    except CookieError:
        return ""
    return unquote(cookie.value)[:LONGEST_NOTE] if cookie else ""
