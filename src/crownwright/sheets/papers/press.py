"""From a paper to PDF, by Typst: no network, the shipped typeface only, the same bytes every time for the same paper and date."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from typing import Any, Literal

from crownwright.sheets import fonts

Size = Literal["letter", "a4"]
_TYPST_SIZE: dict[Size, str] = {"letter": "us-letter", "a4": "a4"}


@dataclass(frozen=True, slots=True)
class Paper:
    """One paper: a short ``name`` for files, its ``title``, the ``template`` that lays it out, and all it shows, as plain
    values.
    """

    name: str
    title: str
    template: str
    content: Mapping[str, Any]


def pdf(paper: Paper, size: Size, made_at: int, number: str = "") -> bytes:
    """Return a paper as accessible PDF (PDF/UA-1: tagged, titled, every picture told in words; Typst refuses anything less).

    Args:
        paper: what to print.
        size: "letter" or "a4".
        made_at: when it is made, UNIX seconds; it goes into the file's metadata.
        number: under which it is handed out, printed on every page; "" for one that is only looked at.

    Raises typst.TypstError when a template does not fit its content (a fault of the program, not of the job).
    """
    import typst  # 20 ms and 80 MB of library that only papers need

    folder = Path(str(resources.files("crownwright.sheets"))) / "typst"
    content = {"title": paper.title, "paper": _TYPST_SIZE[size], **paper.content, **({"number": number} if number else {})}
    made = typst.compile(
        folder / f"{paper.template}.typ",
        root=folder,
        font_paths=[fonts.folder()],
        ignore_system_fonts=True,
        sys_inputs={"data": json.dumps(content, ensure_ascii=False)},
        timestamp=made_at,
        format="pdf",
        pdf_standards=["ua-1"],
    )
    return bytes(made)


def pdfs(papers: Iterable[Paper], size: Size, made_at: int, number: str = "", at_once: int = 2) -> Iterator[tuple[str, bytes]]:
    """Yield papers as (name, PDF) in their order, ``at_once`` at a time (Typst works outside the interpreter's lock)."""
    papers = tuple(papers)
    with ThreadPoolExecutor(max_workers=at_once) as pool:
        made = pool.map(lambda paper: pdf(paper, size, made_at, number), papers)
        yield from zip((paper.name for paper in papers), made, strict=True)
