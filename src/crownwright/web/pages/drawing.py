"""A drawing by itself, to print, enlarge or take into a drawing program; the working of one figure; the solids."""

from __future__ import annotations

from fastapi import APIRouter, HTTPException, Request
from starlette.responses import Response

from crownwright.plan.model import Plan
from crownwright.service.desk.money_of import Priced, money_of
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.draw_a_plan import GROUPS, as_file, drawings_named
from crownwright.sheets.draw.shapes import Drawing
from crownwright.web.asking import TheDesk, TheJob
from crownwright.web.page import page
from crownwright.web.pages.planned import kept_of
from crownwright.web.views.figures import row_of, worked_row

router = APIRouter()
KINDS = {"svg": "image/svg+xml", "dxf": "image/vnd.dxf"}
SHEETED = GROUPS


@router.get("/job/{job}/drawing/{name}.{kind}")
def drawing(request: Request, desk: TheDesk, job: TheJob, name: str, kind: str) -> Response:
    """One drawing as SVG or DXF; "pieces", "assembly" and "stripping" as SVG give all their sheets one under another."""
    of = plan_of(desk, job.id)
    if kind not in KINDS or of.planned is None:
        raise HTTPException(404, "There is no such drawing of this job")
    plan = of.planned.plan
    made = kept_of(request).get((hash(of.text), name, kind), lambda: _file(plan, name, kind))
    if not made:
        raise HTTPException(404, "There is no such drawing of this job")
    ending = {"content-disposition": f'attachment; filename="{name}.dxf"'} if kind == "dxf" else {}
    return Response(made, media_type=KINDS[kind], headers=ending)


def _file(plan: Plan, name: str, kind: str) -> bytes:
    group = name.rsplit("-", maxsplit=1)[0]
    try:
        if name in SHEETED:
            return under_one_another(drawings_named(plan, name), plan.job.units)
        found = drawings_named(plan, group if group in SHEETED else name)
    except KeyError:
        return b""
    one = next((of for of in found if of.name == name), None)
    return b"" if one is None else as_file(one, kind, plan.job.units)


def under_one_another(drawings: tuple[Drawing, ...], units: str) -> bytes:
    """Several drawings in one SVG, each as it is, from the top down."""
    from crownwright.sheets.draw.svg import size_mm

    parts, top, wide = [], 0.0, 0.0
    for of in drawings:
        across, high = size_mm(of)
        inner = as_file(of, "svg", units).decode().replace("<svg ", f'<svg y="{top:.2f}" ', 1).replace('mm"', '"')
        parts.append(inner)
        top, wide = top + high, max(wide, across)
    if not parts:
        return b""
    title = drawings[0].title.rsplit(" 1 of", maxsplit=1)[0]
    size = f'width="{wide:.2f}mm" height="{top:.2f}mm" viewBox="0 0 {wide:.2f} {top:.2f}"'
    head = f'<svg xmlns="http://www.w3.org/2000/svg" role="img" {size}>'
    return "\n".join((head, f"<title>{title}</title>", *parts, "</svg>")).encode()


@router.get("/job/{job}/working/{key:path}")
def working(request: Request, desk: TheDesk, job: TheJob, key: str) -> Response:
    """The working of one figure, or of all whose keys begin so."""
    of = plan_of(desk, job.id)
    figures = of.planned.plan.figures if of.planned is not None else ()
    if key.startswith(("cure.", "concrete.mix", "concrete.strip", "concrete.batch")):
        from crownwright.service.desk.days_of import days_of

        told = days_of(desk, job.id, sure=False).told
        figures = (*figures, *(told.days.figures if told is not None else ()))
    units = of.planned.plan.job.units if of.planned is not None else "us"
    if key.startswith("price") and of.planned is not None:
        priced = money_of(desk, of.planned.plan, side_by_side=True)
        amounts = [one for way in priced.ways for one in way.figures] if isinstance(priced, Priced) else []
        mine = [one for one in amounts if one.key == key] or [one for one in amounts if one.key.startswith(key)]
        if isinstance(priced, Priced) and mine:
            rows = [worked_row(one, priced.business.locale, units) for one in mine]
            return page(request, "working.html", sheet="Working", job=job, rows=rows, key=key)
    found = [f for f in figures if f.key == key] or [f for f in figures if f.key.startswith(key)]
    if not found:
        raise HTTPException(404, "This plan has no such figure")
    rows = [row_of(figure, units) for figure in found]
    return page(request, "working.html", sheet="Working", job=job, rows=rows, key=key)
