"""What went wrong, in the look of the house, with what was typed given back so that nothing is lost."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from crownwright.web.page import page
from crownwright.web.views.places import named

_SENT_ALONG = ("id", "base", "back", "issue", "step", "before", "list")
_KNOWN = {
    400: ("That cannot be read", "Go back and try again"),
    401: ("This phone has not been let in", "Ask for a code on the machine with the book, under Phones"),
    403: ("That is not allowed", "Go back and open the page anew"),
    404: ("There is no such sheet", "Look in the book"),
    405: ("That cannot be done here", "Go back to the page you came from"),
    409: ("Somebody else changed the job meanwhile", "Look at how it stands now, then do it again; nothing was overwritten"),
    413: ("That is more than can be taken in", "A photo may have 40 MB, an exported job 300 MB, everything else 1 MB"),
    415: ("That is neither a form nor JSON", "Send it from the page"),
    422: ("That cannot be kept as it is", "Put it right and send it again"),
    500: ("This is a fault of the program, not yours", "What was kept before is untouched; try again, and tell whoever keeps it"),
    507: ("The disk is full", "Make room on the machine with the book; what was kept before is untouched, this was not kept"),
    503: ("The book cannot be read or written just now", "Try again in a moment"),
}


@dataclass(frozen=True, slots=True)
class Trouble:
    """An HTTP status, what is wrong and what to do about it."""

    status: int
    what: str
    remedy: str

    @classmethod
    def of(cls, status: int, what: str = "", remedy: str = "") -> Trouble:
        """What is usually said with a status, or with ``what`` or ``remedy`` in place of it."""
        usual = _KNOWN.get(status, _KNOWN[400] if status < 500 else _KNOWN[500])
        return cls(status, what or usual[0], remedy or usual[1])


def wants_json(request: Request) -> bool:
    """Whether a script asks, rather than a person."""
    return "application/json" in request.headers.get("accept", "")


def trouble_page(request: Request, trouble: Trouble) -> Response:
    """The answer for a person, or for a script that asks for JSON."""
    if wants_json(request):
        return JSONResponse({"accepted": False, "what": trouble.what, "remedy": trouble.remedy}, trouble.status)
    posted = getattr(request.state, "posted", None)
    typed = posted.typed if posted is not None else {}
    again = request.url.path if request.method == "POST" else ""
    said = tuple(_said(typed))
    files = () if posted is None else tuple(one.filename for some in posted.files.values() for one in some if one.filename)
    return page(
        request, "trouble.html", sheet=trouble.what, status=trouble.status, trouble=trouble, typed=typed, said=said, again=again,
        files=files,
    )  # fmt: skip


def _said(typed: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """What a person typed or changed, by its name in words; not what the page sends along by itself."""
    for name, value in typed.items():
        kind, _, path = name.partition(":")
        if not value or name in _SENT_ALONG or kind in ("was", "remove") or typed.get(f"was:{path}") == value:
            continue
        place, _, key = path.rpartition(":") if kind == "item" else ("", "", "")
        yield (f"{named(place)}: {key}".replace("_", " ") if place else named(path or name)), value
