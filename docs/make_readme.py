"""Put what the README's first command prints under it, and the closing lines of its second (given on standard input)."""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
README = ROOT / "README.md"


def between(page: str, mark: str, text: str) -> str:
    """The page with ``text`` between the comments ``mark`` and ``end of mark``."""
    block = f"<!-- {mark} -->\n```text\n{text.strip()}\n```\n<!-- end of {mark} -->"
    return re.sub(rf"<!-- {mark} -->.*?<!-- end of {mark} -->", lambda _: block, page, flags=re.DOTALL)


def demo_says() -> str:
    """What the demo prints on a screen of a hundred columns, its folder called as the task calls it."""
    with tempfile.TemporaryDirectory() as folder:
        command = [sys.executable, "-m", "crownwright", "demo", "--into", f"{folder}/demo"]
        done = subprocess.run(command, cwd=ROOT, env={"COLUMNS": "100", "PATH": ""}, capture_output=True, text=True, check=False)
        return done.stdout.replace(f"{folder}/demo", "out/demo")


if __name__ == "__main__":
    page = between(README.read_text("utf-8"), "demo", demo_says())
    if not sys.stdin.isatty() and (closing := sys.stdin.read().strip()):
        page = between(page, "test", closing)
    README.write_text(page, "utf-8")
