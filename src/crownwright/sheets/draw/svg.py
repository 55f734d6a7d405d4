"""SVG: real text in the shipped typeface (or what the reader has), classes by layer, a title and description, no script, mm on
paper.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import groupby, islice
from xml.sax.saxutils import escape, quoteattr

import numpy as np
from numpy.typing import NDArray

from crownwright.sheets.draw.ink import Laid, extent, lay
from crownwright.sheets.draw.marks import Stroke, Words
from crownwright.sheets.draw.plane import Box
from crownwright.sheets.draw.shapes import Drawing
from crownwright.sheets.fonts import FALLBACKS

FILLS = {"none": "none", "white": "#fff", "grey": "#ddd", "black": "#000"}
MARGIN = 4.0  # mm round the ink
_WHOLE = tuple(map(str, range(1000)))
_REST = tuple(f".{hundredths:02d}".rstrip("0").rstrip(".") for hundredths in range(100))


def size_mm(drawing: Drawing | Laid, margin: float = MARGIN) -> tuple[float, float]:
    """Return how wide and high a drawing is on paper at its own scale, margin included, mm."""
    left, bottom, right, top = drawing.box if isinstance(drawing, Laid) else extent(drawing)
    return right - left + 2 * margin, top - bottom + 2 * margin


def svg(drawing: Drawing | Laid, margin: float = MARGIN) -> str:
    """Return the drawing as an SVG document, true to its scale when printed at 100 %.

    Identical drawings give identical text. Coordinates are rounded to 0.01 mm.
    """
    laid = _laid(drawing)
    left, bottom, right, top = laid.box
    frame = (left - margin, bottom - margin, right + margin, top + margin)
    return "\n".join((*_head(laid.drawing, frame), *_groups(laid, frame), "</svg>", ""))


def _laid(drawing: Drawing | Laid) -> Laid:
    return drawing if isinstance(drawing, Laid) else lay(drawing)


def _head(drawing: Drawing, frame: Box) -> Iterator[str]:
    wide, high = frame[2] - frame[0], frame[3] - frame[1]
    yield (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="{drawing.name}-title {drawing.name}-desc" '
        f'width="{_n(wide)}mm" height="{_n(high)}mm" viewBox="0 0 {_n(wide)} {_n(high)}" '
        f'font-family={quoteattr(FALLBACKS)} fill="none" stroke="none" stroke-linejoin="round" stroke-linecap="butt">'
    )
    yield f'<title id="{drawing.name}-title">{escape(drawing.title)}</title>'
    yield f'<desc id="{drawing.name}-desc">{escape(drawing.says)} Scale {escape(drawing.scale_says)}.</desc>'
    yield f'<rect width="{_n(wide)}" height="{_n(high)}" fill="#fff"/>'


def _groups(laid: Laid, frame: Box) -> Iterator[str]:
    """One group for each run of marks on the same layer, so that the order from back to front is kept."""
    on_sheet = np.column_stack((laid.points[:, 0] - frame[0], frame[3] - laid.points[:, 1]))
    numbers = iter(_numbers(on_sheet.ravel()))
    for name, members in groupby(laid.marks, key=lambda m: m.layer.name):
        yield f'<g class="{name}">'
        for mark in members:
            yield _stroke(mark, numbers) if isinstance(mark, Stroke) else _words(mark, frame)
        yield "</g>"


def _stroke(mark: Stroke, numbers: Iterator[str]) -> str:
    """A stroke as a path; it takes its own from the ``numbers`` of all strokes."""
    path = "".join([_run(len(run), mark.closed) for run in mark.runs])
    path %= tuple(islice(numbers, path.count("%")))
    look = f' fill="{FILLS[mark.fill]}" fill-rule="evenodd"' if mark.fill != "none" else ""
    if mark.weight > 0:
        look += f' stroke="#000" stroke-width="{_n(mark.weight)}"'
        look += f' stroke-dasharray="{" ".join(map(_n, mark.dash))}"' if mark.dash else ""
    inside = f"><title>{escape(mark.title)}</title></path>" if mark.title else "/>"
    return f'<path d="{path}"{look}{inside}'


@cache
def _run(points: int, closed: bool) -> str:
    """Path data of a run of so many points, their numbers left open."""
    return f"M%s %sL{' '.join(['%s %s'] * (points - 1))}{'Z' if closed else ''}"


def _words(mark: Words, frame: Box) -> str:
    x, y = _n(mark.at[0] - frame[0]), _n(frame[3] - mark.at[1])
    place = f'x="{x}" y="{y}"'
    if abs(mark.turn) > 0.05:
        place += f' transform="rotate({_n(-mark.turn)} {x} {y})"'
    look = f' font-size="{_n(mark.size)}"' + (' font-weight="600"' if mark.bold else "")
    look += f' text-anchor="{mark.anchor}"' if mark.anchor != "start" else ""
    return f'<text {place} fill="#000"{look}>{escape(mark.text)}</text>'


def _n(value: float) -> str:
    """A number to 0.01 mm, without trailing zeros or a minus zero."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _numbers(values: NDArray[np.float64]) -> list[str]:
    """Many numbers as `_n` writes them. Only few need its decimal arithmetic: the negative, the very large, and those so near
    half a hundredth that binary arithmetic may round them to the wrong side.
    """
    exact = values * 100.0
    rounded = np.rint(exact)
    few = (values < 0.0) | (rounded >= 100 * len(_WHOLE)) | (np.abs(exact - rounded) > 0.499999)
    whole, rest = np.divmod(np.where(few, 0.0, rounded).astype(int), 100)
    texts = [_WHOLE[w] + _REST[r] for w, r in zip(whole.tolist(), rest.tolist(), strict=True)]
    for i in np.flatnonzero(few).tolist():
        texts[i] = _n(values[i])
    return texts
