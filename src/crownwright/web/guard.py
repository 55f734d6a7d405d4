"""The door: which hosts are answered, who may come in, how much may be sent, and the headers that every answer carries."""

from __future__ import annotations

import logging
import secrets
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie
from ipaddress import ip_address
from urllib.parse import urlsplit

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from crownwright.service.desk.model import BookError, By
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.pair_device import device_of
from crownwright.web.forms import CHANGES_NOTHING
from crownwright.web.trouble import Trouble, trouble_page

LOG = logging.getLogger("crownwright.web")
SESSION, DEVICE = "crownwright_session", "crownwright_phone"
KEPT_FOR = 400 * 24 * 3600  # s, the longest that browsers keep a cookie
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; "
    "form-action 'self'; frame-ancestors 'none'; base-uri 'none'; worker-src 'self'; manifest-src 'self'"
)
HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "x-frame-options": "DENY",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "geolocation=(), microphone=(), camera=(), payment=(), usb=()",
}
NOBODY = By("nobody", "nobody")
ONE_OF_US = ("localhost", "127.0.0.1", "::1")
OPEN = ("/pair", "/static/", "/manifest.webmanifest", "/favicon.ico")
"""What a phone that was not let in yet may ask for."""
MOST = 1_000_000
ROOM = (("/import", 300_000_000), ("/photos", 42_000_000), ("/days/weather", 9_000_000), ("/money/prices", 9_000_000))
"""Bytes that may be sent: to addresses with these ends more than to others."""


@dataclass(frozen=True, slots=True)
class Caller:
    """Who asks, and the secret of the sitting, from which its forms' token follows."""

    by: By
    session: str


class TooLargeError(Exception):
    """More was sent than may be."""


class Guard:
    """ASGI middleware round everything. ``hosts`` are the names this machine is asked by beside localhost."""

    def __init__(self, app: ASGIApp, desk: Desk, owner: str, hosts: Collection[str] = (), lan: bool = False) -> None:
        self.app, self.desk, self.owner, self.lan = app, desk, owner, lan
        self.hosts = {*ONE_OF_US, *(host.lower() for host in hosts)}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        answer = _Answer(send)
        try:
            cookies = _cookies(headers)
            session, answer.session = _session(cookies.get(SESSION, ""))
            scope["crownwright"] = Caller(NOBODY, session)
            answer.secure = scope["scheme"] == "https"
            by = await self._by(scope, cookies)
            scope["crownwright"] = Caller(by or NOBODY, session)
            refused = self._refused(scope, headers, by)
            if refused is not None:
                await refused(scope, receive, answer)
                return
            await self.app(scope, _counted(receive, _room(scope["path"])), answer)
        except TooLargeError:
            await self._told(Trouble.of(413), scope, receive, answer)
        except BookError as error:
            await self._told(Trouble(503, error.what, error.remedy), scope, receive, answer)
        except Exception:
            LOG.exception("%s %s", scope["method"], scope["path"])
            await self._told(Trouble.of(500), scope, receive, answer)

    async def _told(self, trouble: Trouble, scope: Scope, receive: Receive, answer: _Answer) -> None:
        if not answer.begun:
            await trouble_page(Request(scope), trouble)(scope, receive, answer)

    async def _by(self, scope: Scope, cookies: Mapping[str, str]) -> By | None:
        """Who asks; None where nobody let them in."""
        if _is_here(scope):
            return By(self.owner)
        device = await run_in_threadpool(device_of, self.desk, cookies.get(DEVICE, "")) if self.lan else None
        return None if device is None else By(device.name, device.id)

    def _refused(self, scope: Scope, headers: Headers, by: By | None) -> Response | None:
        trouble = self._trouble(scope, headers)
        if trouble is not None:
            return trouble_page(Request(scope), trouble)
        path = scope["path"]
        if by is None and not (self.lan and path.startswith(OPEN)):
            if self.lan and scope["method"] in CHANGES_NOTHING and "text/html" in headers.get("accept", ""):
                return RedirectResponse("/pair", 303)
            return trouble_page(Request(scope), Trouble.of(401))
        return None

    def _trouble(self, scope: Scope, headers: Headers) -> Trouble | None:
        host = headers.get("host", "")
        if _name(host) not in self.hosts:
            return Trouble(421, "This machine is not asked by that name", "Use the address that was shown when it started")
        length = headers.get("content-length", "0")
        if not length.isdecimal() or int(length[:18]) > _room(scope["path"]):
            return Trouble.of(413)
        if headers.get("sec-fetch-site") == "cross-site" and headers.get("sec-fetch-mode") != "navigate":
            return Trouble(403, "Another site asked for this", "Open the page itself")
        if scope["method"] not in CHANGES_NOTHING and not _from_here(headers, scope["scheme"], host):
            return Trouble(403, "Another site sent this", "Open the page itself and send it from there")
        return None


class _Answer:
    """Sends an answer with the headers that all carry, and the session's cookie where it is new."""

    def __init__(self, send: Send) -> None:
        self.send, self.begun, self.session, self.secure = send, False, "", False

    async def __call__(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            self.begun = True
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
            headers.setdefault("cache-control", "private, no-cache")
            if self.session:
                headers.append("set-cookie", cookie(SESSION, self.session, secure=self.secure))
        await self.send(message)


def cookie(name: str, value: str, *, secure: bool, age: int = KEPT_FOR) -> str:
    """A cookie that scripts cannot read and that other sites' forms do not bring."""
    return f"{name}={value}; Max-Age={age}; Path=/; HttpOnly; SameSite=Lax" + ("; Secure" if secure else "")


def _cookies(headers: Headers) -> dict[str, str]:
    try:
        return {name: part.value for name, part in SimpleCookie(headers.get("cookie", "")).items()}
    except CookieError:
        return {}


def _session(told: str) -> tuple[str, str]:
    """The secret of the sitting, and once more where it is new."""
    new = "" if 20 <= len(told) <= 100 else secrets.token_urlsafe(32)
    return new or told, new


def _is_here(scope: Scope) -> bool:
    """Whether it is this machine that asks."""
    try:
        return ip_address((scope.get("client") or ("",))[0]).is_loopback
    except ValueError:
        return False


def _name(host: str) -> str:
    """A host's name or address without its port."""
    try:
        return (urlsplit(f"//{host}").hostname or "").lower()
    except ValueError:
        return ""


def _from_here(headers: Headers, scheme: str, host: str) -> bool:
    """Whether a page of this same address sent it; where a browser tells neither way, the token alone decides."""
    origin = headers.get("origin")
    if origin is not None:
        return origin.lower() == f"{scheme}://{host}".lower()
    return headers.get("sec-fetch-site", "same-origin") in ("same-origin", "none")


def _room(path: str) -> int:
    return next((most for end, most in ROOM if path.endswith(end)), MOST)


def _counted(receive: Receive, most: int) -> Receive:
    """Receive no more than ``most`` bytes, whatever length was told."""
    seen = 0

    async def counted() -> Message:
        nonlocal seen
        message = await receive()
        seen += len(message.get("body", b""))
        if seen > most:
            raise TooLargeError
        return message

    return counted
