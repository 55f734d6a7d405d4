"""Listen on this machine, or to the network as well, until told to stop."""

from __future__ import annotations

import errno
import signal
import socket
import ssl
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from ipaddress import ip_address
from types import FrameType

import uvicorn
from starlette.types import ASGIApp

from crownwright.web.own_authority import Papers

FIRST_PORT = 8470
TRIED = 10  # ports in a row, where none was asked for
LOOPBACK, EVERYWHERE = "127.0.0.1", "0.0.0.0"
TURN = 0.0005
"""Seconds a thread goes on while others wait for the interpreter. A page asks the book ten times and may wait a turn after
each: at the usual 5 ms that was up to half its time while other pages were drawn.
"""


class PortError(Exception):
    """Nobody can listen there. ``remedy`` says what to do."""

    def __init__(self, what: str, remedy: str) -> None:
        super().__init__(what)
        self.what, self.remedy = what, remedy


def listen(lan: bool, port: int = 0) -> socket.socket:
    """A socket that listens on loopback, or everywhere; ``port`` 0 takes the first free one of ours. Raises `PortError`."""
    for number in (port,) if port else range(FIRST_PORT, FIRST_PORT + TRIED):
        with suppress(_TakenError):
            return _listen(EVERYWHERE if lan else LOOPBACK, number)
    if port:
        raise PortError(f"Port {port} is taken by another program", "Close that one, or name another with --port")
    last = FIRST_PORT + TRIED - 1
    raise PortError(f"Ports {FIRST_PORT} to {last} are all taken", "Close what is open already, or name another with --port")


class _TakenError(Exception):
    pass


def _listen(host: str, port: int) -> socket.socket:
    # The protocol is named, or the event loop does not know it for one on which small writes must not wait for each other: each
    # answer's end would come 40 ms after its head.
    sock = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    if hasattr(socket, "SO_EXCLUSIVEADDRUSE"):
        sock.setsockopt(socket.SOL_SOCKET, socket.SO_EXCLUSIVEADDRUSE, 1)
    else:
        sock.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)  # a server just stopped does not keep its port
    try:
        sock.bind((host, port))
        sock.listen(128)
    except OSError as error:
        sock.close()
        if error.errno in (errno.EADDRINUSE, getattr(errno, "WSAEADDRINUSE", errno.EADDRINUSE)):
            raise _TakenError from error
        if error.errno == errno.EACCES:
            raise PortError(f"Port {port} may not be used by this user", "Name one above 1024 with --port") from error
        raise PortError(f"Port {port} cannot be used: {error.strerror}", "Name another with --port") from error
    return sock


def own_addresses() -> tuple[str, ...]:
    """The addresses at which phones on the same network can ask this machine, the likeliest first. Nothing is sent for it."""
    found: dict[str, None] = {}
    with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        asking.connect(("192.0.2.1", 9))  # a test address (RFC 5737): connecting a datagram socket only picks the way out
        found[asking.getsockname()[0]] = None
    with suppress(OSError):
        found.update(dict.fromkeys(str(info[4][0]) for info in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)))
    return tuple(address for address in found if not ip_address(address).is_loopback and address != EVERYWHERE)


def own_names() -> tuple[str, ...]:
    """The names this machine goes by on its network."""
    name = socket.gethostname().lower()
    return (name, name if name.endswith(".local") else f"{name.split('.')[0]}.local")


def serve(app: ASGIApp, sock: socket.socket, ready: Callable[[], None], door: tuple[socket.socket, Papers] | None = None) -> None:
    """Serve until Ctrl-C or a polite signal; answers under way are finished first. ``ready`` is called once it answers.

    ``door`` is a second socket, for the network, where HTTPS is spoken with those papers.
    """
    sys.setswitchinterval(TURN)
    here = _Server(_settings(app), ready)
    if door is None:
        here.run(sockets=[sock])
        return
    outside = _Server(_settings(app, door[1]), lambda: None)
    answering = threading.Thread(target=outside.run, kwargs={"sockets": [door[0]]}, name="network")
    answering.start()
    try:
        here.run(sockets=[sock])
    finally:
        outside.should_exit = True
        answering.join()


def _settings(app: ASGIApp, papers: Papers | None = None) -> uvicorn.Config:
    settings = uvicorn.Config(
        app,
        http="h11",
        ws="none",
        lifespan="off",
        loop="asyncio",
        log_config=None,
        log_level="error",
        access_log=False,
        proxy_headers=False,
        server_header=False,
        timeout_keep_alive=30,
        timeout_graceful_shutdown=10,
        ssl_certfile=papers.certificate if papers else None,
        ssl_keyfile=papers.key if papers else None,
    )
    settings.load()
    if settings.ssl is not None:
        settings.ssl.minimum_version = ssl.TLSVersion.TLSv1_2
    return settings


class _Server(uvicorn.Server):
    """Stops at a signal and lets whoever started it tidy up, rather than die of the signal afterwards."""

    def __init__(self, config: uvicorn.Config, ready: Callable[[], None]) -> None:
        super().__init__(config)
        self.ready = ready

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Begin to answer."""
        await super().startup(sockets)
        if self.started:
            self.ready()

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Take Ctrl-C and the polite signal as asking to stop."""
        if threading.current_thread() is not threading.main_thread():
            yield
            return
        before = {sign: signal.signal(sign, self._stop) for sign in (signal.SIGINT, signal.SIGTERM)}
        try:
            yield
        finally:
            for sign, handler in before.items():
                signal.signal(sign, handler)

    def _stop(self, sign: int, frame: FrameType | None) -> None:
        self.handle_exit(sign, frame)
