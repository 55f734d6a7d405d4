"""Papers: each with what it is for, open as PDF or handed out under a number; and what was handed out, as it was."""

from __future__ import annotations

from fastapi import APIRouter, HTTPException, Request
from starlette.responses import Response

from crownwright.plan.model import Plan
from crownwright.quantity.problems import Problem
from crownwright.service.desk.day_papers import day_paper_of, issue_day_paper
from crownwright.service.desk.issue_handover import issue_handover
from crownwright.service.desk.issue_paper import issue_paper, issued_paper, issued_papers
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.write_papers import Size, paper_names, printed_paper, usual_size
from crownwright.web.asking import Asker, TheDesk, TheJob
from crownwright.web.forms import Posting
from crownwright.web.page import go, page
from crownwright.web.pages.planned import kept_of
from crownwright.web.sheets import Sheet
from crownwright.web.trouble import Trouble, trouble_page

router = APIRouter()
SHEETS = (Sheet("papers", "Papers", "to print, to take up the ladder, and what was handed out"),)
PAPERS = (
    ("summary", "Summary", "The plan in short: sizes, bags, boards, what needs doing first."),
    ("roof-card", "Roof card", "What is still to be read on the roof, with boxes to write in."),
    ("repair", "Repair below the cap", "What was found on the stack and what each calls for, with the faces drawn."),
    ("cut-list", "Cut list", "Every piece of the form and the boards it is sawn from. For the saw."),
    ("shopping-list", "Shopping list", "Everything to buy or to load. For the counter and the van."),
    ("drawings", "Drawings", "Every drawing true to scale, with border and title block. For the wall of the shop."),
    ("site-plan", "Site plan", "What applies to the people on this job, and the flues to sign for. For the dashboard."),
    ("calculations", "Calculation sheet", "Every number with its formula, inputs and source. For whoever asks."),
)
DAY_PAPERS = (
    ("day-plan", "Day plan", "The chosen day by the clock, who does what, why the other hours will not do."),
    ("batch-card", "Batch card", "Every batch with its clock, bags, water and buckets. For the man at the mixer."),
    ("cure-card", "Cure card", "When to float, trowel, mist, cover and strip. For whoever finishes."),
    ("day-calculations", "Calculations of the days", "Every figure of the days with its formula, inputs and source."),
)
LOG_PAPERS = (
    ("cure-card-now", "Cure card, as it is now", "The times as the log has moved them. In place of the first one."),
    ("pour-log", "Pour log", "Every batch, temperature and event as logged, beside the plan. For the file."),
)
OF_THE_DAYS = tuple(key for key, _, _ in (*DAY_PAPERS, *LOG_PAPERS))
KINDS = {key: name for key, name, _ in (*PAPERS, *DAY_PAPERS, *LOG_PAPERS)}
KINDS |= {kind: kind.capitalize() for kind in ("quote", "acceptance", "change order", "invoice", "receipt", "handover")}


@router.get("/job/{job}/papers")
def show(request: Request, desk: TheDesk, job: TheJob) -> Response:
    """List the papers there are, and those handed out."""
    of = plan_of(desk, job.id, cut_list=True)
    plan = of.planned.plan if of.planned is not None else None
    names = () if plan is None else paper_names(plan)
    there = tuple(paper for paper in PAPERS if paper[0] in names)
    issued = tuple((row, KINDS.get(row.kind, row.kind)) for row in issued_papers(desk, job.id))
    size = usual_size(plan.job.units) if plan is not None else "letter"
    return page(
        request, "papers.html", sheet="Papers", job=job, papers=there, issued=issued,
        days=_day_papers(plan) if plan is not None else (), size=size, problems=of.opened.problems,
    )  # fmt: skip


@router.get("/job/{job}/papers/{paper}.pdf")
def printed(request: Request, desk: TheDesk, by: Asker, job: TheJob, paper: str, size: str = "") -> Response:
    """A paper as it is now, as PDF."""
    sheet: Size | None = "a4" if size == "a4" else "letter" if size == "letter" else None
    if paper in OF_THE_DAYS:
        made = day_paper_of(desk, by, job.id, paper, sheet)
        if isinstance(made, Problem):
            raise HTTPException(404, f"{KINDS[paper]}: {made.what}")
        return _pdf(made.data, paper)
    of = plan_of(desk, job.id)
    made_at = int(desk.clock().timestamp())
    if of.planned is None:
        raise HTTPException(404, "There is no plan of this job to print")
    plan = of.planned.plan
    key = (hash(of.text), "paper", paper, sheet, made_at // 86400)
    data = kept_of(request).get(key, lambda: printed_paper(plan, paper, sheet, made_at) or b"")
    if not data:
        raise HTTPException(404, "There is no such paper of this plan")
    return _pdf(data, paper)


def _day_papers(plan: Plan) -> tuple[tuple[str, str, str], ...]:
    """The papers there are of the days: those of the log only once something was logged."""
    day = plan.job.day
    logged = LOG_PAPERS if day.batches or day.temperatures or day.events else ()
    return (*DAY_PAPERS, *logged) if plan.cap is not None else logged


@router.post("/job/{job}/papers/{paper}/hand-out")
def hand_out(request: Request, desk: TheDesk, by: Asker, job: TheJob, paper: str, posted: Posting) -> Response:
    """Hand a paper out: its bytes are kept under the next number, whatever changes later."""
    hand = issue_day_paper if paper in OF_THE_DAYS else issue_paper
    row = hand(desk, by, job.id, paper, issue=posted.text("id"))
    if isinstance(row, Problem):
        return trouble_page(request, Trouble(422, f"{KINDS.get(row.where, row.where)}: {row.what}", row.remedy))
    return go(f"/job/{job.id}/papers", f"{KINDS.get(paper, paper)} handed out as {row.number}")


@router.post("/job/{job}/papers/handover")
def hand_over(request: Request, desk: TheDesk, by: Asker, job: TheJob, posted: Posting) -> Response:
    """Hand the job over, or say what stands against it."""
    row = issue_handover(desk, by, job.id, posted.text("remarks"), posted.text("id"))
    if isinstance(row, tuple):
        said = " ".join(f"{p.where}: {p.what}." for p in row)
        return trouble_page(request, Trouble(422, said, " ".join(p.remedy for p in row)))
    return go(f"/job/{job.id}/papers", f"Handed over as {row.number}")


@router.get("/job/{job}/issued/{issue}.pdf")
def as_handed_out(desk: TheDesk, job: TheJob, issue: str) -> Response:
    """A paper as it was handed out."""
    try:
        row, data = issued_paper(desk, issue)
    except KeyError:
        raise HTTPException(404, "No such paper was handed out") from None
    if row.job != job.id:
        raise HTTPException(404, "No such paper of this job was handed out")
    return _pdf(data, f"{row.kind}-{row.number}")


def _pdf(data: bytes, name: str) -> Response:
    return Response(data, media_type="application/pdf", headers={"content-disposition": f'inline; filename="{name}.pdf"'})
