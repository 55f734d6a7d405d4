"""Price a job: take-off, hours, price and its risk for the mason's eyes; quote, invoice and calendar for the customer's."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal

from crownwright.plan.model import Plan
from crownwright.price.business import Business
from crownwright.price.costing import Costing, Extra, cost_job
from crownwright.price.deal import Accepted, ChangeOrder, Invoice, Party, Quote, Reason, Receipt
from crownwright.price.dealing import accept, draft_quote, invoice, issue, option_of
from crownwright.price.documents import as_json, read_json
from crownwright.price.hours import HoursChoices, Task
from crownwright.price.pricebook import PriceBook, Prices
from crownwright.price.pricing import Priced, price_job
from crownwright.price.takeoff import Want
from crownwright.price.units import UNITS
from crownwright.quantity.display import show
from crownwright.quantity.problems import Problem
from crownwright.quantity.uncertain import Uncertain

WHY = {
    "overhang": "A cap that ends too near the wall lets water run down its face and into the joints. This one stands clear.",
    "wash": "A top that falls away sheds water at once, and what does not stay cannot freeze.",
    "drip": "The groove under the edge makes drops let go before they reach the wall.",
    "joint": "The flues grow when they are hot. A soft joint lets them, so that they do not split the cap.",
    "steel": "Wire in the concrete holds shrinkage cracks closed.",
}
"""Plain words for the customer; what each is for is common practice."""
UNIT_KEYS = ("mortar 80 lb", "flue liner", "labour mason", "labour helper")


@dataclass(frozen=True, slots=True)
class PricedJob:
    """What a job costs and at what it is priced."""

    costing: Costing
    priced: Priced


@dataclass(frozen=True, slots=True)
class Beside:
    """What the plan does not know: ``van`` what it holds and ``more`` work and goods beside the cap, both by key of the price
    book in its unit; ``hours`` as own finished jobs say; the customer as on papers.
    """

    van: Mapping[str, Decimal] = field(default_factory=dict)
    more: Mapping[str, Decimal] = field(default_factory=dict)
    hours: HoursChoices | None = None
    customer: Party | None = None


def price_a_plan(plan: Plan, book: PriceBook, on: date, beside: Beside | None = None) -> PricedJob:
    """Price a plan by the book as it stood on a day."""
    beside, prices = beside or Beside(), book.on(on)
    costing = cost_job(plan, prices, van=beside.van, hours=beside.hours, extra=_extra(beside.more, prices))
    return PricedJob(costing, price_job(costing))


def _extra(more: Mapping[str, Decimal], prices: Prices) -> Extra:
    """Work and goods beside the cap: labour becomes a task with the spread of a rough guess, all else a want."""
    wants, tasks = [], []
    for key, amount in more.items():
        row = prices.rows.get(key)
        if row is not None and row.kind == "labour":
            hours = Uncertain(float(amount), 0.25 * float(amount))
            tasks.append(Task(f"beside, {key}", row.what, key.removeprefix("labour "), hours, "as told", (f"told: {key}",)))
        else:
            sold = UNITS[row.unit] if row is not None else UNITS["each"]
            wants.append(Want(key, float(amount * sold.size), sold.si, (f"told: {key}",), "beside the cap"))
    return Extra(tuple(wants), tuple(tasks))


def scope_of(plan: Plan) -> tuple[str, ...]:
    """Return what is done, in words for the customer, as far as the plan goes."""
    if plan.cap is None:
        return ("Recast the cap, to the sizes that a survey of the top will give.",)
    cap, units = plan.cap, plan.job.units
    size = f"{show(cap.length, 'm', units)} × {show(cap.width, 'm', units)}"
    lines = [
        "Plug the flues and cover the roof.",
        f"Cast a new concrete cap, {size}, {show(cap.edge_thickness, 'm', units)} thick at its edge, in a form that is clamped "
        "on: no hole is drilled in the chimney.",
        f"It stands out at least {show(min(s.least for s in cap.sides), 'm', units)} past the wall, and falls to every side.",
    ]
    lines += ["A groove under the edge, so that water drops off clear of the wall."] if cap.drip is not None else []
    lines += [f"A soft, sealed joint round {len(cap.flues)} flue{'s' * (len(cap.flues) != 1)}."] if cap.flues else []
    lines += [f"Flue {f.name} made {show(f.extension, 'm', units)} higher." for f in cap.flues if f.extension > 0]
    return (*lines, "Keep it wet while it hardens, strip the form, seal, uncover the flues and leave the place clean.")


def why_of(plan: Plan) -> tuple[Reason, ...]:
    """Return why it is done, in plain words, for what the cap has."""
    if plan.cap is None:
        return ()
    there = {"overhang": True, "wash": True, "drip": plan.cap.drip is not None, "joint": bool(plan.cap.flues),
             "steel": bool(plan.cap.steel)}  # fmt: skip
    return tuple(Reason(key, says) for key, says in WHY.items() if there[key])


def quote_a_plan(
    plan: Plan, book: PriceBook, business: Business, on: date, beside: Beside | None = None
) -> Quote | tuple[Problem, ...]:
    """Draft the quote of a plan, or say what has no price."""
    beside = beside or Beside()
    made, prices = price_a_plan(plan, book, on, beside), book.on(on)
    if made.costing.problems:
        return made.costing.problems
    scope = (*scope_of(plan), *(f"{prices.rows[key].what[:1].upper()}{prices.rows[key].what[1:]}." for key in beside.more))
    option = option_of("Recast the cap", made.costing, scope, business.exclusions, {})
    return draft_quote(plan, prices, business, (option,), why=why_of(plan), unit_keys=UNIT_KEYS, customer=beside.customer)


def issue_a_quote(quote: Quote, plan: Plan, book: PriceBook, number: str, on: date, reasons: Sequence[Reason]
                  ) -> tuple[Quote | None, tuple[Problem, ...]]:  # fmt: skip
    """Freeze a quote under its number, or say everything that stands against it."""
    return issue(quote, plan, book.on(quote.priced_on), number, on, reasons)


def quote_pdf(quote: Quote, plan: Plan, size: str, made_at: int) -> bytes:
    """Print a quote with the elevation before and after."""
    from crownwright.sheets.drawings.elevation import elevation
    from crownwright.sheets.papers.deal import quote_paper
    from crownwright.sheets.papers.press import pdf

    pictures = (elevation(plan),) if plan.cap is not None and plan.survey is not None else ()
    return pdf(quote_paper(quote, pictures), "a4" if size == "a4" else "letter", made_at)


def bill_a_quote(text: str, number: str, option: str, signed_by: str, signed: date, on: date,
                 receipts: Sequence[Receipt] = (), changes: Sequence[ChangeOrder] = ()) -> Invoice | Problem:  # fmt: skip
    """Return the invoice of a quote as it was kept (JSON), or what is wrong."""
    try:
        quote = read_json(Quote, text)
        deal = accept(quote, option or quote.options[0].name, signed_by, signed)
        return deal if isinstance(deal, Problem) else invoice(deal, number, on, changes, receipts)
    except ValueError as error:
        return Problem("quote", str(error), "Give the file that was kept when the quote was issued")
    except KeyError as error:
        return Problem("option", str(error.args[0]), "Name one of these")


def kept_quote(quote: Quote | Accepted | Invoice) -> str:
    """Return a document as it is kept."""
    return as_json(quote)


def calendar_of(
    plan: Plan, job: str, pour: datetime, zone: str, made_at: datetime, revision: int = 0, strip_days: int = 7
) -> str:
    """Return the visits round a pour as iCalendar; ``revision`` one more than in the file that was given out before."""
    from dataclasses import replace

    from crownwright.sheets.calendar import icalendar, visits_of

    visits = visits_of(job, plan.job.title, plan.job.place, pour, strip_after_days=strip_days)
    return icalendar([replace(v, revision=revision) for v in visits], zone, made_at, plan.job.title)
