"""From metres and money to the whole numbers of a lot."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import ceil, floor, gcd

from crownwright.form.choices import Stock
from crownwright.form.cutting.lot import Lot
from crownwright.quantity.units import INCH

_STEPS = (INCH / 16, INCH / 32, 1e-3, 5e-4)
FINEST = 1e-4  # m
_HAIR = 1e-6  # of a step: binary noise of metres


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of board on offer: the stock it is, and whether it lies in the van (then it costs nothing more)."""

    stock: Stock
    on_hand: bool


@dataclass(frozen=True, slots=True)
class WholeLot:
    """A lot with the way back: the ``step`` (m) of its boards' lengths, the ``money`` its costs count, its kinds of board.

    ``priced`` is false when some board on offer has no price; then length is made least instead of cost.
    """

    lot: Lot
    step: float
    money: Decimal
    kinds: tuple[Kind, ...]
    priced: bool


def common_step(lengths: Sequence[float]) -> float:
    """Return the coarsest step (m) that keeps every length exactly, or the finest of all, 0.1 mm.

    >>> common_step([1.0, 2.4384]), common_step([0.3048]) == INCH / 16
    (0.0001, True)
    """
    fits = (step for step in _STEPS if all(abs(x / step - round(x / step)) < _HAIR * (1 + x / step) for x in lengths))
    return next(fits, FINEST)


def whole_lot(lengths: Sequence[float], stock: Sequence[Stock], kerf: float, trim: float) -> WholeLot:
    """Return the whole-number lot of one section.

    Lengths (m) of pieces and saw cuts are rounded up to the step, boards down, so that what fits in whole numbers fits in wood.
    Each piece takes its length and one saw cut after it; each board loses ``trim`` at its first end.
    """
    step = common_step([*lengths, *(s.length for s in stock), kerf, trim])
    cut, lost = _up(kerf / step), _up(trim / step)
    wanted = Counter(_up(x / step) + cut for x in lengths)
    kinds = [Kind(s, True) for s in stock if s.on_hand > 0] + [Kind(s, False) for s in stock if s.for_sale]
    prices = [Decimal(k.stock.price) for k in kinds if not k.on_hand]
    priced = all(p > 0 for p in prices)
    money = min((_finest_digit(p) for p in prices), default=Decimal(1)) if priced else Decimal(1)
    sizes = sorted(wanted, reverse=True)
    unit = gcd(*sizes) or 1
    lot = Lot(
        tuple(s // unit for s in sizes),
        tuple(wanted[s] for s in sizes),
        tuple(max(_down(k.stock.length / step) - lost, 0) // unit for k in kinds),
        tuple(_cost(k, money, step, priced) for k in kinds),
        tuple(_down(k.stock.length / step) for k in kinds),
        tuple(min(k.stock.on_hand, len(lengths)) if k.on_hand else len(lengths) for k in kinds),
    )
    return WholeLot(lot, step, money, tuple(kinds), priced)


def _cost(kind: Kind, money: Decimal, step: float, priced: bool) -> int:
    if kind.on_hand:
        return 0
    return int(Decimal(kind.stock.price) / money) if priced else _down(kind.stock.length / step)


def _finest_digit(price: Decimal) -> Decimal:
    exponent = price.normalize().as_tuple().exponent
    return Decimal(1).scaleb(min(int(exponent), 0))


def _up(x: float) -> int:
    return ceil(x - _HAIR * (1 + x))


def _down(x: float) -> int:
    return floor(x + _HAIR * (1 + x))
