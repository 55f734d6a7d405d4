"""The app: every page in its order, the guard round them, and what is said when something goes wrong."""

from __future__ import annotations

import errno
import getpass
from collections.abc import Collection

from fastapi import Depends, FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.routing import APIRoute
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.responses import Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from crownwright.service.desk.model import BookError, StaleError
from crownwright.service.desk.open_desk import Desk
from crownwright.web.forms import read_posted
from crownwright.web.guard import Guard
from crownwright.web.own_authority import Papers
from crownwright.web.page import STATIC, version
from crownwright.web.pages import (
    about,
    cap,
    days,
    doorstep,
    drawing,
    entries,
    finished,
    form,
    found,
    help,
    history,
    keeping,
    money,
    overview,
    papers,
    phones,
    photos,
    pour,
    pour_day,
    rules,
    solid,
    the_book,
    up_top,
    week,
    worker,
)
from crownwright.web.trouble import Trouble, trouble_page

PAGES = (
    the_book,
    doorstep,
    week,
    finished,
    overview,
    keeping,
    entries,
    up_top,
    found,
    photos,
    cap,
    form,
    pour,
    days,
    rules,
    papers,
    money,
    pour_day,
    drawing,
    solid,
    history,
    about,
    phones,
    worker,
    help,
)
"""Every page module, in the order of a job; its ``SHEETS`` stand in the list of sheets in this order."""


PATIENCE = 0.3
"""Seconds a page waits for what takes long, before it says what it works on."""


def build_app(
    desk: Desk,
    *,
    lan: bool = False,
    hosts: Collection[str] = (),
    owner: str = "",
    homes: Collection[str] = (),
    papers: Papers | None = None,
    patience: float = PATIENCE,
) -> FastAPI:
    """Lay out the app on an open book.

    Args:
        desk: the open book.
        lan: whether phones that were let in may come from the network.
        hosts: names and addresses this machine is asked by, beside localhost.
        owner: who works at the desk, for the record of changes; left out, this user.
        homes: the addresses to show to phones, the likeliest first.
        papers: what it shows at its door, where it speaks HTTPS with phones.
        patience: seconds a page waits for what takes long, before it says what it works on and asks again by itself.
    """
    app = FastAPI(
        title="Crownwright",
        docs_url=None,
        redoc_url=None,
        openapi_url=None,
        dependencies=[Depends(read_posted)],
        telemetry={"tracing": False, "metrics": False, "logs": False, "auto_configure": False},
    )
    app.state.desk, app.state.lan, app.state.homes, app.state.papers = desk, lan, tuple(homes), papers
    app.state.patience = patience
    app.state.owner = owner = owner or user_name()
    app.state.sheets = tuple(sheet for module in PAGES for sheet in getattr(module, "SHEETS", ()))
    app.state.outside = tuple(route.path for module in PAGES for route in module.router.routes if isinstance(route, APIRoute))
    app.mount(f"/static/{version()}", _Static(directory=STATIC), name="static")
    for module in PAGES:
        app.include_router(module.router)
    _say_what_is_wrong(app)
    app.add_middleware(GZipMiddleware, minimum_size=1000)
    app.add_middleware(Guard, desk=desk, owner=owner, hosts=hosts, lan=lan)
    return app


class _Static(StaticFiles):
    """Files whose address changes with their content, so that they need never be asked for again."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        """One file."""
        answer = await super().get_response(path, scope)
        if answer.status_code == 200:
            answer.headers["cache-control"] = "public, max-age=31536000, immutable"
        return answer


def _say_what_is_wrong(app: FastAPI) -> None:
    @app.exception_handler(HTTPException)
    def _by_status(request: Request, error: HTTPException) -> Response:
        said = error.detail if error.detail and error.detail[-1:] != "." and not _bare(error) else ""
        return trouble_page(request, Trouble.of(error.status_code, said))

    @app.exception_handler(RequestValidationError)
    def _not_readable(request: Request, _error: RequestValidationError) -> Response:
        return trouble_page(request, Trouble.of(400))

    @app.exception_handler(StaleError)
    def _stale(request: Request, _error: StaleError) -> Response:
        return trouble_page(request, Trouble.of(409))

    @app.exception_handler(BookError)
    def _book(request: Request, error: BookError) -> Response:
        return trouble_page(request, Trouble(503, error.what, error.remedy))

    @app.exception_handler(OSError)
    def _disk(request: Request, error: OSError) -> Response:
        if error.errno not in (errno.ENOSPC, errno.EDQUOT):
            raise error
        return trouble_page(request, Trouble.of(507))


def _bare(error: HTTPException) -> bool:
    """Whether the detail is no more than the status in words, as the framework puts it."""
    from http import HTTPStatus

    return error.detail == HTTPStatus(error.status_code).phrase


def user_name() -> str:
    """Who works at this machine."""
    try:
        return getpass.getuser()
    except (KeyError, OSError):  # a user without a name, as in a bare container
        return "the desk"
