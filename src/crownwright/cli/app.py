"""The command that opens the book in a browser, here and on phones that are let in."""

from __future__ import annotations

import os
import sys
from argparse import ArgumentParser, ArgumentTypeError, Namespace
from collections.abc import Callable, Iterator
from contextlib import ExitStack, suppress
from socket import socket
from typing import TYPE_CHECKING

from crownwright.cli.answer import Answer
from crownwright.cli.codes import Code

if TYPE_CHECKING:
    from crownwright.service.desk.open_desk import Desk
    from crownwright.web.own_authority import Papers

Adder = Callable[..., ArgumentParser]
MOST_PLANNERS = 4  # one for each core up to this; the process that answers pages mostly waits for them


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
    sub.add_argument(
        "--https", action="store_true", help="with --lan: speak HTTPS with phones, by an authority of this machine's own"
    )
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
    from crownwright.web.serve import PortError

    if args.https and not args.lan:
        return Answer(
            Code.ASKED_WRONG, "HTTPS is for phones: on this machine nothing leaves it.", next="add --lan, or leave --https out"
        )
    with ExitStack() as closing:
        try:
            sockets = _sockets(args, closing)
            desk = open_desk(args.book, planners=min(os.cpu_count() or 1, MOST_PLANNERS))
        except PortError as error:
            return Answer(Code.ASKED_WRONG, error.what + ".", next=_small(error.remedy))
        except BookError as error:
            return Answer(Code.NOT_WRITTEN, error.what + ".", next=_small(error.remedy))
        closing.callback(desk.close)
        try:
            return _served(desk, sockets, args)
        except OSError as error:
            what = f"The certificate cannot be kept in {error.filename or 'your data folder'}: {error.strerror or error}."
            return Answer(Code.NOT_WRITTEN, what, next="make room there, or leave --https out")


def _sockets(args: Namespace, closing: ExitStack) -> list[socket]:
    """Where the desk asks and, where phones get HTTPS, where they do."""
    from crownwright.web.serve import listen

    first = closing.enter_context(listen(args.lan and not args.https, args.port))
    return [first, closing.enter_context(listen(lan=True))] if args.https else [first]


def _served(desk: Desk, sockets: list[socket], args: Namespace) -> Answer:
    from crownwright.service.desk.model import BookError, By
    from crownwright.service.desk.open_desk import data_folder
    from crownwright.service.desk.sample import lay_in_sample
    from crownwright.web.app import build_app, user_name
    from crownwright.web.serve import own_addresses, own_names, serve

    with suppress(BookError):  # one that may only be read is still shown
        lay_in_sample(desk, By(user_name()))
    hosts = (*own_addresses(), *own_names()) if args.lan else ()
    papers = None
    if args.https:
        from crownwright.web.own_authority import papers_in

        papers = papers_in(data_folder() / "door", hosts, desk.clock())
        hosts = tuple(host for host in papers.hosts if host in hosts)
    port = sockets[-1].getsockname()[1]
    homes = tuple(f"{'https' if papers else 'http'}://{host}:{port}" for host in hosts)
    asgi = build_app(desk, lan=args.lan, hosts=hosts, homes=homes, papers=papers)
    home = f"http://localhost:{sockets[0].getsockname()[1]}/"

    def ready() -> None:
        for line in _opening(desk, home, homes, args.lan, papers):
            print(line, file=sys.stderr if args.json else sys.stdout, flush=True)
        if not args.no_open:
            _open(home)

    serve(asgi, sockets[0], ready, door=None if papers is None else (sockets[-1], papers))
    return Answer(Code.DONE, "The book is closed.", next="crownwright app opens it again", data={"book": desk.book.address})


def _opening(desk: Desk, home: str, homes: tuple[str, ...], lan: bool, papers: Papers | None) -> Iterator[str]:
    yield f"The book {desk.book.address} is open at {home}"
    addresses = [one for one in homes if one.rpartition(":")[0][-1].isdecimal()]
    if lan and not addresses:
        yield "This machine has no address on a network: no phone can reach it."
    elif lan:
        from crownwright.service.desk.pair_device import begin_pairing, qr_text

        code = begin_pairing(desk)
        yield f"Phones on this network: {' or '.join(addresses)}, code {code.code[:4]} {code.code[4:]} (ten minutes, one phone)"
        yield qr_text(f"{addresses[0]}/pair?code={code.code}")
        yield "Another code, and the list of phones: under Phones."
        if papers is None:
            yield "On a network that others use, they can read along; with --https they cannot."
        else:
            yield f"A phone warns until it trusts this machine's authority, SHA-256 {papers.fingerprint}"
    yield "Ctrl-C closes it."


def _open(home: str) -> None:
    """Open a browser, where there is a screen for one; never a browser inside the terminal."""
    import threading
    import webbrowser

    if sys.platform in ("win32", "darwin") or os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"):
        threading.Thread(target=webbrowser.open, args=(home,), daemon=True).start()


def _small(text: str) -> str:
    return text[:1].lower() + text[1:]
