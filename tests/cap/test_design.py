"""The whole cap: nothing crashes, everything that could not be had is told, every number has its working."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.cap.conftest import Bed, flue, make_survey, random_survey

from crownwright.cap.choices import CapChoices
from crownwright.cap.design import design_cap
from crownwright.cap.model import CapDesign
from crownwright.quantity.findings import Finding, Verdict, Waiver
from crownwright.quantity.units import INCH
from crownwright.sources.bibliography import spell


def find(cap: CapDesign, key: str) -> Finding:
    return next(finding for finding in cap.findings if finding.key == key)


def random_choices(rng: np.random.Generator) -> CapChoices:
    """Choices a mason would never make, each one time in four."""
    wild = {
        "length": rng.uniform(5, 120) * INCH,
        "width": rng.uniform(5, 120) * INCH,
        "turn": rng.uniform(-4, 4),
        "edge_board": str(rng.choice(["2x4", "2x6", "2x8", "2x10", "2x12"])),
        "edge_thickness": rng.uniform(0.5, 15) * INCH,
        "soffit_drop": rng.uniform(-20, 20) * INCH,
        "round_to": float(rng.choice([0, INCH, INCH / 4])),
        "overhang_least": rng.uniform(0, 8) * INCH,
        "slope_least": rng.uniform(0, 0.5),
        "slope_wanted": rng.uniform(0, 0.7),
        "proud_least": rng.uniform(0, 6) * INCH,
        "proud_wanted": rng.uniform(0, 8) * INCH,
        "cover_least": rng.uniform(0, 6) * INCH,
        "drip_size": float(rng.choice([0, 0.25, 0.75, 2])) * INCH,
        "drip_setback": rng.uniform(0, 4) * INCH,
        "drip_lip": rng.uniform(0, 3) * INCH,
        "joint_width": float(rng.choice([0, 0.25, 0.6, 5])) * INCH,
        "joint_waived": Waiver("the mason", "a repair"),
        "base": "bonded",
        "hollow_depth": rng.uniform(0, 6) * INCH,
        "hollow_inset": rng.uniform(0, 20) * INCH,
        "level_step": float(rng.choice([0, INCH / 16])),
        "steel_cover": rng.uniform(0, 4) * INCH,
    }
    return CapChoices(**{key: value for key, value in wild.items() if rng.random() < 0.25})  # type: ignore[arg-type]


@settings(max_examples=120)
@given(st.integers(0, 10**7))
def test_nothing_crashes_and_every_number_is_a_number(seed: int) -> None:
    """Outlines of three to seven corners, flues anywhere, on top of each other or off the stone, and wild choices."""
    rng = np.random.default_rng(seed)
    count = int(rng.integers(3, 8))
    angle = np.linspace(0, 2 * np.pi, count, endpoint=False) + rng.uniform(-0.3, 0.3, count)
    ring = np.column_stack([np.cos(angle), np.sin(angle)]) * rng.uniform(15, 40, (count, 1))
    ring -= ring[0]
    flues = [
        flue(
            f"F{k + 1}",
            ring.mean(0) + rng.normal(0, rng.choice([5, 15, 40]), 2),
            (size := rng.uniform(4, 20), size),
            rng.uniform(-10, 30),
            0.0 if (round_one := rng.random() < 0.3) else rng.normal(0, 0.5),
            "round" if round_one else "rectangular",
        )
        for k in range(int(rng.integers(0, 5)))
    ]
    bed = Bed(level=rng.uniform(-8, 1) * INCH, wave=rng.uniform(0, 2) * INCH)
    survey = make_survey(ring, flues, bed, rng.normal(0, 0.6, (count, 8)), 8)
    cap = design_cap(survey, random_choices(rng))
    assert all(np.isfinite(figure.value) for figure in cap.figures)
    for keys in ([f.key for f in cap.figures], [f.key for f in cap.findings]):
        assert len(keys) == len(set(keys))
    for finding in cap.findings:
        assert finding.verdict is Verdict.OK or finding.action


def test_figures_are_in_the_order_of_the_job_and_cite_known_sources() -> None:
    cap = design_cap(random_survey(np.random.default_rng(4)), CapChoices())
    assert cap.figures[0].key == "cap.length"
    for figure in cap.figures:
        spell(figure.cite)
        assert figure.formula
        for term in figure.inputs:
            if term.cite:
                spell(term.cite)
    for finding in cap.findings:
        spell(finding.cite)


@pytest.mark.parametrize(
    ("choices", "key"),
    [
        (CapChoices(length=43 * INCH), "cap.overhang.BC"),
        (CapChoices(overhang_least=2 * INCH, overhang_wanted=2 * INCH, overhang_most=3 * INCH), "cap.drip.AB"),
        (CapChoices(joint_width=0.25 * INCH), "cap.joint"),
        (CapChoices(drip_size=0.0), "cap.drip"),
        (CapChoices(soffit_drop=1 * INCH), "cap.soffit"),
        (CapChoices(edge_thickness=1 * INCH), "cap.cover"),
        (CapChoices(width=10 * INCH, length=10 * INCH), "cap.steel"),
    ],
)
def test_what_cannot_be_had_is_told(choices: CapChoices, key: str) -> None:
    finding = find(design_cap(make_survey(flues=[flue(top=14)]), choices), key)
    assert finding.verdict is Verdict.SHORT
    assert finding.short_by > 0
    assert finding.action


def test_a_drip_that_has_no_room_names_the_moulding_that_has() -> None:
    choices = CapChoices(overhang_least=2.5 * INCH, overhang_wanted=2.5 * INCH, overhang_most=4 * INCH, round_to=0.0)
    told = find(design_cap(make_survey(), choices), "cap.drip.AB")
    # 2 1/2 in. less 1 1/2 setback and 3/4 lip leaves a quarter inch
    assert told.short_by / INCH == pytest.approx(0.5)
    assert told.action.startswith("Widen the overhang on this side by 1/2 in.")
    assert "a 1/4 in. (6 mm) quarter-round" in told.action


def test_a_joint_left_out_stays_on_the_papers_as_waived() -> None:
    waiver = Waiver("the mason", "the old cap was bonded, owner informed")
    cap = design_cap(make_survey(flues=[flue(top=14)]), CapChoices(joint_waived=waiver))
    told = find(cap, "cap.joint")
    assert (told.verdict, told.waiver) == (Verdict.WAIVED, waiver)
    assert cap.flues[0].joint_width == 0
    assert np.allclose(cap.flues[0].hole, make_survey(flues=[flue(top=14)]).flues[0].ring)


def test_the_joint_widens_with_the_liner_s_growth() -> None:
    usual, tall = (design_cap(make_survey(flues=[flue(top=14)]), CapChoices(liner_length=h * 0.3048)) for h in (25, 45))
    assert usual.flues[0].joint_width / INCH == pytest.approx(0.625)
    # 45 ft, 400 F: 0.713 in. of growth, 0.951 in. of sheared class 25 sealant, so an inch
    assert tall.flues[0].joint_width / INCH == pytest.approx(1.0)


@pytest.mark.parametrize("base", ["bonded", "slip sheet"])
def test_the_base_is_shown_with_what_speaks_against_it(base: str) -> None:
    told = find(design_cap(make_survey(), CapChoices(base=base)), "cap.base")  # type: ignore[arg-type]
    assert told.verdict is Verdict.CANNOT_TELL
    assert "see what the local code says" in told.action


@pytest.mark.parametrize(("count", "poor"), [(3, True), (4, False), (5, False)])
def test_a_rectangle_that_suits_the_stack_poorly_is_told(count: int, poor: bool) -> None:
    angle = np.arange(count) * 2 * np.pi / count + np.pi / 4
    ring = 25 * np.column_stack([np.cos(angle), np.sin(angle)])
    told = [f for f in design_cap(make_survey(ring - ring[0]), CapChoices()).findings if f.key == "cap.shape"]
    assert bool(told) is (count != 4)
    if poor:
        assert told[0].verdict is Verdict.SHORT
        assert "three corners" in told[0].subject


def test_flues_closer_than_a_strip_of_concrete_are_told() -> None:
    cap = design_cap(
        make_survey([(0, 0), (60, 0), (60, 36), (0, 36)], [flue("F1", (20, 18)), flue("F2", (35, 18))]), CapChoices()
    )
    told = find(cap, "cap.between.F1.F2")
    assert told.verdict is Verdict.SHORT
    assert told.provided is not None
    assert told.provided / INCH == pytest.approx(2 - 1.25)


def test_a_flue_off_the_stone_blocks_and_still_gives_a_cap() -> None:
    cap = design_cap(make_survey(flues=[flue(centre=(80, 15), top=14)]), CapChoices())
    told = find(cap, "cap.flue_edge.F1")
    assert told.verdict is Verdict.SHORT
    assert told.blocks
    assert cap.volume.all.mean > 0


def test_set_out_distances_meet_the_cap() -> None:
    survey = make_survey()
    cap = design_cap(survey, CapChoices())
    out = {f.key: f.value for f in cap.figures if f.key.startswith("cap.set_out")}
    assert len(out) == 8
    assert out["cap.set_out.A.AB"] == pytest.approx(-cap.corners[0, 1])
    assert out["cap.set_out.B.BC"] == pytest.approx(cap.corners[1, 0] - 40 * INCH)


def test_steel_goes_round_and_beside_and_between() -> None:
    flues = [flue("F1", (22, 20), top=14), flue("F2", (44, 20), top=14)]
    cap = design_cap(make_survey([(0, 0), (66, 0), (66, 40), (0, 40)], flues), CapChoices())
    names = [piece.name for piece in cap.steel]
    assert names[:4] == ["along AB", "along BC", "along CD", "along DA"]
    assert "between F1 and F2, across" in names
    assert any(name.startswith("beside F1") for name in names)
    for piece in cap.steel:
        run = float(np.hypot(*(np.subtract(piece.end, piece.start))))
        assert piece.length == pytest.approx(run + piece.lap)
        assert cap.soffit < piece.level < cap.crest
        assert piece.cover is not None
        assert piece.cover > 0.6 * INCH


def test_no_steel_touches_the_stone_or_a_hole() -> None:
    for seed in range(12):
        cap = design_cap(random_survey(np.random.default_rng(seed)), CapChoices())
        assert all(piece.cover is not None and piece.cover > 0.5 * INCH for piece in cap.steel), seed


def test_results_keep_what_they_came_from() -> None:
    choices = replace(CapChoices(), round_to=INCH)
    cap = design_cap(make_survey(), choices)
    assert cap.choices is choices
    assert not cap.top.points.flags.writeable
