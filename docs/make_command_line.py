"""Run the commands that docs/command-line.md shows, and put what they print under them."""

from __future__ import annotations

import contextlib
import io
import os
import re
import shlex
from pathlib import Path
from unittest.mock import patch

from crownwright.cli.main import run

ROOT = Path(__file__).resolve().parent.parent
PAGE = ROOT / "docs" / "command-line.md"
SHOWN = re.compile(r"```console\n\$ (crownwright [^\n]*)\n.*?```", re.DOTALL)


def printed(command: str) -> str:
    """What a command prints on a screen of a hundred columns, run in the checkout."""
    screen = {"COLUMNS": "100", "NO_COLOR": "1"}
    with (
        io.StringIO() as out,
        patch.dict(os.environ, screen),
        contextlib.chdir(ROOT),
        contextlib.redirect_stdout(out),
    ):
        with contextlib.suppress(SystemExit):  # --help leaves that way
            run(shlex.split(command)[1:])
        return out.getvalue().rstrip()


def with_output(page: str) -> str:
    """The page with the output of its commands made again."""
    return SHOWN.sub(lambda shown: f"```console\n$ {shown[1]}\n{printed(shown[1])}\n```", page)


if __name__ == "__main__":
    PAGE.write_text(with_output(PAGE.read_text("utf-8")), "utf-8")
