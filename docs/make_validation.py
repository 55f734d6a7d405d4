"""Make docs/validation.md: every number held against a published source, theirs beside ours."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
HEAD = """# Held against the outside

Every row is checked by the test file named; this page is made from their results (`python3 tasks.py docs`).
"Grade" says how the other side's figure is known: *read* in the source or a quotation of it; *derived* from its stated inputs;
*from memory*; *common practice*; *independent program*; *open data*.

"""


def rows() -> list[dict[str, object]]:
    """Run the validation tests and return what they compared."""
    with tempfile.TemporaryDirectory() as folder:
        env = {**os.environ, "CROWNWRIGHT_VALIDATION": folder}
        subprocess.run([sys.executable, "-m", "pytest", "-q", "-n", "2", "tests/validation"], cwd=ROOT, env=env, check=True)
        return [row for file in sorted(Path(folder).glob("*.json")) for row in json.loads(file.read_text("utf-8"))]


def number(value: object) -> str:
    """As many digits as tell the two sides apart."""
    return f"{value:.7g}" if isinstance(value, float | int) else str(value)


def page(found: list[dict[str, object]]) -> str:
    """The page as Markdown: a line of totals, then a table a source."""
    files = sorted({str(r["test"]) for r in found})
    grades = sorted({str(r["grade"]) for r in found})
    counts = ", ".join(f"{sum(r['grade'] == g for r in found):,} {g}" for g in grades)
    lines = [HEAD + f"**{len(found):,} comparisons in {len(files)} files** ({counts}).\n"]
    for file in files:
        mine = [r for r in found if r["test"] == file]
        lines += [f"## {mine[0]['source']}", "", f"`tests/validation/{file}`", ""]
        lines += ["| place | what | theirs | ours | difference | unit | grade |", "|---|---|---|---|---|---|---|"]
        for r in sorted(mine, key=lambda r: (str(r["place"]), str(r["what"]))):
            gap = float(str(r["ours"])) - float(str(r["theirs"]))
            cells = (
                r["place"],
                r["what"],
                number(r["theirs"]),
                number(r["ours"]),
                f"{gap:+.2g}" if gap else "0",
                r["unit"],
                r["grade"],
            )
            lines.append("| " + " | ".join(str(c).replace("|", "\\|") for c in cells) + " |")
        lines.append("")
    return "\n".join(lines)


if __name__ == "__main__":
    (ROOT / "docs" / "validation.md").write_text(page(rows()), "utf-8")
