"""PyNiteFEA, a general frame program: moments, shears and deflections of the beam cases a form needs, within 0.1 %."""

from __future__ import annotations

import pytest
from Pynite import FEModel3D

from crownwright.codes.beam_formulas import cantilever_end, cantilever_uniform, simple_centre, simple_uniform, two_span_uniform

E, INERTIA, L, W, P = 8.7e9, 8.66e-6, 1.22, 700.0, 1334.0


def model(spans: int, supports: dict[str, tuple[bool, ...]]) -> FEModel3D:
    frame = FEModel3D()
    frame.add_material("wood", E, E / 16, 0.3, 500.0)
    frame.add_section("board", 5e-3, INERTIA, INERTIA, 1e-6)
    for at in range(spans + 1):
        frame.add_node(f"N{at}", at * L, 0, 0)
    for at in range(spans):
        frame.add_member(f"M{at}", f"N{at}", f"N{at + 1}", "wood", "board")
    for node, fixed in supports.items():
        frame.def_support(node, *fixed)
    return frame


PIN = (True, True, True, True, False, False)
FIXED = (True,) * 6


def solved(frame: FEModel3D, spans: int = 1) -> tuple[float, float, float]:
    frame.analyze(check_statics=False)
    members = [frame.members[f"M{at}"] for at in range(spans)]
    moment = max(max(abs(m.max_moment("Mz")), abs(m.min_moment("Mz"))) for m in members)
    shear = max(max(abs(m.max_shear("Fy")), abs(m.min_shear("Fy"))) for m in members)
    deflection = max(abs(float(y)) for m in members for y in m.deflection_array("dy", 2001)[1])
    return moment, shear, deflection


def simple() -> FEModel3D:
    return model(1, {"N0": PIN, "N1": (False, True, True, False, False, False)})


def loaded(which: str) -> tuple[FEModel3D, int]:
    if which == "two spans":
        roller = (False, True, True, False, False, False)
        frame = model(2, {"N0": PIN, "N1": roller, "N2": roller})
        for name in ("M0", "M1"):
            frame.add_member_dist_load(name, "Fy", -W, -W)
        return frame, 2
    frame = simple() if which.startswith("simple") else model(1, {"N0": FIXED})
    if which.endswith("uniform"):
        frame.add_member_dist_load("M0", "Fy", -W, -W)
    else:
        frame.add_member_pt_load("M0", "Fy", -P, L / 2 if which.startswith("simple") else L)
    return frame, 1


@pytest.mark.parametrize(
    ("which", "ours"),
    [
        ("simple uniform", simple_uniform(W, L, E * INERTIA)),
        ("simple centre", simple_centre(P, L, E * INERTIA)),
        ("cantilever uniform", cantilever_uniform(W, L, E * INERTIA)),
        ("cantilever end", cantilever_end(P, L, E * INERTIA)),
        ("two spans", two_span_uniform(W, L, E * INERTIA)),
    ],
)
def test_beams(theirs, which, ours):
    frame, spans = loaded(which)
    for what, expected, value, unit in zip(
        ("moment", "shear", "deflection"),
        solved(frame, spans),
        (ours.moment, ours.shear, ours.deflection),
        ("N m", "N", "m"),
        strict=True,
    ):
        theirs(f"{which}: {what}", expected, value, unit=unit, tol=1e-3 * expected, grade="independent program")
