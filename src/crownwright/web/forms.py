"""Read what a page sent, once its token has been looked at, so that the handlers themselves can be plain functions."""

from __future__ import annotations

import hashlib
import hmac
import json
from collections.abc import AsyncIterator, Mapping
from dataclasses import dataclass, field
from typing import Annotated, Any

from fastapi import Depends, HTTPException, Request
from starlette.datastructures import UploadFile

TOKEN = "form_token"
TOKEN_HEADER = "x-form-token"
MOST_FIELDS = 600
CHANGES_NOTHING = ("GET", "HEAD", "OPTIONS")


@dataclass(frozen=True, slots=True)
class Posted:
    """What was sent: ``fields`` of a form with all their values, ``files`` picked in it, or ``json``."""

    fields: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    files: Mapping[str, tuple[UploadFile, ...]] = field(default_factory=dict)
    json: Any = None

    def text(self, name: str, otherwise: str = "") -> str:
        """The first value of a field, without the blanks round it."""
        return self.fields.get(name, (otherwise,))[0].strip()

    def ticked(self, name: str) -> bool:
        """Whether a box was ticked."""
        return name in self.fields

    def file(self, name: str) -> tuple[str, bytes] | None:
        """Name and content of the first file picked; None where none was."""
        for upload in self.files.get(name, ()):
            if upload.filename:
                with upload.file as file:
                    return upload.filename, file.read()
        return None

    @property
    def typed(self) -> dict[str, str]:
        """What a person typed, for showing it again when it could not be kept."""
        return {name: values[0] for name, values in self.fields.items() if name != TOKEN}


def token_of(session: str) -> str:
    """The token that a session's forms carry. It follows from the session's secret cookie, so it outlives a restart."""
    return hmac.new(session.encode(), b"forms of this session", hashlib.sha256).hexdigest()


async def read_posted(request: Request) -> AsyncIterator[Posted]:
    """Read the request's form or JSON, and let go of its files once it is answered; refuse what lacks its session's token."""
    try:
        yield Posted() if request.method in CHANGES_NOTHING else await _checked(request)
    finally:
        await request.close()


async def _checked(request: Request) -> Posted:
    kind = request.headers.get("content-type", "").split(";")[0].strip().lower()
    if kind == "application/json":
        posted = Posted(json=_parsed(await request.body()))
    elif kind in ("application/x-www-form-urlencoded", "multipart/form-data"):
        posted = await _form(request)
    else:
        raise HTTPException(415, "That is neither a form nor JSON")
    request.state.posted = posted  # for an error page to give back
    token = request.headers.get(TOKEN_HEADER) or posted.text(TOKEN)
    if not hmac.compare_digest(token.encode(), token_of(request.scope["crownwright"].session).encode()):
        raise HTTPException(403, "This page was opened in another sitting")
    return posted


Posting = Annotated[Posted, Depends(read_posted)]


async def _form(request: Request) -> Posted:
    form = await request.form(max_files=40, max_fields=MOST_FIELDS)
    fields: dict[str, tuple[str, ...]] = {}
    files: dict[str, tuple[UploadFile, ...]] = {}
    for name, value in form.multi_items():
        if isinstance(value, UploadFile):
            files[name] = (*files.get(name, ()), value)
        else:
            fields[name] = (*fields.get(name, ()), value)
    return Posted(fields, files)


def _parsed(body: bytes) -> Any:
    try:
        return json.loads(body)
    except (ValueError, RecursionError):
        raise HTTPException(400, "That is no JSON") from None
