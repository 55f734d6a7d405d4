"""The cut list as bars: each board with its pieces in the order they are sawn, and what is left."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from crownwright.form.cutlist import Board, CutList
from crownwright.plan.job import Units
from crownwright.quantity.lengths import print_length
from crownwright.sheets import fonts
from crownwright.sheets.draw.layers import BOARD, BOARD_CUT, HATCH, NOTE
from crownwright.sheets.draw.shapes import Drawing, Hatch, Line, Polygon, Shape, Text
from crownwright.sheets.drawings import scales
from crownwright.sheets.drawings.say import length

BAR = 9.0  # mm high
PITCH = 18.0  # mm from bar to bar
LABEL = 3.0  # mm, em of the largest label in a bar


def cut_bars(cuts: CutList, units: Units, wide: float = 172.0) -> Drawing:
    """Return the cut list drawn as bars, at most ``wide`` mm; lengths along the bars are to scale, heights are not."""
    longest = max((board.length for board in cuts.boards), default=1.0)
    scale = scales.fit(longest, 0.0, units, (wide, 1.0))
    shapes = [shape for i, board in enumerate(cuts.boards) for shape in _bar(i, board, units, 1000.0 / scale.by)]
    says = f"{len(cuts.boards)} boards and what is sawn from each, from left to right."
    return Drawing("cut-bars", "What is sawn from each board", says, scale.by, scale.says, tuple(shapes))


def _bar(i: int, board: Board, units: Units, times: float) -> Iterator[Shape]:
    top, foot = -i * PITCH / times, -(i * PITCH + BAR) / times
    van = ", from the van" if board.on_hand else ""
    yield Text(
        (0, top), f"{i + 1} · {board.section} · {stock_length(board.length, units)}{van}", 3.3, bold=True, shift=(0.0, 1.4)
    )
    yield Polygon(BOARD_CUT, ((0, foot), (board.length, foot), (board.length, top), (0, top)), title=f"board {i + 1}")
    if board.trim > 0:
        yield Polygon(BOARD, ((0, foot), (board.trim, foot), (board.trim, top), (0, top)), fill="black", title="trimmed end")
    middle = (top + foot) / 2
    for piece in board.pieces:
        yield Line(BOARD_CUT, (piece.start + piece.length, foot), (piece.start + piece.length, top), "saw cut")
        yield from _piece_label(piece.name, length(piece.length, units), piece.start, piece.length, middle, times)
    end = board.length - max(board.offcut, 0.0)
    if board.offcut * times > 1.0:
        yield Polygon(HATCH, ((end, foot), (board.length, foot), (board.length, top), (end, top)), (), Hatch.CLAY, title="offcut")
        if board.offcut * times > 14.0:
            text = f"left {length(board.offcut, units)}"
            yield Text(((end + board.length) / 2, middle), text, LABEL, "middle", 0.5, clear=True)


def stock_length(metres: float, units: Units) -> str:
    """Return the length of a board as it is asked for at the yard: whole feet where they are whole, else as any length."""
    if units == "us":
        feet = print_length(metres, "feet")
        return f"{feet.split(chr(39))[0]} ft" if feet.endswith("' 0\"") else feet
    return print_length(metres, "m")


def _piece_label(name: str, size: str, start: float, long: float, middle: float, times: float) -> Iterator[Shape]:
    """Name and length in the bar: on one line, on two, or (a short piece) the name alone, turned."""
    room = long * times - 1.6
    at = (start + long / 2, middle)
    whole = f"{name} · {size}"
    if fonts.width(whole, LABEL, True) <= room:
        yield Text(at, whole, LABEL, "middle", 0.5, bold=True, layer=NOTE)
    elif max(fonts.width(name, 2.9, True), fonts.width(size, 2.9)) <= room:
        yield Text(at, name, 2.9, "middle", 0.0, bold=True, shift=(0.0, 0.5))
        yield Text(at, size, 2.9, "middle", 1.0, shift=(0.0, -0.6))
    else:
        yield Text(at, name, 2.8, "middle", 0.5, 90.0, bold=True)


def marks(board: Board) -> list[float]:
    """Return where each piece ends, from the board's first end (m): the running marks to set out with one hook of the tape."""
    ends = [piece.start + piece.length for piece in board.pieces]
    if any(b <= a for a, b in pairwise(ends)):
        raise ValueError("pieces overlap on a board")
    return ends
