"""What a cut list is made of: pieces wanted, boards with what is sawn from them, what to buy, and what is proved."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from crownwright.quantity.working import Figure


@dataclass(frozen=True, slots=True)
class Wanted:
    """A piece to be sawn: its name, the section it is sawn from, its length (m) along the longest edge."""

    name: str
    section: str
    length: float


@dataclass(frozen=True, slots=True)
class Sawn:
    """A piece on its board: it lies from ``start`` to ``start + length`` (m from the board's first end)."""

    name: str
    length: float
    start: float


@dataclass(frozen=True, slots=True)
class Board:
    """One board and what is sawn from it, in order from its first end. ``trim`` is cut off that end first, a ``kerf`` is lost
    after every piece, ``offcut`` (m) is what is left over.
    """

    section: str
    length: float
    price: Decimal
    on_hand: bool
    trim: float
    kerf: float
    pieces: tuple[Sawn, ...]
    offcut: float


@dataclass(frozen=True, slots=True)
class Buy:
    """A line of the shopping list: how many boards of one length, of which ``on_hand`` are in the van already."""

    section: str
    length: float
    count: int
    on_hand: int
    price: Decimal

    @property
    def total(self) -> Decimal:
        """What the boards that must be bought cost."""
        return self.price * (self.count - self.on_hand)


@dataclass(frozen=True, slots=True)
class Proof:
    """What is proved of one section's cut list.

    ``aim`` is what was made least, in order. No way of sawing these pieces from these boards comes to less than ``bound``
    (money, or metres where ``aim`` begins with length); the list comes to ``reached``. ``proved``: none is better by any part of
    the aim. ``tried`` baskets of boards were tested one by one, ``covers`` ruled out all cheaper ones.
    """

    section: str
    aim: str
    reached: Decimal
    bound: Decimal
    proved: bool
    tried: int
    covers: int

    @property
    def gap(self) -> float:
        """How much less a better list could come to at most, as a part of this one (0: nothing)."""
        return float((self.reached - self.bound) / self.reached) if self.reached else 0.0

    @property
    def says(self) -> str:
        """The proof in one sentence."""
        if self.proved:
            return f"{self.section}: proved, no choice of boards is better ({self.aim})"
        if self.gap == 0:
            return f"{self.section}: proved least in the first part of the aim ({self.aim}); the rest stopped at the time limit"
        return f"{self.section}: not proved, stopped at the time limit; at most {self.gap:.1%} better is possible ({self.aim})"


@dataclass(frozen=True, slots=True)
class CutList:
    """Boards with their pieces, what to buy, and how sure it is that nothing better exists."""

    boards: tuple[Board, ...]
    shopping: tuple[Buy, ...]
    cost: Decimal
    priced: bool
    proofs: tuple[Proof, ...]
    figures: tuple[Figure, ...]

    @property
    def proved(self) -> bool:
        """True when every section's list is proved best."""
        return all(p.proved for p in self.proofs)
