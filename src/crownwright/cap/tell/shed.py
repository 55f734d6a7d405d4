"""What is told of the proof that the finished wash sheds water."""

from __future__ import annotations

from crownwright.cap.tell.worked import Worked
from crownwright.cap.words import say
from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.working import DERIVED, Figure, Term


def findings(worked: Worked) -> tuple[Finding, ...]:
    """Whether any place of the finished surface, the feet of the flues included, holds water, and where."""
    standing, fit = worked.top.standing, worked.fit
    where = "; ".join(
        f"{say(place[0])} from side {fit.sides[3].name} and {say(place[1])} from side {fit.sides[0].name}" for place in standing
    )
    action = f"Water stands {where}: raise a cricket against the flue there, from its face up the slope." if standing else ""
    verdict = Verdict.SHORT if standing else Verdict.OK
    return (Finding("cap.sheds", "every place of the wash drains to the edge", DERIVED, "wash, facet by facet", verdict, action),)


def figures(worked: Worked) -> tuple[Figure, ...]:
    """How many facets were looked at and how many places hold water."""
    top = worked.top
    terms = (
        Term("triangles", "triangles of the finished surface", float(len(top.triangles))),
        Term("fall", "flattest", top.flattest, "m/m"),
    )
    formula = "corners, or level runs of corners, with no lower corner beside them, the edge left out"
    return (Figure("cap.standing", "places that hold water", float(len(top.standing)), "1", formula, terms),)
