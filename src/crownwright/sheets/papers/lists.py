"""The cut list and the shopping list: what to saw, and what to load on the truck."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil
from typing import Any

from crownwright.cap.model import CapDesign
from crownwright.form.cutting.result import Proof
from crownwright.form.model import FormDesign
from crownwright.plan.job import Units
from crownwright.plan.model import Plan
from crownwright.quantity.display import show
from crownwright.quantity.units import FOOT, INCH
from crownwright.sheets.drawings.bars import cut_bars, stock_length
from crownwright.sheets.drawings.pieces import alike, end_says
from crownwright.sheets.drawings.say import length, pieces_called
from crownwright.sheets.papers.press import Paper
from crownwright.sheets.papers.say import common, picture

BOARDS = "Boards"


@dataclass(frozen=True, slots=True)
class Section:
    """A headed table: ``head`` and ``rows`` of text ("tick" draws a box to tick), relative ``widths`` ("auto": as wide as its
    text), and which columns stand ``right``.
    """

    name: str
    head: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    widths: tuple[str, ...] = ()
    right: tuple[int, ...] = ()
    note: str = ""
    picture: dict[str, Any] | None = None

    def content(self) -> dict[str, Any]:
        """Return it for the template."""
        return {
            "name": self.name, "head": list(self.head), "rows": [list(row) for row in self.rows], "widths": list(self.widths),
            "right": list(self.right), "note": self.note, "picture": self.picture,
        }  # fmt: skip


def cut_list_sections(plan: Plan) -> tuple[Section, ...]:
    """Return every piece with its ends, and how the boards are sawn and how sure that is; none without a form."""
    if plan.form is None:
        return ()
    form, units = plan.form, plan.job.units
    long = "Length, mm" if units == "metric" else "Length"
    pieces = Section(
        "Pieces", ("", "How many", "Piece", "From", long, "First end", "Other end"), tuple(_pieces(form, units)),
        ("auto", "auto", "2", "auto", "auto", "1", "1"), (4,), "Lengths are along the longest edge.",
    )  # fmt: skip
    if form.cut is None:
        return (pieces,)
    kerf, trim = _said(form.choices.kerf, units), _said(form.choices.trim, units)
    note = f"From left to right. {trim} is trimmed off each board's first end; every saw cut takes {kerf}. "
    return pieces, Section(BOARDS, note=note + _proofs(form.cut.proofs))


def cut_list_paper(plan: Plan) -> Paper:
    """Return the cut list: every piece with its ends, the bars, and the proof. Needs ``plan.form``."""
    if plan.form is None:
        raise ValueError("this plan has no form; see its problems")
    sections = [
        replace(section, picture=picture(cut_bars(plan.form, plan.job.units))) if section.name == BOARDS else section
        for section in cut_list_sections(plan)
    ]
    content = common(plan, "Every piece of the form and the boards it is sawn from.")
    return Paper("cut-list", "Cut list", "lists", content | {"sections": [s.content() for s in sections]})


def _pieces(form: FormDesign, units: Units) -> Iterator[tuple[str, ...]]:
    for group in alike(form.pieces):
        piece = group[0]
        ends = end_says(piece.start), end_says(piece.end)
        yield "tick", str(len(group)), pieces_called(group), piece.section, length(piece.length, units), *ends


def _proofs(proofs: Sequence[Proof]) -> str:
    """How sure each section's boards are; sections of which the same is said, together."""
    said: dict[str, list[str]] = {}
    for proof in proofs:
        said.setdefault(proof.says.removeprefix(f"{proof.section}: "), []).append(proof.section)
    return ". ".join(f"{', '.join(sections)}: {says}" for says, sections in said.items()) + "."


def _count(count: int, one: str, rest: str = "") -> str:
    """What is bought by the piece, one or several."""
    return f"{one}{'s' if count != 1 else ''}{rest}"


def shopping_list(plan: Plan) -> Paper:
    """Return the shopping list of a plan, as far as it goes."""
    units = plan.job.units
    head, widths = ("", "How many", "What", "For"), ("8mm", "22mm", "1.4", "1.6")
    sections = [
        Section(name, head, tuple(("tick", *row) for row in rows), widths)
        for name, rows in (
            ("Lumber and moulding", list(_lumber(plan))),
            ("Fasteners and strap", list(_fasteners(plan.form, units))),
            ("Concrete and mortar", list(_concrete(plan))),
            ("For the cap", list(_cap(plan.cap, units))),
            ("For the form", list(_form(plan.form, units))),
            ("To have with you", list(_tools())),
        )
        if rows
    ]
    content = common(plan, "Everything to buy or load.")
    return Paper("shopping-list", "Shopping list", "lists", content | {"sections": [s.content() for s in sections]})


def upward(metres: float, units: Units) -> str:
    """Return a length to buy, rounded up to whole feet or tenths of a metre.

    >>> upward(2.67, "us"), upward(2.67, "metric")
    ('9 ft', '2.7 m')
    """
    if units == "us":
        return f"{ceil(metres / FOOT - 1e-9)} ft"
    return f"{ceil(metres * 10 - 1e-9) / 10:.1f} m"


def _said(metres: float, units: Units) -> str:
    """A length that stands in a sentence or in a shop, where no head says the unit."""
    return length(metres, units) + (" mm" if units == "metric" else "")


def _lumber(plan: Plan) -> Iterator[tuple[str, str, str]]:
    cut = plan.form.cut if plan.form is not None else None
    for buy in cut.shopping if cut is not None else ():
        van = f" ({buy.on_hand} in the van)" if buy.on_hand else ""
        yield f"{buy.count}{van}", f"{buy.section}, {stock_length(buy.length, plan.job.units)}", "the form: see the cut list"


def _fasteners(form: FormDesign | None, units: Units) -> Iterator[tuple[str, str, str]]:
    if form is None:
        return
    sizes: dict[tuple[int, float], tuple[int, list[str]]] = {}
    for line in form.screw_list:
        count, joints = sizes.get((line.gauge, line.length), (0, []))
        sizes[line.gauge, line.length] = count + line.count, [*joints, line.joint]
    for (gauge, long), (count, joints) in sorted(sizes.items()):
        yield str(count), f"No. {gauge} wood screws, {_said(long, units)}", "; ".join(dict.fromkeys(joints))
    strap = form.strap
    yield (
        str(strap.count),
        _count(strap.count, "ratchet strap", f", at least {upward(strap.least_length, units)} long"),
        "round the corner blocks",
    )
    lines = len(form.hanging.lines)
    yield (
        str(lines),
        f"lines, {upward(form.hanging.length, units)} of rope in all, {_said(0.5 * INCH, units)} thick",
        "holding the form up while it comes off",
    )


BED = "the bed where the gap is too wide to pack"


def _concrete(plan: Plan) -> Iterator[tuple[str, str, str]]:
    pour = plan.concrete
    if pour is None:
        return
    yield (
        str(pour.count.bags),
        _count(pour.count.bags, "bag", f" of dry concrete mix, {pour.bag.name}"),
        "the cap, margin for the stated risk included",
    )
    if pour.portland > 0:
        yield show(pour.portland, "kg", plan.job.units), "portland cement", "enriching the mix"
    if pour.mortar is not None and pour.mortar_bag is not None and pour.mortar.bags > 0:
        yield (
            str(pour.mortar.bags),
            _count(pour.mortar.bags, "bag", f" of masonry mortar, {pour.mortar_bag.name}"),
            BED,
        )
    elif plan.form is not None and plan.form.bed_volume.mean > 0:
        yield "a handful", "masonry mortar", BED


def _cap(cap: CapDesign | None, units: Units) -> Iterator[tuple[str, str, str]]:
    if cap is None:
        return
    if cap.steel:
        total = sum(piece.length for piece in cap.steel)
        yield upward(total, units), "ladder-type joint reinforcement, galvanised", f"{len(cap.steel)} lengths, laps included"
    around = sum(_round(fit.hole) for fit in cap.flues if fit.joint_width > 0)
    if around > 0:
        width = max(fit.joint_width for fit in cap.flues)
        high = cap.crest - cap.soffit
        yield (
            upward(around, units),
            f"compressible wrap, {_said(width, units)} thick, {_said(high, units)} high",
            "round the flues, full depth",
        )
        yield upward(around, units), "backer and heat-resisting sealant", "on top of the wrap, when the cap has cured"
    for fit in cap.flues:
        if fit.extension > 0:
            yield (
                "1",
                f"length of flue liner, at least {_said(fit.piece, units)}",
                f"extends {fit.name}; refractory mortar for its joint",
            )
    if cap.base == "slip sheet":
        yield "1", f"slip sheet, {_said(cap.length, units)} × {_said(cap.width, units)}", "between stone and concrete"
    else:
        yield "1", "bonding agent", "on the cleaned, damp stone"


def _round(ring: Any) -> float:
    """Length round a ring (n,2)."""
    after = [*ring[1:], ring[0]]
    return float(sum(((q[0] - p[0]) ** 2 + (q[1] - p[1]) ** 2) ** 0.5 for p, q in zip(ring, after, strict=True)))


def _form(form: FormDesign | None, units: Units) -> Iterator[tuple[str, str, str]]:
    if form is None:
        return
    yield upward(form.bead_length, units), "sealant, laid as a bead", "joints of the form that hold water"
    yield show(form.oil_area, "m2", units), "form oil, to cover", "faces that meet concrete"
    long, wide = form.skirt
    yield "1", f"cloth skirt, {upward(long, units)} × {upward(wide, units)}", "catches what falls, keeps the wall clean"
    if form.packing_volume.mean > (INCH / 4) ** 3:
        yield (
            show(form.packing_volume.mean, "m3", units, 2 if units == "us" else 1),
            "packing, loose",
            "gaps between soffit boards and stone",
        )


def _tools() -> Iterator[tuple[str, str, str]]:
    yield "", "tape, level, string, square, pencil, this folder", ""
    yield "", "plugs and tags for every flue; a list of what they shut down", "off again before you leave"
    yield "", "gloves, eye cover, boots, clean water to wash", "wet cement"
