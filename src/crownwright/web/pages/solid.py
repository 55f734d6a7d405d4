"""The cap in three dimensions: a picture of it, and for whoever asks a solid to turn; loaded only here."""

from __future__ import annotations

from fastapi import APIRouter, HTTPException, Request
from starlette.responses import Response

from crownwright.service.desk.plan_of import plan_of
from crownwright.service.draw_a_plan import solid_file
from crownwright.web.asking import TheDesk, TheJob
from crownwright.web.page import page
from crownwright.web.pages.planned import kept_of
from crownwright.web.views.pictures import shown

router = APIRouter()


@router.get("/job/{job}/3d")
def show(request: Request, desk: TheDesk, job: TheJob) -> Response:
    """Show the picture; a script puts the solid in its place."""
    of = plan_of(desk, job.id)
    pictures = shown(desk.planner.drawn(of.text, "view")[1]())
    return page(request, "solid.html", sheet="In three dimensions", job=job, pictures=pictures, revision=of.revision.number)


@router.get("/job/{job}/solid.glb")
def solid(request: Request, desk: TheDesk, job: TheJob) -> Response:
    """The solids of cap, stone, flues and form, as GLB."""
    of = plan_of(desk, job.id)
    if of.planned is None:
        raise HTTPException(404, "This job has no cap yet")
    plan = of.planned.plan
    data = kept_of(request).get((hash(of.text), "solid"), lambda: solid_file(plan))
    if not data:
        raise HTTPException(404, "This job has no cap yet")
    return Response(data, media_type="model/gltf-binary", headers={"content-disposition": 'inline; filename="solid.glb"'})
