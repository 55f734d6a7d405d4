"""What the mason may decide about the form, and what lumber he can buy. Metres."""

from __future__ import annotations

from dataclasses import dataclass

from crownwright.quantity.units import FOOT, INCH


@dataclass(frozen=True, slots=True)
class Stock:
    """A length of lumber or moulding that can be bought (or lies in the van: ``on_hand`` pieces at no price).

    ``section`` names what is cut from it ("2x6", "2x4", "quarter-round 3/4"); ``price`` in the job's currency, per
    piece, as text of a decimal number so that no money passes through floats ("0": no price known). ``for_sale`` is false
    for a leftover of which no more can be bought.
    """

    section: str
    length: float
    price: str = "0"
    on_hand: int = 0
    for_sale: bool = True


def _usual_stock() -> tuple[Stock, ...]:
    """Lengths usually on the rack, without prices (those are the price book's business): common practice, no source."""
    rack = (("2x4", (8, 10, 12, 16)), ("2x6", (8, 10, 12, 16)), ("2x8", (8, 10, 12, 16)), ("quarter-round 3/4", (8, 12, 16)))
    return tuple(Stock(section, feet * FOOT) for section, lengths in rack for feet in lengths)


@dataclass(frozen=True, slots=True)
class FormChoices:
    """Form details. ``clearance`` between soffit board and the proudest stone; ``horn`` a sidewall runs past;
    ``block_length`` of a corner block's legs, longer where straps and rails need it; ``kerf`` of the saw; ``trim`` cut
    off each new board's end; ``pack_most`` the widest gap that is packed dry, wider ones get a mortar bed; ``skirt``
    cloth past the form all round; ``straps`` None: as many as hold; ``solve_seconds`` limit for the cut list's proof.
    """

    stock: tuple[Stock, ...] = _usual_stock()
    clearance: float = 0.25 * INCH
    horn: float = 1.5 * INCH
    block_section: str = "2x6"
    block_length: float = 12 * INCH
    kerf: float = 0.125 * INCH
    trim: float = 0.5 * INCH
    pack_most: float = 1.0 * INCH
    skirt: float = 24 * INCH
    straps: int | None = None
    solve_seconds: float = 5.0
