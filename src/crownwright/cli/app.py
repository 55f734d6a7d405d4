"""The command that opens the book in a browser, here and on phones that are let in."""

from __future__ import annotations

import os
import sys
from argparse import ArgumentParser, ArgumentTypeError, Namespace
from collections.abc import Callable, Iterator
from contextlib import suppress
from typing import TYPE_CHECKING

from crownwright.cli.answer import Answer
from crownwright.cli.codes import Code

if TYPE_CHECKING:
    from crownwright.service.desk.open_desk import Desk

Adder = Callable[..., ArgumentParser]
MOST_PLANNERS = 4


def add_commands(command: Adder) -> None:
    """Put the command among the others; ``command`` adds one."""
    sub = command("app", "open the job book in a browser, on this machine and, if you like, on phones", app)
    sub.add_argument(
        "--book",
        metavar="PLACE",
        default=os.environ.get("CROWNWRIGHT_BOOK"),
        help="the book: a file, or postgresql://...; left out, CROWNWRIGHT_BOOK, or the one in your data folder",
    )
    sub.add_argument("--port", metavar="N", type=_port, default=0, help="port to listen on; left out, a free one from 8470 up")
    sub.add_argument("--lan", action="store_true", help="let phones on the same network in, each by a code")
    sub.add_argument("--no-open", action="store_true", help="do not open a browser")


def _port(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text[:6]) <= 65535:
        raise ArgumentTypeError(f"{text!r} is no port; give one from 1 to 65535")
    return int(text)


def app(args: Namespace) -> Answer:
    """Open the book, serve its pages until stopped."""
    from crownwright.service.desk.calm import calm

    calm()
    from crownwright.service.desk.model import BookError
    from crownwright.service.desk.open_desk import open_desk
    from crownwright.web.serve import PortError, listen

    try:
        sock = listen(args.lan, args.port)
    except PortError as error:
        return Answer(Code.ASKED_WRONG, error.what + ".", next=_small(error.remedy))
    try:
        desk = open_desk(args.book, planners=max(1, min((os.cpu_count() or 2) - 1, MOST_PLANNERS)))
    except BookError as error:
        sock.close()
        return Answer(Code.NOT_WRITTEN, error.what + ".", next=_small(error.remedy))
    try:
        return _served(desk, sock.getsockname()[1], args, lambda asgi, ready: serve_it(asgi, sock, ready))
    finally:
        sock.close()
        desk.close()


def serve_it(asgi: object, sock: object, ready: Callable[[], None]) -> None:
    """Serve; apart, so that what is loaded for it is loaded late."""
    from crownwright.web.serve import serve

    serve(asgi, sock, ready)  # type: ignore[arg-type]


def _served(desk: Desk, port: int, args: Namespace, serving: Callable[[object, Callable[[], None]], None]) -> Answer:
    from crownwright.service.desk.model import BookError, By
    from crownwright.service.desk.sample import lay_in_sample
    from crownwright.web.app import build_app, user_name
    from crownwright.web.serve import own_addresses, own_names

    with suppress(BookError):  # one that may only be read is still shown
        lay_in_sample(desk, By(user_name()))
    addresses = own_addresses() if args.lan else ()
    asgi = build_app(desk, lan=args.lan, hosts=(*addresses, *own_names()) if args.lan else (), port=port)
    home = f"http://localhost:{port}/"

    def ready() -> None:
        for line in _opening(desk, home, tuple(f"http://{address}:{port}" for address in addresses), args.lan):
            print(line, file=sys.stderr if args.json else sys.stdout, flush=True)
        if not args.no_open:
            _open(home)

    serving(asgi, ready)
    return Answer(Code.DONE, "The book is closed.", next="crownwright app opens it again", data={"book": desk.book.address})


def _opening(desk: Desk, home: str, addresses: tuple[str, ...], lan: bool) -> Iterator[str]:
    yield f"The book {desk.book.address} is open at {home}"
    if lan and not addresses:
        yield "This machine has no address on a network: no phone can reach it."
    elif lan:
        from crownwright.service.desk.pair_device import begin_pairing, qr_text

        code = begin_pairing(desk)
        yield f"Phones on this network: {' or '.join(addresses)}, code {code.code[:4]} {code.code[4:]} (ten minutes, one phone)"
        yield qr_text(f"{addresses[0]}/pair?code={code.code}")
        yield "Another code, and the list of phones: under Phones. On a network that others use, they can read along."
    yield "Ctrl-C closes it."


def _open(home: str) -> None:
    """Open a browser, where there is a screen for one; never a browser inside the terminal."""
    import threading
    import webbrowser

    if sys.platform in ("win32", "darwin") or os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"):
        threading.Thread(target=webbrowser.open, args=(home,), daemon=True).start()


def _small(text: str) -> str:
    return text[:1].lower() + text[1:]
