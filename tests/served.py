"""The app on a port of its own, and Debian's Chromium to look at it with: for tests in the browser, benches and pictures."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import uvicorn
from tests.server import chromium, free_port

from crownwright.service.desk.open_desk import Desk
from crownwright.web.app import build_app
from crownwright.web.own_authority import Papers

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Playwright

OPTIONS = (
    "--no-sandbox",  # Chromium will not run as root with one, and CI is root
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-dev-shm-usage",
    "--font-render-hinting=none",
)
PHONE = (360, 740)
DESK = (1280, 800)


@contextmanager
def served(
    desk: Desk, owner: str = "E. Marr", patience: float = 60.0, papers: Papers | None = None, lan: bool = False
) -> Iterator[str]:
    """The app on an open book, answering in a thread of its own; gives its address. It waits for what takes long (``patience``
    seconds), so that whoever looks at a page sees all of it. With ``papers`` it shows them, though it speaks plain HTTP here.
    With ``lan`` phones that were let in may come from the network.
    """
    port = free_port()
    app = build_app(desk, owner=owner, patience=patience, papers=papers, lan=lan)
    config = uvicorn.Config(app, host="127.0.0.1", port=port, log_level="warning", ws="none", lifespan="off")
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    until = time.monotonic() + 20
    while not server.started:
        if not thread.is_alive() or time.monotonic() > until:
            raise RuntimeError("the app did not start")
        time.sleep(0.01)
    try:
        yield f"http://127.0.0.1:{port}"
    finally:
        server.should_exit = server.force_exit = True
        thread.join(20)


def launch(playwright: Playwright) -> Browser:
    """Start Chromium without a window."""
    path = chromium()
    if path is None:
        raise RuntimeError("There is no Chromium here: apt-get install chromium")
    return playwright.chromium.launch(executable_path=path, args=list(OPTIONS))


__all__ = ["DESK", "PHONE", "chromium", "launch", "served"]
