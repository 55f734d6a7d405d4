"""Draw a plan: every drawing that its parts allow, as SVG and DXF, and its solids as GLB and STL; or one drawing for a screen."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from crownwright.plan.model import Plan

if TYPE_CHECKING:
    from crownwright.sheets.draw.shapes import Drawing

KINDS = ("svg", "dxf", "glb", "stl")
"""The kinds of file there are, here too so that naming them loads nothing."""

DRAWINGS = (
    "readings", "cap-plan", "section-a", "section-b", "edge", "elevation", "view", "form-plan", "cut-bars", "bags", "stack-faces"
)  # fmt: skip
"""Drawings of which a plan has one."""
GROUPS = ("sections", "pieces", "assembly", "stripping")
"""Drawings that come several together, as many sheets as they take."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing for a screen: its name, its title, what it shows in words, its scale on paper, and its SVG."""

    name: str
    title: str
    says: str
    scale: str
    svg: str


def pictures_named(plan: Plan, *names: str) -> tuple[Picture, ...]:
    """The drawings of those names, in their order, with the same ink as on paper. KeyError for a name that is none."""
    return tuple(
        Picture(of.name, of.title, of.says, of.scale_says, as_file(of, "svg", plan.job.units).decode())
        for name in names
        for of in drawings_named(plan, name)
    )


def drawn_files(plan: Plan, kinds: Collection[str] = KINDS) -> Iterator[tuple[str, bytes]]:
    """Paths and contents of the drawings and solids, one after another, so that a caller can show how far it is."""
    from crownwright.sheets.everything import drawing_files, solid_files

    yield from drawing_files(plan, kinds)
    yield from solid_files(plan, kinds)


def drawings_named(plan: Plan, name: str) -> tuple[Drawing, ...]:
    """The drawing of that name, or all of one of the `GROUPS`; none where the plan does not go so far.

    KeyError for a name that is none.
    """
    if name not in (*DRAWINGS, *GROUPS):
        raise KeyError(f"no drawing {name!r}; there are: {', '.join((*DRAWINGS, *GROUPS))}")
    if name == "stack-faces":
        return _of_the_repair(plan)
    if plan.survey is None or (name != "readings" and plan.cap is None):
        return ()
    if name in ("bags", "cut-bars"):
        return _charts(plan, name)
    if name in ("form-plan", "pieces", "assembly", "stripping"):
        return _of_the_form(plan, name) if plan.form is not None else ()
    return _of_the_cap(plan, name)


def _of_the_repair(plan: Plan) -> tuple[Drawing, ...]:
    from crownwright.sheets.drawings.stackfaces import stack_faces

    return (stack_faces(plan),) if plan.repair is not None else ()


def _charts(plan: Plan, name: str) -> tuple[Drawing, ...]:
    from crownwright.sheets.drawings.bags import bags_chart
    from crownwright.sheets.drawings.bars import cut_bars

    if name == "bags":
        return (bags_chart(plan.concrete),) if plan.concrete is not None else ()
    return (cut_bars(plan.form, plan.job.units),) if plan.form is not None and plan.form.cut is not None else ()


def _of_the_form(plan: Plan, name: str) -> tuple[Drawing, ...]:
    from crownwright.sheets.drawings.formplan import form_plan
    from crownwright.sheets.drawings.pieces import piece_sheets
    from crownwright.sheets.drawings.steps import assembly
    from crownwright.sheets.drawings.stripping import stripping

    sheets = {"pieces": piece_sheets, "assembly": assembly, "stripping": stripping}
    return sheets[name](plan) if name in sheets else (form_plan(plan),)


def _of_the_cap(plan: Plan, name: str) -> tuple[Drawing, ...]:
    from crownwright.sheets.drawings.capplan import cap_plan
    from crownwright.sheets.drawings.edge import edge_detail
    from crownwright.sheets.drawings.elevation import elevation
    from crownwright.sheets.drawings.readings import readings_plan
    from crownwright.sheets.drawings.sections import sections
    from crownwright.sheets.drawings.view import cap_view

    if name.startswith("section"):
        return tuple(of for of in sections(plan) if name in (of.name, "sections"))
    alone = {
        "readings": readings_plan,
        "cap-plan": cap_plan,
        "edge": edge_detail,
        "elevation": elevation,
        "view": cap_view,
    }
    return (alone[name](plan),)


def as_file(drawing: Drawing, kind: str, units: str) -> bytes:
    """One drawing as "svg" or "dxf"."""
    from crownwright.sheets.draw.dxf import dxf
    from crownwright.sheets.draw.svg import svg

    return dxf(drawing, "in" if units == "us" else "mm").encode() if kind == "dxf" else svg(drawing).encode()


def solid_file(plan: Plan) -> bytes:
    """The solids of a plan as GLB; nothing where it has no cap."""
    return next((data for _, data in _solids(plan)), b"")


def _solids(plan: Plan) -> Iterator[tuple[str, bytes]]:
    from crownwright.sheets.everything import solid_files

    yield from solid_files(plan, ("glb",))
