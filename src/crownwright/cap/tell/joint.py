"""What is told of the joint between cap and flues: its width, and what fills it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from crownwright.cap.joint import CLAY_EXPANSION, USUAL_WIDTH
from crownwright.cap.tell.worked import Worked
from crownwright.cap.words import say_at_least
from crownwright.codes.astm_c1472 import sealant_depth
from crownwright.quantity.findings import Finding, Verdict, compare
from crownwright.quantity.working import ENTERED, PRACTICE, Cite, Figure, Term

Array = NDArray[np.float64]

SHEAR = Cite("astm_c1472", "shear of a sealant joint", "from memory")
CLAY = Cite("forensic_handbook", "p. 473, clay masonry")


def findings(worked: Worked) -> tuple[Finding, ...]:
    """Width against the liner's growth; left out on a repair it is waived, and stays on the papers."""
    if not worked.flues:
        return ()
    joint, waiver = worked.joint, worked.choices.joint_waived
    wider = f"Make the joint {say_at_least(joint.asked)} wide, or use a sealant that moves more"
    action = f"{wider}; after a chimney fire renew it in any case."
    rule = "joint round the flue wide enough for the liner's growth"
    found = compare(
        "cap.joint",
        rule,
        SHEAR,
        "joint between cap and flue",
        joint.width,
        at_least=joint.asked,
        unit="m",
        action=action,
        slack=1e-6,
    )
    return (found if waiver is None else replace(found, verdict=Verdict.WAIVED, waiver=waiver),)


def figures(worked: Worked) -> tuple[Figure, ...]:
    """Growth, width, wrap, rod and sealant."""
    if not worked.flues:
        return ()
    choices, joint = worked.choices, worked.joint
    growth = (
        Term("a", "expansion of fired clay", CLAY_EXPANSION, "1/K", CLAY),
        Term("L", "liner above its support", choices.liner_length, "m", ENTERED),
        Term("dT", "how much warmer it gets", choices.liner_warming, "K", PRACTICE),
    )
    width = (
        Term("dL", "growth of the liner past the cap", joint.grows, "m"),
        Term("S", "movement class of the sealant", choices.sealant_movement),
        Term("usual", "the trade's gap", USUAL_WIDTH, "m", PRACTICE),
    )
    middle = [_perimeter(ring, joint.width / 2) for ring in worked.ground.rings]
    wraps = [_wrap(worked, k) for k in range(len(worked.flues))]
    depth = sealant_depth(joint.width) if joint.width > 0 else 0.0
    run = float(sum(middle))
    deep = (Term("W", "width", joint.width, "m"),)
    return (
        Figure(
            "cap.joint.growth",
            "liner's growth past the cap",
            joint.grows,
            "m",
            "a L dT",
            growth,
            CLAY,
            "an upper normal fire; a chimney fire grows it 2.5 times as far",
        ),
        Figure(
            "cap.joint.asked",
            "joint that takes the growth",
            joint.asked,
            "m",
            "dL / sqrt((1 + S)^2 - 1)",
            width,
            SHEAR,
            "sealant sheared, not squeezed",
        ),
        Figure(
            "cap.joint.width",
            "joint round each flue, all round and full depth",
            joint.width,
            "m",
            "greater of usual and W, up to the next eighth",
            width,
            ENTERED if choices.joint_width is not None else PRACTICE,
        ),
        Figure(
            "cap.joint.wrap",
            "compressible wrap",
            float(sum(wraps)),
            "m2",
            "outline of the flue x mean depth of the cap there",
            deep,
        ),
        Figure("cap.joint.length", "backer rod and sealant", run, "m", "outline at the joint's middle", deep),
        Figure(
            "cap.joint.sealant_depth",
            "depth of sealant over the rod",
            depth,
            "m",
            "W / 2, not under 1/4 in. nor over 1/2 in.",
            deep,
            Cite("sealant_depth_detailing"),
        ),
        Figure("cap.joint.sealant", "sealant", run * joint.width * depth, "m3", "length x width x depth", deep),
    )


def _perimeter(ring: Array, inward: float) -> float:
    """Length round a convex ring moved inward, m: P - 2 d sum of tan(turn / 2) over its corners."""
    run = np.roll(ring, -1, axis=0) - ring
    before = np.roll(run, 1, axis=0)
    turn = np.arctan2(before[:, 0] * run[:, 1] - before[:, 1] * run[:, 0], (before * run).sum(1))
    return float(np.hypot(run[:, 0], run[:, 1]).sum() - 2 * inward * np.tan(turn / 2).sum())


def _wrap(worked: Worked, k: int) -> float:
    """Area of wrap round one flue: outline of the flue times the mean depth of concrete along the joint, m2."""
    border, levels = worked.ground.borders[k], worked.levels
    depth = float(border.length @ np.maximum(levels.over(border.middle) - border.stone, 0.0) / border.length.sum())
    return _perimeter(worked.ground.rings[k], worked.joint.width) * depth
