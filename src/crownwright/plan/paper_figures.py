"""The figures that stand on a plan's papers and nowhere else: pieces as sawn, screws by size, the wrap, what matters most."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import sqrt

from crownwright.cap.model import CapDesign
from crownwright.checks.sensitivity import Sensitivity
from crownwright.form.model import FormDesign, Piece
from crownwright.quantity.working import Cite, Figure, Term

DRAWN = Cite("derived", "as drawn: pieces as they lie against each other and the concrete", "derived")
MOVED = Cite("derived", "first order: each input moved by one standard error each way, the others at their means", "derived")


def paper_figures(cap: CapDesign, form: FormDesign | None, matters: Sequence[Sensitivity]) -> tuple[Figure, ...]:
    """Return what cut list, shopping list and summary show beside the figures of cap, form, concrete and checks."""
    made = [*_wrap(cap)]
    if form is not None:
        made += [_piece(piece) for piece in form.pieces]
        made += _screws(form)
    return (*made, *(figure for one in matters for figure in shares(one)))


def _wrap(cap: CapDesign) -> Iterator[Figure]:
    if any(fit.joint_width > 0 for fit in cap.flues):
        terms = Term("c", "crest of the wash", cap.crest, "m"), Term("s", "soffit", cap.soffit, "m")
        yield Figure(
            "cap.joint.height", "height of the wrap round a flue, to be trimmed", cap.crest - cap.soffit, "m", "c - s", terms
        )


def _piece(piece: Piece) -> Figure:
    terms = (
        Term("i", "edge that faces the concrete", piece.inside, "m"),
        Term("a", f"start, {piece.start.kind} cut, off square", abs(piece.start.angle), "rad"),
        Term("b", f"end, {piece.end.kind} cut, off square", abs(piece.end.angle), "rad"),
        Term("section", "section", piece.section),
    )
    rule = "longest edge between its end cuts, to the nearest 1/16 in."
    return Figure(f"form.piece.{_slug(piece.name)}", f"{piece.name}, as sawn", piece.length, "m", rule, terms, DRAWN)


def _screws(form: FormDesign) -> Iterator[Figure]:
    """Screws of one size over all joints, as they are bought."""
    sizes = dict.fromkeys((line.gauge, line.length) for line in form.screw_list)
    for k, (gauge, long) in enumerate(sizes, 1):
        lines = [line for line in form.screw_list if (line.gauge, line.length) == (gauge, long)]
        terms = (Term("l", "length of the screw", long, "m"), *(Term("n", line.joint, float(line.count)) for line in lines))
        total = float(sum(line.count for line in lines))
        yield Figure(f"form.screws.size{k}", f"wood screws No. {gauge}, all joints", total, "1", "sum of n", terms)


def shares(one: Sensitivity) -> Iterator[Figure]:
    """Return, for each input of a number, its share of what is not sure in it."""
    for pull in one.pulls:
        terms = (
            Term("d", f"moves it by, for one standard error of the {pull.name}", abs(pull.moves), one.unit),
            Term("s", "standard error from all inputs", sqrt(sum(other.moves**2 for other in one.pulls)), one.unit),
        )
        label = f"share of what is not sure in {one.label}: {pull.name}"
        key = f"checks.matters.{one.key}.{_slug(pull.name)}"
        yield Figure(key, label, pull.share, "share", "(d / s)^2", terms, MOVED, "small errors, independent of each other")


def _slug(name: str) -> str:
    """A name as part of a key.

    >>> _slug("corner block A, butt leg")
    'corner_block_A_butt_leg'
    """
    return name.replace(",", "").replace(" ", "_")
