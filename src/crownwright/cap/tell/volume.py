"""What is told of the concrete: volume with its spread and where that comes from, the two lifts, weight, the thumb rule."""

from __future__ import annotations

from crownwright.cap.tell.worked import Worked
from crownwright.quantity.findings import Finding
from crownwright.quantity.units import INCH
from crownwright.quantity.working import DERIVED, PRACTICE, Cite, Figure, Term


def findings(worked: Worked) -> tuple[Finding, ...]:
    """None: a volume is not right or wrong. Bags against it are another step's."""
    del worked
    return ()


def _undecided(spread: float) -> tuple[Term]:
    cite = Cite("judgement", "a tenth of the volume, set on virtual chimneys")
    return (Term("undecided", "edge, soffit and wash, till the top is read", spread, "m3", cite),)


def figures(worked: Worked) -> tuple[Figure, ...]:
    """Volume and its parts, spread and its causes, what the box would have said."""
    parts, spread = worked.parts, worked.spread
    terms = (
        Term("under", "from soffit level up to the wash, joints left out", parts.under_wash, "m3"),
        Term("stone", "stone standing over soffit level", parts.stone, "m3"),
        Term("hollow", "hollow of the top course", parts.hollow, "m3"),
        Term("drip", "groove", parts.drip, "m3"),
    )
    lower = (Term("volume", "concrete in the cap", parts.total, "m3"), Term("upper", "second lift", parts.upper, "m3"))
    causes = (
        Term("top", "from the stone's top", spread.surface, "m3"),
        Term("face", "from the stone's faces", spread.outline, "m3"),
        Term("flues", "from the flues", spread.flues, "m3"),
        *(_undecided(spread.undecided) if spread.undecided else ()),
    )
    given = "given the plan: what is cast is built as drawn; uncertain are the stone's top and faces and the flues"
    root = "root of the sum of squares; corners and flues that share readings taken together"
    size = worked.ground.outline.max(0) - worked.ground.outline.min(0)
    box = (
        Term("length", "greatest length over the lumps", float(size[0]), "m"),
        Term("width", "greatest width", float(size[1]), "m"),
        Term("edge", "added on each side", 4 * INCH, "m", PRACTICE),
        Term("top", "wash over the stone, mean level", worked.levels.mean_top, "m"),
        Term("looks", "mean of three looks at the stone", float(worked.ground.looks.mean()), "m"),
    )
    return (
        Figure(
            "cap.volume",
            "concrete in the cap",
            parts.total,
            "m3",
            "under - stone + hollow - drip",
            terms,
            DERIVED,
            given,
            spread=spread.total,
        ),
        Figure("cap.volume.lower", "first lift, up to the edge's top", parts.lower, "m3", "volume - upper", lower),
        Figure(
            "cap.volume.upper",
            "second lift, the wash",
            parts.upper,
            "m3",
            "over the edge's top, less the stone that reaches into it",
            terms,
        ),
        Figure("cap.volume.spread", "standard error of the volume", spread.total, "m3", root, causes, DERIVED, given),
        Figure(
            "cap.box_rule",
            "what the box rule would have said",
            worked.box,
            "m3",
            "(length + 2 edge)(width + 2 edge)(top - looks)",
            box,
            PRACTICE,
        ),
    )
