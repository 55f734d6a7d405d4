"""The script that keeps the roof pages on the phone. It lies at the root, since it may only keep what lies under it."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import FileResponse, Response

from crownwright.web.page import STATIC

router = APIRouter()


@router.get("/worker.js")
def worker() -> Response:
    """The worker, asked for anew each time: a browser compares it byte by byte with the one it has."""
    return FileResponse(STATIC / "js" / "worker.js", media_type="text/javascript", headers={"cache-control": "no-cache"})
