"""The cut list as bars: each board with its pieces in the order they are sawn, and what is left."""

from __future__ import annotations

from collections.abc import Iterator

from crownwright.form.cutlist import Board, Sawn
from crownwright.form.model import FormDesign, Piece
from crownwright.plan.job import Units
from crownwright.quantity.lengths import print_length
from crownwright.sheets import fonts
from crownwright.sheets.draw.layers import BOARD, BOARD_CUT, HATCH
from crownwright.sheets.draw.shapes import Drawing, Hatch, Line, Polygon, Shape, Text
from crownwright.sheets.drawings import scales
from crownwright.sheets.drawings.say import length, pieces_called, wrap

BAR = 9.0  # mm high
ABOVE, BETWEEN = 5.6, 4.0  # mm for a board's name, and after the bar
LABEL, SMALL = 3.0, 2.9  # mm, ems


def cut_bars(form: FormDesign, units: Units, wide: float = 172.0) -> Drawing:
    """Return the cut list drawn as bars, at most ``wide`` mm; lengths along the bars are to scale, heights are not.

    Pieces too short for their name get a letter, told under the bar. Needs ``form.cut``.
    """
    if form.cut is None:
        raise ValueError("the cut list was left out of this plan")
    boards = form.cut.boards
    scale = scales.fit(max((board.length for board in boards), default=1.0), 0.0, units, (wide, 1.0))
    shapes: list[Shape] = []
    down = 0.0
    for i, board in enumerate(boards):
        bar = _Bar(board, form, units, 1000.0 / scale.by, wide)
        shapes += bar.shapes(i + 1, down)
        down += ABOVE + BAR + BETWEEN + bar.legend_high
    says = f"{len(boards)} boards and what is sawn from each, from left to right."
    return Drawing("cut-bars", "What is sawn from each board", says, scale.by, scale.says, tuple(shapes))


def stock_length(metres: float, units: Units) -> str:
    """Return the length of a board as it is asked for at the yard: whole feet where they are whole, else as any length.

    >>> stock_length(3.6576, "us"), stock_length(2.4, "metric")
    ('12 ft', '2.400 m')
    """
    if units == "us":
        feet = print_length(metres, "feet")
        return f"{feet.split(chr(39))[0]} ft" if feet.endswith("' 0\"") else feet
    return print_length(metres, "m")


class _Bar:
    """One board being drawn: its pieces' labels are settled first, since they decide how high it is."""

    def __init__(self, board: Board, form: FormDesign, units: Units, times: float, wide: float) -> None:
        self.board, self.units, self.times = board, units, times
        self.letters: dict[str, list[Piece]] = {}
        self.labels: list[tuple[Sawn, str]] = []
        for sawn in board.pieces:
            self.labels.append((sawn, self._label(sawn, form.piece(sawn.name))))
        told = [f"{letter}: {pieces_called(group)} · {length(group[0].length, units)}" for letter, group in self.letters.items()]
        self.legend = wrap(",  ".join(told), SMALL, wide) if told else ""
        self.legend_high = (self.legend.count("\n") + 1) * SMALL * 1.25 + 1.2 if told else 0.0

    def _label(self, sawn: Sawn, piece: Piece) -> str:
        """The words in the bar: name and length where they fit, on two lines if need be, else a letter."""
        room = sawn.length * self.times - 1.6
        size = length(sawn.length, self.units)
        if fonts.width(f"{piece.name} · {size}", LABEL, True) <= room:
            return f"{piece.name} · {size}"
        if max(fonts.width(piece.name, LABEL, True), fonts.width(size, LABEL, True)) <= room:
            return f"{piece.name}\n{size}"
        for letter, group in self.letters.items():
            if group[0].part == piece.part and abs(group[0].length - piece.length) < 1e-6:
                group.append(piece)
                return letter
        letter = chr(ord("a") + len(self.letters))
        self.letters[letter] = [piece]
        return letter

    def shapes(self, number: int, down: float) -> Iterator[Shape]:
        """The bar, ``down`` mm under the first one's head."""
        board = self.board
        head = -down / self.times
        top, foot = head - ABOVE / self.times, head - (ABOVE + BAR) / self.times
        middle = (top + foot) / 2
        van = ", from the van" if board.on_hand else ""
        name = f"{number} · {board.section} · {stock_length(board.length, self.units)}{van}"
        yield Text((0, top), name, 3.3, bold=True, shift=(0.0, 1.4))
        yield Polygon(BOARD_CUT, ((0, foot), (board.length, foot), (board.length, top), (0, top)), title=f"board {number}")
        if board.trim > 0:
            yield Polygon(BOARD, ((0, foot), (board.trim, foot), (board.trim, top), (0, top)), fill="black", title="trimmed end")
        for sawn, label in self.labels:
            end = sawn.start + sawn.length
            yield Line(BOARD_CUT, (end, foot), (end, top), "saw cut")
            yield Text((sawn.start + sawn.length / 2, middle), label, LABEL, "middle", 0.5, bold=True)
        yield from self._offcut(top, foot, middle)
        if self.legend:
            yield Text((0, foot), self.legend, SMALL, "start", 1.0, shift=(0.0, -1.6))

    def _offcut(self, top: float, foot: float, middle: float) -> Iterator[Shape]:
        board = self.board
        end = board.length - max(board.offcut, 0.0)
        if board.offcut * self.times <= 1.0:
            return
        yield Polygon(HATCH, ((end, foot), (board.length, foot), (board.length, top), (end, top)), (), Hatch.CLAY, title="offcut")
        text = f"left {length(board.offcut, self.units)}"
        if fonts.width(text, LABEL) + 2.0 < board.offcut * self.times:
            yield Text(((end + board.length) / 2, middle), text, LABEL, "middle", 0.5, clear=True)
