"""Make the pictures of the docs from the demo job: drawings as SVG, and two pages of its papers as PNG."""

from __future__ import annotations

import struct
import zlib
from pathlib import Path

import numpy as np
import pypdfium2 as pdfium

from crownwright.plan.plan_job import plan_job
from crownwright.service.jobfile import read_job
from crownwright.sheets.draw.svg import svg
from crownwright.sheets.everything import drawings_of, papers_of
from crownwright.sheets.papers.press import pdf

ROOT = Path(__file__).resolve().parent.parent
INTO = ROOT / "docs" / "pictures"
NOON = 1_780_000_000  # a fixed moment, so that pictures change only when the drawings do
PAGES = {"summary": 0, "drawings": 2}
"""Which page of which paper is shown."""
DRAWINGS = ("view", "readings", "cap-plan", "section-a", "edge", "elevation", "form-plan", "assembly-1", "cut-bars")


def png(grey: np.ndarray) -> bytes:
    """A grey picture (rows, columns), 0..255, as PNG."""
    rows = np.zeros((grey.shape[0], grey.shape[1] + 1), np.uint8)  # every row begins with its filter, 0: none
    rows[:, 1:] = grey

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", grey.shape[1], grey.shape[0], 8, 0, 0, 0, 0)
    body = zlib.compress(rows.tobytes(), 9)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def main() -> None:
    """Write every picture."""
    job, problems = read_job(ROOT / "src" / "crownwright" / "service" / "demo.toml")
    if job is None:
        raise SystemExit("\n".join(map(str, problems)))
    plan = plan_job(job)
    drawings = drawings_of(plan)
    INTO.mkdir(parents=True, exist_ok=True)
    for drawing in drawings:
        if drawing.name in DRAWINGS:
            (INTO / f"{drawing.name}.svg").write_text(svg(drawing), "utf-8")
    for paper in papers_of(plan, drawings):
        if paper.name in PAGES:
            page = pdfium.PdfDocument(pdf(paper, "letter", NOON))[PAGES[paper.name]]
            (INTO / f"{paper.name}.png").write_bytes(png(page.render(scale=1.6, grayscale=True).to_numpy().squeeze()))


if __name__ == "__main__":
    main()
