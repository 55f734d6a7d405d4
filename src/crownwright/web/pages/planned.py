"""What the plan's pages share: the drawings first, then the figures, then the choices, and what each choice would do."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from crownwright.plan.model import Plan
from crownwright.quantity.kept import Kept
from crownwright.quantity.money import Money
from crownwright.quantity.problems import Problem
from crownwright.service.desk.model import JobRow, PlanOf
from crownwright.service.desk.money_of import Books, books_of, money_by
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.try_changes import Trial, try_changes, values_of
from crownwright.web.asking import TheDesk, TheJob
from crownwright.web.forms import Posted, Posting, token_of
from crownwright.web.page import fragment, page
from crownwright.web.pages.entries import entry_from_form
from crownwright.web.sheets import Sheet
from crownwright.web.views.choices import Set, filled
from crownwright.web.views.figures import grouped, named
from crownwright.web.views.pictures import shown
from crownwright.web.views.takes import Takes, takes_of

Extra = Callable[[Desk, JobRow, Plan], Mapping[str, Any]]


@dataclass(frozen=True, slots=True)
class Shows:
    """What one of the plan's pages shows.

    Its ``sheet``; ``pictures`` by name, those in ``later`` loaded when they are opened; the ``main`` figures by key and all of
    its figures under ``heads`` (heading, what keys begin with); the ``choices``; a template of its own under the choices
    (``own``; over them with ``own_first``) and what that needs (``extra``).
    """

    sheet: Sheet
    pictures: tuple[str, ...]
    later: tuple[tuple[str, str], ...] = ()
    main: tuple[str, ...] = ()
    heads: tuple[tuple[str, tuple[str, ...]], ...] = ()
    choices: tuple[Set, ...] = ()
    own: str = ""
    own_first: bool = False
    extra: Extra | None = None


def router_of(shows: Shows) -> APIRouter:
    """The routes of one of the plan's pages: as it stands (GET), and with what is typed tried (POST, which keeps nothing)."""
    router = APIRouter()
    address = f"/job/{{job}}/{shows.sheet.path}"

    def stands(request: Request, desk: TheDesk, job: TheJob) -> Response:
        return _answer(request, desk, job, shows, Posted())

    def tried(request: Request, desk: TheDesk, job: TheJob, posted: Posting) -> Response:
        return _answer(request, desk, job, shows, posted)

    router.add_api_route(address, stands, methods=["GET"], name=shows.sheet.name)
    router.add_api_route(address, tried, methods=["POST"], name=f"{shows.sheet.name}, tried")
    return router


def kept_of(request: Request) -> Kept:
    """What was drawn and priced and may be asked for again."""
    state = request.app.state
    if not hasattr(state, "kept"):
        state.kept = Kept()
    kept: Kept = state.kept
    return kept


def _answer(request: Request, desk: Desk, job: JobRow, shows: Shows, posted: Posted) -> Response:
    trial = try_changes(desk, job.id, entry_from_form(job.id, posted).changes, draw=shows.pictures)
    context = context_of(request, desk, job, shows, trial)
    if request.query_params.get("part"):
        return fragment("plan_answer.html", part=True, **context)
    return page(request, "plan.html", sheet=shows.sheet.name, part=False, **context)


def context_of(request: Request, desk: Desk, job: JobRow, shows: Shows, trial: Trial) -> dict[str, Any]:
    """All that a page of the plan shows."""
    plan = trial.tried.planned.plan if trial.tried.planned is not None else None
    units = plan.job.units if plan is not None else "us"
    figures = plan.figures if plan is not None else ()
    typed = values_of(trial.tried.text)
    return {
        "job": job,
        "form_token": token_of(request.scope["crownwright"].session),
        "shows": shows,
        "trial": trial,
        "values": typed,
        "plan": plan,
        "problems": problems_of(trial),
        "takes": takes_of(trial),
        "price": price_of(kept_of(request), desk, trial),
        "main": named(figures, units, *shows.main),
        "groups": grouped(figures, units, shows.heads),
        "choices": filled(shows.choices, typed, values_of(trial.kept.text), units, trial.tried.opened.problems),
        "own": {} if plan is None or shows.extra is None else shows.extra(desk, job, plan),
        "pictures": shown(trial.pictures()),  # last: they are drawn while the rest is worked out
    }


def problems_of(trial: Trial) -> tuple[Problem, ...]:
    """Everything that stands in the way of the plan being tried, or beside it."""
    planned = trial.tried.planned
    return (*trial.problems, *(trial.tried.opened.problems if planned is None else planned.plan.problems))


def price_of(kept: Kept, desk: Desk, trial: Trial) -> Takes | None:
    """The price with tax, as it stands and as tried; None where there is none."""
    books, on = books_of(desk), desk.clock().date()
    if trial.tried.planned is None or isinstance(books, tuple):
        return None
    now, locale = _gross(kept, books, on, trial.tried), books.business.locale
    if now is None:
        return None
    was = _gross(kept, books, on, trial.kept) if trial.changed else None
    if was is None or was.amount == now.amount:
        return Takes("Price with tax", now.shown(locale))
    difference = now - was
    by = f"{(difference if difference.amount > 0 else -difference).shown(locale)} {'more' if difference.amount > 0 else 'less'}"
    return Takes("Price with tax", now.shown(locale), was.shown(locale), by, worse=difference.amount > 0)


def _gross(kept: Kept, books: Books, on: date, of: PlanOf) -> Money | None:
    """The price of a job with tax; None where it has no plan or something in it no price."""

    def make() -> Money | None:
        made = money_by(books, of.planned.plan, on) if of.planned is not None else None
        return made.made.priced.price.gross if made is not None and not made.problems else None

    return kept.get(("price", hash(of.text), on, books.mark), make)
