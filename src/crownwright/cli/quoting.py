"""The command that writes a quote by files alone: a draft, or issued and frozen."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from datetime import date
from pathlib import Path

from crownwright.cli.answer import Answer
from crownwright.cli.codes import Code
from crownwright.cli.firm import now, photo_option, photos_of, planned, price_options_of, safe, wrote

Adder = Callable[..., ArgumentParser]


def add_quote(command: Adder) -> None:
    """Put the command that quotes among the others."""
    folder = "folder to put the files in; left out, where you stand"
    quoted = command(
        "quote", "write a quote: a draft, or, under a number, issued and frozen", quote, job=True, into=folder, paper=True
    )
    price_options_of(quoted)
    quoted.add_argument("--number", help="issue it under this number")
    quoted.add_argument(
        "--reason", metavar="KEY=WHY", action="append", default=[], help="why, in spite of what stops it; key may end in *"
    )
    quoted.add_argument("--by", default="", help="who records the reasons")
    photo_option(quoted)


def quote(args: Namespace) -> Answer:
    """Draft or issue a quote."""
    from crownwright.price.deal import Reason
    from crownwright.service.price_a_job import issue_a_quote, kept_quote, quote_a_plan, quote_pdf
    from crownwright.service.write_papers import usual_size

    found = planned(args)
    if isinstance(found, Answer):
        return found
    photos = photos_of(args)
    if isinstance(photos, Answer):
        return photos
    plan, book, business, beside = found
    on = args.on or date.today()
    made = quote_a_plan(plan, book, business, on, beside)
    if isinstance(made, tuple):
        return Answer(Code.NOT_READY, plan.job.title, problems=made, next="add these to the price book, then ask again")
    if args.number:
        reasons = tuple(Reason(key, why, args.by) for key, _, why in (text.partition("=") for text in args.reason))
        issued, problems = issue_a_quote(made, plan, book, args.number, on, reasons)
        if issued is None:
            then = "put these right, or record why with --reason KEY=WHY and --by NAME; nothing was issued"
            return Answer(Code.NOT_READY, plan.job.title, problems=problems, next=then)
        made = issued
    pdf = quote_pdf(made, plan, args.paper or usual_size(plan.job.units), now(), photos)
    name = f"quote-{safe(made.number) or 'draft'}"
    then = "send it; the JSON is the quote as sent, keep it" if made.number else "read it, then issue it with --number"
    return wrote(
        args.into or Path(), {f"{name}.pdf": pdf, f"{name}.json": kept_quote(made).encode()}, then, {"number": made.number}
    )
