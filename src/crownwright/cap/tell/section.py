"""What is told of the section: soffit, edge, cover over the humps, fall of the wash."""

from __future__ import annotations

from math import atan, radians, tan

from crownwright.cap.levels import LAP, least_fall
from crownwright.cap.tell.worked import Worked
from crownwright.cap.words import say_at_least, say_fall
from crownwright.codes.ps_20 import board, boards
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.working import DERIVED, ENTERED, PRACTICE, Cite, Figure, Term

STEEPEST = radians(35.0)
"""Steeper than this, fresh concrete slumps off unless it is mixed stiff or covered with a form (a judgement)."""
JUDGED = Cite("judgement", standing="common practice")
SLOPE = Cite("astm_c1283", "8.1")
USUAL_SLOPE = Cite("masonry_magazine_1993_08", "p. 10, 3 in. to the foot")


def findings(worked: Worked) -> tuple[Finding, ...]:
    """Soffit under the edge, cover over the humps, fall least and wanted, steepest facet."""
    return (_soffit(worked), _cover(worked), _least_fall(worked), *_wanted_fall(worked), _steep(worked))


def _soffit(worked: Worked) -> Finding:
    survey, choices = worked.survey, worked.choices
    sure = [edge.quantile(1 - choices.sure) for edge in survey.surface.lowest_edge]
    margin = min(sure) - worked.levels.edge.soffit
    action = f"Lower the soffit by {say_at_least(max(-margin, 0.0))}, or build the low edge up by as much."
    rule = "soffit below the lowest sound edge of the stone, its spread allowed for"
    return compare("cap.soffit", rule, PRACTICE, "soffit", margin, at_least=0.0, unit="m", action=action)


def _cover(worked: Worked) -> Finding:
    levels, choices = worked.levels, worked.choices
    kept = levels.cover.quantile(1 - choices.sure)
    short = max(choices.cover_least - kept, 0.0)
    wider = [name for name, size in boards().items() if size.width >= levels.edge.thickness + short - 1e-9]
    by_board = f", or cast the edge against a {wider[0]}" if wider and short > 0 else ""
    action = (
        f"Dress the highest hump down by {say_at_least(short)}{by_board}; more drops near the humps may show that less will do."
    )
    rule = "concrete over the highest hump, its spread allowed for"
    return compare(
        "cap.cover", rule, PRACTICE, "least cover over the stone", kept, at_least=choices.cover_least, unit="m", action=action,
        blocks=kept <= 0,  # the stone stands through the wash: there is no cap to cast there
    )  # fmt: skip


def _least_fall(worked: Worked) -> Finding:
    flattest, choices = atan(worked.top.flattest), worked.choices
    action = "Steepen the wash: raise the ring round the flues and extend the flues that no longer stand proud."
    rule = "fall of the flattest facet of the wash"
    return compare("cap.fall", rule, SLOPE, "wash", flattest, at_least=choices.slope_least, unit="rad", action=action, slack=1e-6)


def _wanted_fall(worked: Worked) -> tuple[Finding, ...]:
    """What it would take to have the fall wanted: the flues that hold the wash down, and by how much."""
    levels, choices = worked.levels, worked.choices
    wanted = tan(choices.slope_wanted)
    if wanted <= least_fall(choices):
        return ()
    rise = {
        flue.name: levels.edge.top + wanted * float(levels.wash.high[k]) + choices.proud_wanted - flue.top.mean
        for k, flue in enumerate(worked.survey.flues)
        if levels.flues[k].extension == 0
    }
    held = ", ".join(f"{name} by {say_at_least(more)}" for name, more in rise.items() if more > 1e-6)
    action = f"For {say_fall(wanted)} extend {held}." if held else "The rest is the rounding of the levels."
    rule = "fall of the wash where the height allows"
    # levels are rounded to the step: that much is no finding
    slack = wanted - choices.level_step / levels.wash.crest - 1e-6
    got = levels.fall if levels.fall < slack else max(levels.fall, wanted)
    return (
        compare(
            "cap.fall_wanted",
            rule,
            USUAL_SLOPE,
            "wash",
            atan(got),
            at_least=choices.slope_wanted,
            unit="rad",
            action=action,
            slack=1e-6,
        ),
    )


def _steep(worked: Worked) -> Finding:
    action = "Mix the upper lift stiff, or cover this face with a form board until it has set."
    rule = "fall of the steepest facet of the wash"
    return compare("cap.steep", rule, JUDGED, "wash", atan(worked.top.steepest), at_most=STEEPEST, unit="rad", action=action)


def figures(worked: Worked) -> tuple[Figure, ...]:
    """Levels, edge, cover, fall."""
    return (*_levels(worked), *_falls(worked), _cover_figure(worked))


def _levels(worked: Worked) -> tuple[Figure, ...]:
    levels, choices = worked.levels, worked.choices
    edge = levels.edge
    lows = tuple(
        Term(f"z{k + 1}", f"lowest sound edge of {name}, mean", low.mean, "m")
        for k, (name, low) in enumerate(zip(_sides(worked), worked.survey.surface.lowest_edge, strict=False))
    )
    set_by_hand = choices.soffit_drop is not None or choices.edge_board is not None or choices.edge_thickness is not None
    by = ENTERED if set_by_hand else PRACTICE
    width = Cite("ps_20", "dressed width of the edge board")
    rise = (
        Term("edge", "top of the outer edge", edge.top, "m"),
        Term("fall", "fall of the flattest facet", levels.fall, "m/m"),
    )
    same = choices.edge_thickness is None and abs(board(edge.board).width - edge.thickness) < 1e-9
    return (
        Figure(
            "cap.soffit",
            "soffit, above (+) or below (-) the string",
            edge.soffit,
            "m",
            f"least of the sides' lowest edges at a chance of {choices.sure:.1%}, less the lap, down to the step",
            (
                *lows,
                Term("lap", "how far the cap laps the lowest edge", LAP, "m", PRACTICE),
                Term("step", "step of levels", choices.level_step, "m", PRACTICE),
            ),
            by if choices.soffit_drop is not None else DERIVED,
        ),
        Figure(
            "cap.edge_thickness",
            f"outer edge, cast against a {edge.board}",
            edge.thickness,
            "m",
            "dressed width of the board" if same else "set by hand",
            (Term("board", "edge board", edge.board),),
            width if same else ENTERED,
            "dry lumber; measure the stock",
        ),
        Figure(
            "cap.edge",
            "top of the outer edge, above the string",
            edge.top,
            "m",
            "soffit + edge",
            (Term("soffit", "soffit", edge.soffit, "m"), Term("edge", "thickness of the outer edge", edge.thickness, "m")),
        ),
        Figure(
            "cap.crest",
            "highest of the wash, above the string",
            edge.top + levels.fall * levels.wash.crest,
            "m",
            "edge + fall x run",
            (*rise, Term("run", "run to the crest", levels.wash.crest, "m")),
        ),
        Figure(
            "cap.bench",
            "ring round the flues, above the string",
            edge.top + levels.fall * levels.wash.bench,
            "m",
            "edge + fall x run",
            (*rise, Term("run", "run from the edge to the ring", levels.wash.bench, "m")),
        ),
    )


def _sides(worked: Worked) -> tuple[str, ...]:
    names = worked.survey.names
    return tuple(a + b for a, b in zip(names, names[1:] + names[:1], strict=True))


def _falls(worked: Worked) -> tuple[Figure, ...]:
    levels, choices = worked.levels, worked.choices
    limits = tuple(
        Term(f"possible {flue.name}", f"steepest fall that leaves {flue.name} proud", own.possible, "m/m")
        for flue, own in zip(worked.survey.flues, levels.flues, strict=True)
        if own.extension == 0
    )
    return (
        Figure(
            "cap.fall",
            f"fall of the flattest facet ({levels.wash.name})",
            worked.top.flattest,
            "m/m",
            "the fall wanted, less where a flue would not stand proud, never under the least",
            (
                Term("least", "least fall", tan(choices.slope_least), "m/m", SLOPE),
                Term("wanted", "fall wanted", tan(choices.slope_wanted), "m/m", USUAL_SLOPE),
                *limits,
            ),
            DERIVED,
            "measured on the finished surface, facet by facet",
        ),
        Figure(
            "cap.fall_steepest",
            "fall of the steepest facet",
            worked.top.steepest,
            "m/m",
            "greatest rise over run among the n facets of the finished surface",
            (Term("n", "facets", float(len(worked.top.triangles))), Term("flattest", "flattest", worked.top.flattest, "m/m")),
        ),
    )


def _cover_figure(worked: Worked) -> Figure:
    cover, highest = worked.levels.cover, worked.ground.highest
    return Figure(
        "cap.cover",
        "least concrete over the stone",
        cover.mean,
        "m",
        "wash - stone, the better of: the highest hump under the lowest wash over the stone; place by place",
        (
            Term("highest", "highest hump, above the string", highest.mean, "m"),
            Term("spread", "its standard error", highest.sd, "m"),
            Term("sure", "chance kept", worked.choices.sure),
        ),
        DERIVED,
        "place by place, the spread is widened for the number of stones",
        spread=cover.sd,
    )
