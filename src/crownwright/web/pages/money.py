"""Money: what the job costs, at what it is priced and how sure that is; quote and invoice; the firm's own prices."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from fastapi import APIRouter, HTTPException, Request
from starlette.responses import Response

from crownwright.price.billing import before_of
from crownwright.price.choices import More
from crownwright.price.deal import Reason
from crownwright.price.pricing import allowance
from crownwright.quantity.money import total
from crownwright.quantity.problems import Problem
from crownwright.service.desk.account import Account, account_of
from crownwright.service.desk.agree import Handed, accept_quote, order_change, send_invoice, take_money
from crownwright.service.desk.issue_deal import issue_quote
from crownwright.service.desk.issue_paper import issued_papers
from crownwright.service.desk.model import By, JobRow
from crownwright.service.desk.money_of import Priced, draft_of, forget_prices, keep_firm, keep_prices, money_of
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.desk.try_changes import values_of
from crownwright.service.price_a_job import quote_pdf
from crownwright.service.write_papers import usual_size
from crownwright.web.asking import Asker, TheDesk, TheJob
from crownwright.web.forms import Posted, Posting
from crownwright.web.page import go, page
from crownwright.web.sheets import Sheet
from crownwright.web.views.figures import worked_row

router = APIRouter()
DEALS = ("quote", "acceptance", "change order", "invoice", "credit note", "receipt")
SHEETS = (Sheet("money", "Money", "what it costs, the price and how sure it is, quote and invoice"),)


@router.get("/job/{job}/money")
def show(request: Request, desk: TheDesk, job: TheJob) -> Response:
    """Show costs, price and papers for the customer."""
    return _page(request, desk, job)


def _page(
    request: Request,
    desk: Desk,
    job: JobRow,
    against: tuple[Problem, ...] = (),
    typed: dict[str, str] | None = None,
    status: int = 200,
) -> Response:
    of = plan_of(desk, job.id)
    found = money_of(desk, of.planned.plan, side_by_side=True) if of.planned is not None else of.opened.problems
    money = _shown(found) if isinstance(found, Priced) else None
    units = of.planned.plan.job.units if of.planned is not None else "us"
    problems = found.problems if isinstance(found, Priced) else found
    issued = [row for row in issued_papers(desk, job.id) if row.kind in DEALS]
    locale = found.business.locale if isinstance(found, Priced) else "en_US"
    context: dict[str, Any] = {
        "money": money,
        "ways": _ways(found) if isinstance(found, Priced) else [],
        "problems": problems,
        "values": values_of(of.text),
        "against": against,
        "typed": typed or {},
        "issued": issued,
        "account": _account(account_of(desk, job.id), locale),
        "sold": _sold(found) if isinstance(found, Priced) else [],
        "worked": [worked_row(one, locale, units) for one in found.made.figures] if isinstance(found, Priced) else [],
        "today": desk.clock().date().isoformat(),
    }
    return page(request, "money.html", sheet="Money", job=job, status=status, **context)


def _ways(priced: Priced) -> list[dict[str, Any]]:
    """The ways of doing the job side by side: price or band, why it is not firm, how long it lasts."""
    locale, shown = priced.business.locale, []
    for made, years in zip(priced.ways, priced.years, strict=True):
        price, costing = made.priced.price, made.costing
        low, high = (price.net, price.net) if costing.firm else allowance(costing, price.net)
        band = "" if costing.firm else f"{low.shown(locale)} to {high.shown(locale)}"
        shown.append({
            "name": made.option.name, "net": price.net.shown(locale), "gross": price.gross.shown(locale), "band": band,
            "rough": costing.rough, "years": years, "loss": f"{made.priced.chance_of_loss:.1%}",
        })  # fmt: skip
    return shown


def _sold(priced: Priced) -> list[tuple[str, str, str]]:
    """What the price book sells: key, what, unit."""
    rows = priced.made.costing.prices.rows.values()
    return [(row.key, row.what, row.unit) for row in rows if row.kind not in ("tax", "rule")]


def _account(account: Account, locale: str) -> dict[str, Any]:
    """How the job stands in money, in words."""
    sums = (
        ("Agreed", account.agreed), ("Invoiced", account.invoiced), ("Came in", account.paid), ("Owed in all", account.owed)
    )  # fmt: skip
    asked = zip(before_of(account.invoices), account.lacks.values(), strict=True)
    quotes = [(row.number, [option.name for option in quote.options]) for row, quote in account.quotes]
    return {
        "next": account.next,
        "accepted": account.accepted.quote.number if account.accepted is not None else "",
        "signed_by": account.accepted.signed_by if account.accepted is not None else "",
        "sums": [(name, sum.shown(locale)) for name, sum in sums if sum is not None],
        "invoices": [
            (
                one.number,
                one.stage or ("all that was left" if one.amount.amount >= 0 else "credit note"),
                one.amount.shown(locale),
                lacks.shown(locale) if lacks else "paid" if one.amount.amount >= 0 else "",
            )
            for one, lacks in asked
        ],
        "askable": [(stage.due, stage.amount.shown(locale)) for stage in account.askable],
        "units": [
            (unit.what, unit.unit) for unit in (account.accepted.quote.unit_prices if account.accepted is not None else ())
        ],
        "rest": account.to_ask.shown(locale) if account.to_ask else "",
        "credit": account.to_ask is not None and account.to_ask.amount < 0,
        "quotes": quotes,
        "options": list(dict.fromkeys(option for _, options in quotes for option in options)),
    }


def _shown(priced: Priced) -> dict[str, Any]:
    """A priced job in words."""
    locale, costing, made = priced.business.locale, priced.made.costing, priced.made.priced
    currency = costing.prices.currency
    groups = dict.fromkeys(line.group for line in costing.costs)
    spread = costing.spread
    return {
        "groups": [
            (group, total((c.cost for c in costing.costs if c.group == group), currency).shown(locale),
             [(c.what, c.cost.shown(locale)) for c in costing.costs if c.group == group])
            for group in groups
        ],
        "bought": [(line.what, line.cost.shown(locale), ", ".join(line.sources)) for line in costing.lines],
        "tasks": [(t.what, t.grade, f"{t.hours.mean:.1f} h", f"{t.hours.sd:.1f}", t.formula) for t in costing.hours.tasks],
        "hours": f"{costing.hours.total.mean:.1f} h, give or take {costing.hours.total.sd:.1f}",
        "cost": made.cost.shown(locale),
        "net": made.price.net.shown(locale),
        "gross": made.price.gross.shown(locale),
        "taxes": [(f"Tax on {tax.name}", tax.amount.shown(locale)) for tax in made.price.taxes],
        "stages": [(stage.due, stage.amount.shown(locale)) for stage in made.price.stages],
        "left": made.left.shown(locale),
        "margin": f"{made.margin * 100:.1f} %",
        "mark_up": f"{made.mark_up * 100:.1f} %",
        "loss": f"{made.chance_of_loss:.1%}",
        "least": made.least_for_chance.shown(locale) if made.least_for_chance is not None else "",
        "spread": f"{spread.sd / spread.mean:.0%}" if spread.mean > 0 else "",
        "firm": costing.firm,
        "rough": costing.rough,
        "examples": len(costing.prices.examples),
        "own": priced.own,
        "on": priced.on.isoformat(),
    }  # fmt: skip


@router.get("/job/{job}/money/draft.pdf")
def draft(desk: TheDesk, job: TheJob) -> Response:
    """The quote as it would be sent, without a number."""
    of = plan_of(desk, job.id)
    quote = draft_of(desk, of.planned.plan) if of.planned is not None else of.opened.problems
    if isinstance(quote, tuple) or of.planned is None:
        raise HTTPException(404, "There is no quote of this job yet")
    plan = of.planned.plan
    data = quote_pdf(quote, plan, usual_size(plan.job.units), int(desk.clock().timestamp()))
    return Response(data, media_type="application/pdf", headers={"content-disposition": 'inline; filename="quote-draft.pdf"'})


@router.post("/job/{job}/money/quote")
def send_quote(request: Request, desk: TheDesk, by: Asker, job: TheJob, posted: Posting) -> Response:
    """Hand the quote out, or show everything that stands against it with room for the reason."""
    reasons = [
        Reason(name.removeprefix("reason:"), posted.text(name), by.who) for name in posted.fields if name.startswith("reason:")
    ]
    row = issue_quote(desk, job.id, [reason for reason in reasons if reason.says], posted.text("id"))
    if isinstance(row, tuple):
        return _page(request, desk, job, row, posted.typed, 422)
    return go(f"/job/{job.id}/money", f"Quote handed out as {row.number}")


@router.post("/job/{job}/money/{step}")
def next_step(request: Request, desk: TheDesk, by: Asker, job: TheJob, step: str, posted: Posting) -> Response:
    """A quote signed, a change ordered, an invoice sent, money taken: each a paper under its own number."""
    if step == "prices":
        return _take_prices(request, desk, job, posted)
    steps = {"accept": _accept, "change": _change, "invoice": _invoice, "receipt": _receipt}
    if step not in steps:
        raise HTTPException(404, "There is no such step")
    try:
        row = steps[step](desk, by, job.id, posted)
    except ValueError:
        row = (Problem("day", "that is not a day", "Write it like 2026-05-03"),)
    if isinstance(row, tuple):
        return _page(request, desk, job, (), posted.typed | {"fault": _said(row), "fault_of": step}, 422)
    return go(f"/job/{job.id}/money", f"{row.kind.capitalize()} kept as {row.number}")


def _accept(desk: Desk, by: By, job: str, posted: Posted) -> Handed:
    signed = date.fromisoformat(posted.text("on"))
    return accept_quote(
        desk, job, posted.text("quote"), posted.text("signed_by"), signed, posted.text("option"), posted.text("id"), by
    )


def _change(desk: Desk, _by: By, job: str, posted: Posted) -> Handed:
    more = (More(posted.text("key"), posted.text("amount")),) if posted.text("key") else ()
    return order_change(desk, job, more, posted.text("why"), posted.text("signed_by"), issue=posted.text("id"))


def _invoice(desk: Desk, _by: By, job: str, posted: Posted) -> Handed:
    return send_invoice(desk, job, issue=posted.text("id"), stage=posted.text("stage"))


def _receipt(desk: Desk, _by: By, job: str, posted: Posted) -> Handed:
    return take_money(desk, job, posted.text("amount"), how=posted.text("how"), issue=posted.text("id"))


def _said(problems: Iterable[Problem]) -> str:
    return " ".join(f"{p.where}: {p.what}. {p.remedy}." for p in problems)


def _take_prices(request: Request, desk: Desk, job: JobRow, posted: Posted) -> Response:
    """Take the firm's price book or file in, or go back to the example."""
    where = f"/job/{job.id}/money"
    if posted.ticked("forget"):
        forget_prices(desk)
        return go(where, "Priced by the example price book again")
    problems: list[Problem] = []
    taken = []
    for field, keep in (("prices", keep_prices), ("firm", keep_firm)):
        file = posted.file(field)
        if file is not None:
            found = keep(desk, *file)
            problems += found
            taken += [] if found else [file[0]]
    if problems:
        return _page(
            request, desk, job, (), {"prices_fault": " ".join(f"{p.where}: {p.what}. {p.remedy}." for p in problems[:20])}, 422
        )
    return go(where, f"Priced by {', '.join(taken)} from now on" if taken else "No file was picked")


@router.get("/prices.csv")
def prices(desk: TheDesk) -> Response:
    """The price book as it is, to put one's own prices in."""
    from crownwright.service.desk.money_of import books_of
    from crownwright.service.price_files import book_bytes

    books = books_of(desk)
    if isinstance(books, tuple):
        raise HTTPException(404, "The price book on the shelf cannot be read")
    headers = {"content-disposition": 'attachment; filename="prices.csv"'}
    return Response(book_bytes(books.prices, "prices.csv"), media_type="text/csv", headers=headers)
