"""Shows that something is going on, on the error stream of a terminal, once it has taken a second."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Event, Thread

AFTER = 1.0  # s


class Patience:
    """What is going on now; said on the terminal only when the whole has taken longer than a second."""

    def __init__(self) -> None:
        self.doing = ""
        self._over = Event()

    def step(self, doing: str) -> None:
        """Say what comes next."""
        self.doing = doing

    def watch(self) -> None:
        """Wait a second, then show what is going on until it is over."""
        if self._over.wait(AFTER):
            return
        from rich.console import Console

        console = Console(stderr=True)
        with console.status(self.doing) as status:
            while not self._over.wait(0.1):
                status.update(self.doing)

    def end(self) -> None:
        """It is over."""
        self._over.set()


@contextmanager
def patience(doing: str) -> Iterator[Patience]:
    """Show progress round a block of work, where a person can see it."""
    shown = Patience()
    shown.step(doing)
    thread = Thread(target=shown.watch, daemon=True) if sys.stderr.isatty() else None
    if thread:
        thread.start()
    try:
        yield shown
    finally:
        shown.end()
        if thread:
            thread.join()
