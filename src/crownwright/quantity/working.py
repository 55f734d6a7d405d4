"""A number with its working: what it is, how it was got, from what, on whose word, where it holds, how sure it is.

Every computing step returns its figures beside its result; papers, pages and the command line show a number only through
its figure, so that any number on them opens to formula, inputs, source, range and spread.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Standing = Literal["read", "from memory", "derived", "common practice", "entered"]
"""How we know it: ``read`` in the source or a quotation of it; ``from memory``; ``derived`` here from what is stated;
``common practice`` (no source); ``entered`` by the mason."""


@dataclass(frozen=True, slots=True)
class Cite:
    """Where a formula, figure or rule comes from.

    ``document`` is a key of the bibliography (`crownwright.sources`); ``clause`` the place in it, free text.
    """

    document: str
    clause: str = ""
    standing: Standing = "read"


PRACTICE = Cite("practice", standing="common practice")
"""A fact of the trade: common practice, no source."""
DERIVED = Cite("derived", standing="derived")
"""Geometry or arithmetic worked here from the inputs named."""
ENTERED = Cite("entered", standing="entered")
"""Read or chosen by the mason."""


@dataclass(frozen=True, slots=True)
class Term:
    """One input of a formula: its symbol in the formula, what it is, its value in SI and its SI unit.

    ``value`` may be text where the input is a choice ("2x6", "slip sheet").
    """

    symbol: str
    name: str
    value: float | str
    unit: str = "1"
    cite: Cite | None = None


@dataclass(frozen=True, slots=True)
class Figure:
    """One number of the answer, with its working.

    ``key`` is dotted and follows the order of the job (``cap.volume``); ``label`` is what a mason calls it; ``value`` and
    ``spread`` (one standard error; None where it does not apply) are in the SI ``unit`` ("1" for a pure number);
    ``formula`` is written as a person would, in the symbols of ``inputs``; ``holds`` says where the formula is valid,
    in words; ``extrapolated`` is true when the inputs lie outside that range.
    """

    key: str
    label: str
    value: float
    unit: str
    formula: str
    inputs: tuple[Term, ...] = ()
    cite: Cite = DERIVED
    holds: str = ""
    extrapolated: bool = False
    spread: float | None = None
