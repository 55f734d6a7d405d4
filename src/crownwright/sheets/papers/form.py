"""The papers of a form that was told: does it come off, in which order, and the drawings of both ways."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from crownwright.checks.strip import check_strip
from crownwright.checks.strip_model import FormModel, StripOrder
from crownwright.form.model import Step as Told
from crownwright.plan.job import Units
from crownwright.sheets.draw.shapes import Drawing
from crownwright.sheets.drawings.formsteps import named, putting_on, taking_off
from crownwright.sheets.papers.drawings import sheets_of
from crownwright.sheets.papers.press import Paper
from crownwright.sheets.papers.say import finding_row, heading


def form_papers(
    title: str, form: FormModel, order: StripOrder, units: Units, version: str, drawings: Sequence[Drawing]
) -> tuple[Paper, ...]:
    """Return the form's steps as a paper, and its ``drawings`` as another where there are any."""
    job = {"title": title, "place": "", "customer": "", "mason": "", "dated": ""}
    content = heading(job, units, version, "Whether the form comes off its concrete, and its steps both ways.")
    content |= {
        "answers": list(_answers(form, order)),
        "findings": [finding_row(finding, units) for finding in check_strip(order)],
        "off": _rows(taking_off(form, order, units)),
        "on": [] if order.left else _rows(putting_on(form, order, units)),
        "grease": ", ".join(heads_to_grease(form, order)),
    }
    papers = [Paper("form-steps", "A form and how it comes off", "form-steps", content)]
    if drawings:
        said = heading(job, units, version, "The form step by step: put together, and taken off.")
        papers.append(Paper("form-drawings", "Drawings of the form", "drawings", said | {"sheets": sheets_of(drawings)}))
    return tuple(papers)


def _answers(form: FormModel, order: StripOrder) -> Iterator[dict[str, str]]:
    says = "yes" if order.comes_off else "no"
    note = f"{len(order.steps)} steps" if order.comes_off else f"stays on: {named(order.left or order.undrivable)}"
    yield {"label": "Does it come off?", "value": says, "note": note}
    move = named(order.move) if order.move else "nothing" if order.comes_off else "no screw helps"
    least = "the fewest there are" if order.move and order.fewest else ""
    yield {"label": "To be moved", "value": move, "note": least}
    falls = (*order.loose, *order.falls)
    yield {"label": "To be propped or held", "value": str(len(falls)), "note": named(falls) if falls else "each part is held"}


def heads_to_grease(form: FormModel, order: StripOrder) -> tuple[str, ...]:
    """Return the fasteners drawn after the pour that have a head to fill: a strap has none."""
    clamps = {one.name for one in form.fasteners if one.clamps}
    return tuple(name for name in order.grease if name not in clamps)


def _rows(steps: Sequence[Told]) -> list[dict[str, Any]]:
    return [{"title": step.title, "tell": step.tell} for step in steps]
