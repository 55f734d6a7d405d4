"""Phones: let one in by a code, see which were, shut one out."""

from __future__ import annotations

from base64 import b64encode

from fastapi import APIRouter, Depends, HTTPException, Request
from starlette.responses import Response

from crownwright.quantity.problems import Problem
from crownwright.service.desk.pair_device import begin_pairing, list_devices, pair_device, qr_svg, revoke_device
from crownwright.web.asking import Asker, TheDesk, only_desk
from crownwright.web.forms import Posting
from crownwright.web.guard import DEVICE, cookie
from crownwright.web.page import go, page

router = APIRouter()
SHEET = "Let this phone in"


@router.get("/devices")
def show(request: Request, desk: TheDesk, by: Asker) -> Response:
    """List the phones; at the desk, the code that holds just now with its picture."""
    homes, held = request.app.state.homes, desk.pairing.held() if by.device == "desk" else None
    qr = f"data:image/svg+xml;base64,{b64encode(qr_svg(f'{homes[0]}/pair?code={held.code}')).decode()}" if held and homes else ""
    papers = request.app.state.papers
    return page(request, "phones.html", sheet="Phones", devices=list_devices(desk), held=held, homes=homes, qr=qr, papers=papers)


@router.post("/devices/code", dependencies=[Depends(only_desk)])
def begin(desk: TheDesk) -> Response:
    """Make a new code."""
    begin_pairing(desk)
    return go("/devices#code")


@router.post("/devices/{device}/out")
def shut_out(desk: TheDesk, by: Asker, device: str) -> Response:
    """Shut a phone out: the desk any, a phone itself."""
    if by.device not in ("desk", device):
        raise HTTPException(403, "Only the machine with the book may shut another phone out")
    try:
        revoke_device(desk, device)
    except KeyError:
        raise HTTPException(404, "There is no such phone in this book") from None
    return go("/devices", "Shut out")


@router.get("/pair")
def ask(request: Request, by: Asker, code: str = "") -> Response:
    """Ask for the code, filled in where the picture brought it; it is used only once the button is pressed."""
    already = by.who if by.device != "nobody" else ""
    papers = request.app.state.papers
    return page(
        request, "pair.html", sheet=SHEET, already=already, code=code[:20], name=_kind(request), fault=None, papers=papers
    )


@router.get("/pair/authority.crt")
def authority(request: Request) -> Response:
    """The certificate of this machine's own authority (DER), for a phone to trust."""
    papers = request.app.state.papers
    if papers is None:
        raise HTTPException(404, "This machine has no authority of its own: it is started with --https for that")
    name = {"content-disposition": 'attachment; filename="crownwright-authority.crt"'}
    return Response(papers.authority, media_type="application/x-x509-ca-cert", headers=name)


@router.post("/pair")
def pair(request: Request, desk: TheDesk, by: Asker, posted: Posting) -> Response:
    """Let a phone in that knows the code."""
    if by.device != "nobody":
        return go("/devices")
    paired = pair_device(desk, posted.text("code"), posted.text("name"))
    if isinstance(paired, Problem):
        status = 429 if "too many" in paired.what else 422
        code, name = posted.text("code")[:40], posted.text("name")[:120]
        return page(request, "pair.html", sheet=SHEET, status=status, already="", code=code, name=name, fault=paired, papers=None)
    answer = go("/", f"{paired.device.name} is let in")
    answer.headers.append("set-cookie", cookie(DEVICE, paired.token, secure=request.url.scheme == "https"))
    return answer


def _kind(request: Request) -> str:
    """A first name for a phone, by what it says it is."""
    says = request.headers.get("user-agent", "")
    return next((name for sign, name in (("iPad", "Tablet"), ("Tablet", "Tablet"), ("Mobi", "Phone")) if sign in says), "Phone")
