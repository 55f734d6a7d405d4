"""The one way values change: an entry, sent by a script as JSON or by a form."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import JSONResponse, Response

from crownwright.quantity.problems import Problem
from crownwright.service.desk.model import UNKNOWN, Change, Entry, Saved
from crownwright.service.desk.save_entry import read_entry, save_entry
from crownwright.service.plain import plain
from crownwright.web.asking import Asker, TheDesk, TheJob
from crownwright.web.forms import Posted, Posting
from crownwright.web.page import go, local
from crownwright.web.trouble import Trouble, trouble_page

router = APIRouter()


@router.post("/job/{job}/entries")
def keep(request: Request, desk: TheDesk, by: Asker, job: TheJob, posted: Posting) -> Response:
    """Keep an entry. JSON: {"id", "base", "typed_at", "changes": [{"path", "value" | "remove", "was"}]}, answered by how it
    went. A form: ``set:PATH`` what is typed at a place, ``was:PATH`` what stood there (what did not change is not sent on;
    emptied, it is removed), ``number:PATH`` and ``flag:PATH`` likewise, ``item:PATH:KEY`` a key of a new item of a list,
    ``remove:PATH``; ``id``, ``base``, ``back``.
    """
    if posted.json is not None:
        entry = read_entry(job.id, posted.json)
        saved = entry if isinstance(entry, Problem) else save_entry(desk, by, entry)
        return JSONResponse(answer(saved), 422 if isinstance(saved, Problem) else 200)
    back = local(posted.text("back"), f"/job/{job.id}")
    made = entry_from_form(job.id, posted)
    if not made.changes:
        return go(back, "Nothing was changed")
    saved = save_entry(desk, by, made)
    if isinstance(saved, Problem):
        return trouble_page(request, Trouble(422, f"{saved.where}: {saved.what}", saved.remedy))
    return go(back, note_of(saved))


def answer(saved: Saved | Problem) -> dict[str, Any]:
    """How an entry went, for a script."""
    if isinstance(saved, Problem):
        return {"accepted": False, "where": saved.where, "what": saved.what, "remedy": saved.remedy}
    told = {"revision": saved.revision, "again": saved.again, "conflicts": saved.conflicts, "problems": saved.problems}
    return {"accepted": True, **plain(told)}


def entry_from_form(job: str, posted: Posted) -> Entry:
    """The entry that a form's fields make; only what differs from what stood there."""
    base = posted.text("base")
    changes = (*_typed(posted), *_items(posted), *_removed(posted))
    return Entry(posted.text("id"), job, int(base) if base.isdecimal() and len(base) < 10 else 0, changes)


def _typed(posted: Posted) -> Iterator[Change]:
    for name in posted.fields:
        kind, _, path = name.partition(":")
        if kind not in ("set", "number", "flag") or not path:
            continue
        typed, before = posted.text(name), posted.fields.get(f"was:{path}", (None,))[0]
        if before is not None and typed == before.strip():
            continue
        was = UNKNOWN if before is None else _value(kind, before.strip())
        if typed:
            yield Change(path, _value(kind, typed), was=was)
        elif before:
            yield Change(path, remove=True, was=was)


def _items(posted: Posted) -> Iterator[Change]:
    """New items of lists, each with all that was typed of it; one with nothing typed is none."""
    items: dict[str, dict[str, str]] = {}
    for name in posted.fields:
        kind, _, rest = name.partition(":")
        path, _, key = rest.rpartition(":")
        if kind == "item" and path and key and posted.text(name):
            items.setdefault(path, {})[key] = posted.text(name)
    yield from (Change(path, value) for path, value in items.items())


def _removed(posted: Posted) -> Iterator[Change]:
    yield from (Change(name.removeprefix("remove:"), remove=True) for name in posted.fields if name.startswith("remove:"))


def _value(kind: str, typed: str) -> Any:
    """What a field's text is kept as. A number that is none is kept as typed; what is wrong with it is told beside the plan."""
    if not typed:
        return None
    if kind == "flag":
        return typed == "yes"
    if kind == "number":
        try:
            return int(typed) if typed.lstrip("+-").isdecimal() else float(typed.replace(",", "."))
        except ValueError:
            return typed
    return typed


def note_of(saved: Saved) -> str:
    """How an entry went, in a line for the next page."""
    if saved.conflicts:
        return "Another device had changed this meanwhile. Both are kept: see What changed"
    if saved.problems:
        return f"Not all had a place: {saved.problems[0].what}. {saved.problems[0].remedy}"
    return "Kept"
