"""Photos named by file, made fit for a paper: turned upright, without location, small enough to be sent by mail."""

from __future__ import annotations

import io
from collections.abc import Sequence
from pathlib import Path

from crownwright.quantity.problems import Problem
from crownwright.service.desk.pictures import PRINTED, print_size
from crownwright.sheets.papers.deal import Photo


def photos_named(named: Sequence[tuple[Path, str]]) -> tuple[tuple[Photo, ...], tuple[Problem, ...]]:
    """Return the photos of (file, what it shows), or everything that is wrong with them."""
    photos: list[Photo] = []
    problems: list[Problem] = []
    for path, says in named:
        try:
            made = print_size(path.read_bytes())
        except OSError as error:
            problems.append(Problem(str(path), f"it cannot be read: {error.strerror}", "Look at its name"))
            continue
        if isinstance(made, Problem):
            problems.append(Problem(str(path), made.what, made.remedy))
        else:
            photos.append(for_paper(made, says))
    return tuple(photos), tuple(problems)


def for_paper(upright: bytes, says: str) -> Photo:
    """Return a JPEG as a paper shows it; what is small enough stays as it is."""
    from PIL.Image import open as open_picture

    with open_picture(io.BytesIO(upright), formats=["JPEG"]) as picture:
        if max(picture.size) <= PRINTED:
            return Photo(upright, *picture.size, says)
        picture.draft("RGB", (PRINTED, PRINTED))
        picture.thumbnail((PRINTED, PRINTED))
        out = io.BytesIO()
        picture.save(out, "JPEG", quality=82, optimize=True)
        return Photo(out.getvalue(), *picture.size, says)
