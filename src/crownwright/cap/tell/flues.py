"""What is told of the flues: how far they stand proud, what must be set on them, the concrete left beside them."""

from __future__ import annotations

from math import tan

import shapely

from crownwright.cap.levels import FlueLevel, least_fall
from crownwright.cap.model import FlueFit
from crownwright.cap.tell.worked import Worked
from crownwright.cap.words import say, say_at_least, say_fall
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.units import INCH
from crownwright.quantity.working import DERIVED, PRACTICE, Cite, Figure, Term

LEAST_STRIP = 2 * INCH
"""Narrowest strip of concrete worth casting beside a joint: the least edge thickness of the standard, laid on its side."""
STRIP = Cite("astm_c1283", "8, least thickness")
PROUD = Cite("ontario_332_12", "9.21.4.4, 50 to 100 mm")


def findings(worked: Worked) -> tuple[Finding, ...]:
    """Proud, extension, strips of concrete beside the joints."""
    found: list[Finding] = []
    for k, flue in enumerate(worked.flues):
        own = worked.levels.flues[k]
        found += [_extension(worked, flue, own, k), _buried(worked, flue, own, k)] if own.extension > 0 else []
        found += [_proud(worked, flue), _strip(worked, flue, k)]
    return (*found, *_between(worked))


def _proud(worked: Worked, flue: FlueFit) -> Finding:
    choices, proud = worked.choices, flue.proud.mean
    over, under = max(proud - choices.proud_most, 0.0), max(choices.proud_least - proud, 0.0)
    cut = f"Cut the flue down by {say(over)}, raise the wash, or leave it where its appliance wants the height."
    action = cut if over > 0 else f"Set a piece {say_at_least(under + choices.proud_wanted - choices.proud_least)} high on it."
    rule = "flue above the wash where it meets it"
    return compare(
        f"cap.proud.{flue.name}",
        rule,
        PROUD,
        f"flue {flue.name}",
        proud,
        at_least=choices.proud_least,
        at_most=choices.proud_most,
        unit="m",
        action=action,
        slack=1e-6,
    )


def _extension(worked: Worked, flue: FlueFit, own: FlueLevel, k: int) -> Finding:
    """The flue as it stands is too short: what to set on it, or what fall is still possible without."""
    choices, levels = worked.choices, worked.levels
    stands = worked.survey.flues[k].top.mean - flue.meets_high
    cut = f"cut the flue down by {say(own.cut_back)} and " if own.cut_back > 1e-6 else ""
    joint = flue.meets_low - (own.joint or 0.0)
    first = f"Either {cut}set on a piece {say(own.extension + own.cut_back)} long, its joint {say(joint)} under the wash"
    if own.possible >= least_fall(choices):
        second = f"or ease the wash to {say_fall(own.possible)}, which leaves less over the highest hump than asked"
    elif own.possible > 0:
        least = say_fall(tan(choices.slope_least))
        second = f"or without it no more than {say_fall(own.possible)} is possible, under the least of {least}"
    else:
        lower = levels.edge.top + choices.proud_least - worked.survey.flues[k].top.mean
        second = (
            f"or without it no fall is possible: the edge would have to come down by more than {say_at_least(max(lower, 0.0))}"
        )
    rule = "flue above the wash without an extension"
    action = f"{first}; {second}."
    return compare(
        f"cap.extension.{flue.name}",
        rule,
        PROUD,
        f"flue {flue.name} as it stands",
        stands,
        at_least=choices.proud_least,
        unit="m",
        action=action,
    )


def _buried(worked: Worked, flue: FlueFit, own: FlueLevel, k: int) -> Finding:
    """The joint of the extension must lie between the stone and the wash."""
    stone = float(worked.ground.borders[k].stone.max())
    over = (own.joint or 0.0) - stone
    action = f"Break the flue out {say_at_least(max(-over, 0.0))} into the stone and bed the new piece there, or raise the wash."
    return compare(
        f"cap.extension_joint.{flue.name}",
        "joint of the extension above the stone",
        DERIVED,
        f"flue {flue.name}",
        over,
        at_least=0.0,
        unit="m",
        action=action,
    )


def _strip(worked: Worked, flue: FlueFit, k: int) -> Finding:
    ring, fit = worked.ground.rings[k], worked.fit
    to_edge = float(min(ring.min(), fit.length - ring[:, 0].max(), fit.width - ring[:, 1].max()))
    wider = say_at_least(max(LEAST_STRIP - to_edge, 0.0))
    action = f"Read the ties of {flue.name} again; if they stand, widen the cap on that side by {wider}."
    rule = "concrete between the joint and the cap's edge"
    return compare(
        f"cap.flue_edge.{flue.name}",
        rule,
        STRIP,
        f"flue {flue.name}",
        to_edge,
        at_least=LEAST_STRIP,
        unit="m",
        action=action,
        blocks=to_edge <= 0,
    )


def _between(worked: Worked) -> tuple[Finding, ...]:
    """Strips of concrete between two joints."""
    shapes = [shapely.Polygon(ring) for ring in worked.ground.rings]
    found = []
    for i in range(len(shapes)):
        for j in range(i):
            clear = float(shapely.distance(shapes[i], shapes[j]))
            pair = f"{worked.flues[j].name} and {worked.flues[i].name}"
            action = "Fill the strip with joint filler and sealant instead of concrete: so thin a strip breaks."
            key = f"cap.between.{worked.flues[j].name}.{worked.flues[i].name}"
            found.append(
                compare(key, "concrete between two joints", STRIP, pair, clear, at_least=LEAST_STRIP, unit="m", action=action)
            )
    return tuple(found)


def figures(worked: Worked) -> tuple[Figure, ...]:
    """How far each stands proud, and what is set on it."""
    return tuple(figure for k, flue in enumerate(worked.flues) for figure in _flue(worked, flue, k))


def _flue(worked: Worked, flue: FlueFit, k: int) -> tuple[Figure, ...]:
    top, own, name = worked.survey.flues[k].top, worked.levels.flues[k], flue.name
    terms = (
        Term("top", "top of the flue above the string", top.mean, "m"),
        Term("extension", "how much higher it is made", own.extension, "m"),
        Term("wash", "wash where it meets the joint, highest", flue.meets_high, "m"),
    )
    proud = Figure(
        f"cap.proud.{name}",
        f"flue {name} above the wash",
        flue.proud.mean,
        "m",
        "top + extension - wash",
        terms,
        spread=flue.proud.sd,
    )
    if own.extension == 0 or own.joint is None:
        return (proud,)
    wanted = Term("proud", "height wanted over the wash", worked.choices.proud_wanted, "m", PRACTICE)
    return (
        proud,
        Figure(
            f"cap.extension.{name}", f"flue {name}: how much higher", own.extension, "m", "wash + proud - top", (*terms, wanted)
        ),
        Figure(
            f"cap.extension_piece.{name}",
            f"flue {name}: length of the piece set on",
            own.extension + own.cut_back,
            "m",
            "extension + cut back",
            (
                Term("extension", "how much higher it is made", own.extension, "m"),
                Term("cut back", "cut off the flue that stands", own.cut_back, "m"),
            ),
        ),
        Figure(
            f"cap.extension_joint.{name}",
            f"flue {name}: joint of the piece, above the string",
            own.joint,
            "m",
            "top of the flue, or so far under the wash as it must be buried",
            (Term("buried", "concrete over the joint", worked.choices.extension_buried, "m", PRACTICE),),
        ),
    )
