"""Does a form that the mason described himself come off its concrete, in which order, and what has to change if not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from crownwright import __version__
from crownwright.checks.strip import check_strip
from crownwright.checks.strip_model import StripOrder
from crownwright.checks.strip_order import strip_order
from crownwright.quantity.findings import Finding
from crownwright.quantity.problems import Problem
from crownwright.service.formfile import ToldForm, parse_form, read_form
from crownwright.service.jobfile import decode
from crownwright.service.write_papers import Size, usual_size


@dataclass(frozen=True, slots=True)
class Stripped:
    """A form as told, the order in which it comes off, what that was compared with, both ways in words,
    the heads to fill with grease before the pour."""

    told: ToldForm
    order: StripOrder
    findings: tuple[Finding, ...]
    off: tuple[str, ...]
    on: tuple[str, ...]
    grease: tuple[str, ...]


def strip_a_form(told: ToldForm) -> Stripped:
    """Search a form for the order in which it comes off."""
    from crownwright.sheets.drawings.formsteps import putting_on, taking_off
    from crownwright.sheets.papers.form import heads_to_grease

    order = strip_order(told.form)
    off = tuple(f"{step.title}. {step.tell}" for step in taking_off(told.form, order, told.units))
    on = () if order.left else tuple(f"{step.title}. {step.tell}" for step in putting_on(told.form, order, told.units))
    return Stripped(told, order, check_strip(order), off, on, heads_to_grease(told.form, order))


def open_form(path: Path) -> tuple[ToldForm | None, tuple[Problem, ...]]:
    """Open a form file."""
    return read_form(path)


def open_form_bytes(data: bytes, name: str) -> tuple[ToldForm | None, tuple[Problem, ...]]:
    """Open a form from the bytes of its file, as they come from a pipe."""
    text, problems = decode(data, name)
    return (None, problems) if text is None else parse_form(text, name)


def form_files(done: Stripped, size: Size | None, made_at: int) -> Iterator[tuple[str, bytes]]:
    """Paths and contents of the papers and drawings of a told form; ``made_at`` UNIX seconds."""
    from crownwright.sheets.draw.svg import svg
    from crownwright.sheets.drawings.formsteps import form_drawings
    from crownwright.sheets.papers.form import form_papers
    from crownwright.sheets.papers.press import pdfs

    told = done.told
    drawings = form_drawings(told.form, done.order, told.units)
    papers = form_papers(told.title, told.form, done.order, told.units, __version__, drawings)
    for name, data in pdfs(papers, size or usual_size(told.units), made_at):
        yield f"papers/{name}.pdf", data
    yield from ((f"drawings/{of.name}.svg", svg(of).encode()) for of in drawings)
