"""All that a plan has to show: which drawings, papers and solids can be made of it, and every file of them."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator

from crownwright.plan.model import Plan
from crownwright.sheets.draw.dxf import Unit, dxf
from crownwright.sheets.draw.shapes import Drawing
from crownwright.sheets.draw.svg import svg
from crownwright.sheets.drawings.bars import cut_bars
from crownwright.sheets.drawings.capplan import cap_plan
from crownwright.sheets.drawings.edge import edge_detail
from crownwright.sheets.drawings.elevation import elevation
from crownwright.sheets.drawings.formplan import form_plan
from crownwright.sheets.drawings.pieces import piece_sheets
from crownwright.sheets.drawings.readings import readings_plan
from crownwright.sheets.drawings.sections import sections
from crownwright.sheets.drawings.sheetcut import sheet_cuts
from crownwright.sheets.drawings.stackfaces import stack_faces
from crownwright.sheets.drawings.steps import assembly
from crownwright.sheets.drawings.stripping import stripping
from crownwright.sheets.drawings.view import cap_view
from crownwright.sheets.drawings.visits import visit_bars
from crownwright.sheets.papers.calculations import calculations
from crownwright.sheets.papers.drawings import drawing_sheets
from crownwright.sheets.papers.lists import cut_list_paper, shopping_list
from crownwright.sheets.papers.press import Paper, Size, pdfs
from crownwright.sheets.papers.repair import repair_scope
from crownwright.sheets.papers.roofcard import roof_card
from crownwright.sheets.papers.site import site_plan
from crownwright.sheets.papers.summary import summary
from crownwright.sheets.solid.bodies import bodies, grouped
from crownwright.sheets.solid.glb import glb
from crownwright.sheets.solid.stl import stl

KINDS = ("svg", "dxf", "glb", "stl")
"""The kinds of file a drawing or a solid comes in."""
REPAIR = ("stack-faces", "visits", "sheet-cuts")
"""Drawings that stand on the paper of the repair."""


def drawings_of(plan: Plan) -> tuple[Drawing, ...]:
    """Return every drawing that can be made of a plan, in the order of the job."""
    found: list[Drawing] = []
    if plan.survey is not None:
        found.append(readings_plan(plan))
    if plan.survey is not None and plan.cap is not None:
        found += [cap_plan(plan), *sections(plan), edge_detail(plan), elevation(plan), cap_view(plan)]
        if plan.form is not None:
            found += [form_plan(plan), *piece_sheets(plan), *assembly(plan), *stripping(plan)]
    if plan.form is not None and plan.form.cut is not None:
        found.append(cut_bars(plan.form, plan.job.units))
    if plan.repair is not None:
        found += repair_drawings(plan)
    return tuple(found)


def repair_drawings(plan: Plan) -> tuple[Drawing, ...]:
    """Return the drawings of a repair: its faces, the order of the work, the sheets of metal; none without a repair."""
    if plan.repair is None:
        return ()
    visits = (visit_bars(plan.repair.order),) if plan.repair.order is not None and plan.repair.order.visits else ()
    flashing = plan.repair.flashing
    sheets = (sheet_cuts(flashing, plan.job.units),) if flashing is not None and flashing.sheets.sheets else ()
    return (stack_faces(plan), *visits, *sheets)


def papers_of(plan: Plan, drawings: tuple[Drawing, ...] | None = None) -> tuple[Paper, ...]:
    """Return every paper of a plan. ``drawings`` are those of `drawings_of`, where they are at hand already."""
    drawings = drawings_of(plan) if drawings is None else drawings
    return tuple(make() for make in paper_makers(plan, drawings).values())


def paper_makers(plan: Plan, drawings: tuple[Drawing, ...] | None = None) -> dict[str, Callable[[], Paper]]:
    """Return what makes each paper there is of a plan, by its name, in the order of use.

    Without ``drawings`` at hand each draws only what stands on it, so that one paper alone is not kept waiting by the others.
    """

    def named(name: str, draw: Callable[[Plan], Drawing]) -> list[Drawing]:
        return [draw(plan)] if drawings is None else [of for of in drawings if of.name == name]

    def below() -> list[Drawing]:
        return list(repair_drawings(plan)) if drawings is None else [of for of in drawings if of.name in REPAIR]

    def sheets() -> Paper:
        own = ("cut-bars", "view", *REPAIR)  # these stand on the cut list, the summary and the repair
        there = drawings_of(plan) if drawings is None else drawings
        return drawing_sheets(plan, [of for of in there if of.name not in own])

    drawn = plan.survey is not None and plan.cap is not None
    makers: tuple[tuple[bool, str, Callable[[], Paper]], ...] = (
        (True, "summary", lambda: summary(plan, named("view", cap_view) if drawn else [])),
        (True, "roof-card", lambda: roof_card(plan)),
        (plan.repair is not None, "repair", lambda: repair_scope(plan, below())),
        (plan.form is not None, "cut-list", lambda: cut_list_paper(plan)),
        (plan.cap is not None, "shopping-list", lambda: shopping_list(plan)),
        (plan.survey is not None, "drawings", sheets),
        (plan.survey is not None, "site-plan", lambda: site_plan(plan)),
        (True, "calculations", lambda: calculations(plan)),
    )
    return {name: make for there, name, make in makers if there}


def drawing_files(
    plan: Plan, kinds: Collection[str] = KINDS, drawings: tuple[Drawing, ...] | None = None
) -> Iterator[tuple[str, bytes]]:
    """Yield (path, content) of every drawing, as SVG and as DXF where ``kinds`` names them ("svg", "dxf")."""
    unit: Unit = "in" if plan.job.units == "us" else "mm"
    for of in drawings_of(plan) if drawings is None else drawings:
        if "svg" in kinds:
            yield f"drawings/{of.name}.svg", svg(of).encode()
        if "dxf" in kinds:
            yield f"drawings/{of.name}.dxf", dxf(of, unit).encode()


def solid_files(plan: Plan, kinds: Collection[str] = KINDS) -> Iterator[tuple[str, bytes]]:
    """Yield (path, content) of the solids where ``kinds`` names them ("glb": all in one file, "stl": one for each group)."""
    found = bodies(plan) if {"glb", "stl"} & set(kinds) else ()
    if found and "glb" in kinds:
        yield "solid/all.glb", glb(found, plan.job.title)
    if found and "stl" in kinds:
        yield from ((f"solid/{name}.stl", stl(solid)) for name, solid in grouped(found).items())


def paper_files(plan: Plan, size: Size, made_at: int, drawings: tuple[Drawing, ...] | None = None) -> Iterator[tuple[str, bytes]]:
    """Yield (path, content) of every paper as PDF; ``made_at`` UNIX seconds, for the papers' metadata."""
    for name, data in pdfs(papers_of(plan, drawings), size, made_at):
        yield f"papers/{name}.pdf", data


def files_of(plan: Plan, size: Size, made_at: int) -> Iterator[tuple[str, bytes]]:
    """Yield every file of a plan as (path, content): ``papers/*.pdf``, ``drawings/*.svg``, ``drawings/*.dxf``, ``solid/*``."""
    drawings = drawings_of(plan)
    yield from paper_files(plan, size, made_at, drawings)
    yield from drawing_files(plan, KINDS, drawings)
    yield from solid_files(plan)
