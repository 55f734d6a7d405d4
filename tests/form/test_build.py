"""The form of the example jobs: pieces that meet, fit the stone, carry, and can be reached."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import cos, pi, sin

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from crownwright.cap.model import CapDesign
from crownwright.checks.strip import order_of
from crownwright.codes.ps_20 import board
from crownwright.form.build import build_form, joint_gaps
from crownwright.form.choices import FormChoices, Stock
from crownwright.form.gaps import narrowest_gaps
from crownwright.form.model import FormDesign, Piece
from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.units import FOOT, INCH
from crownwright.sources.bibliography import spell
from crownwright.survey.model import Survey

Top = tuple[Survey, CapDesign]
EXAMPLES = ("brick-one-flue", "stone-two-flues", "out-of-square", "round-flue", "short-flue", "metric", "doorstep")
HAIR = 1e-6
fixed = settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=25)


def built(top: Top, **chosen: object) -> FormDesign:
    return build_form(*top, replace(FormChoices(), **chosen), cut_list=False)  # type: ignore[arg-type]


def parts(form: FormDesign, part: str) -> list[Piece]:
    return [p for p in form.pieces if p.part == part]


def finding(form: FormDesign, key: str) -> Finding:
    return next(f for f in form.findings if f.key == key)


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_two_pieces_share_a_place(an_example: Callable[[str], Top], name: str) -> None:
    form = built(an_example(name))
    shapes = [shapely.Polygon(p.footprint) for p in form.pieces]
    for i, one in enumerate(form.pieces):
        assert shapes[i].exterior.is_ccw
        for j in range(i):
            other = form.pieces[j]
            if min(one.top, other.top) - max(one.bottom, other.bottom) > HAIR:
                assert shapes[i].intersection(shapes[j]).area < HAIR, (one.name, other.name)


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_part_comes_off_and_every_screw_can_be_reached(an_example: Callable[[str], Top], name: str) -> None:
    survey, cap = an_example(name)
    order = order_of(survey, cap, built((survey, cap)))
    assert order.comes_off
    assert order.falls == order.loose == (), "and none of it falls on the way"


@pytest.mark.parametrize("name", EXAMPLES)
def test_hang_lines_stand_on_faces_that_are_free(an_example: Callable[[str], Top], name: str) -> None:
    """Each on the outer face of its wall, clear of kickers and horns, over the middle of the wall as near as a kicker lets it."""
    form = built(an_example(name))
    assert [line.holds for line in form.hanging.lines] == [f"sidewall {side.name}" for side in form.sides]
    for line in form.hanging.lines:
        wall, spot = form.piece(line.holds), shapely.Point(line.head[:2])
        assert shapely.Polygon(wall.footprint).exterior.distance(spot) < HAIR
        assert wall.bottom < line.head[2] < wall.top
        others = [p for p in form.pieces if p.part in ("kicker", "packer", "corner cleat") and p.top > line.head[2]]
        assert all(shapely.Polygon(p.footprint).distance(spot) > INCH / 2 for p in others)
    assert form.hanging.screws * form.hanging.carries >= form.hanging.load
    assert finding(form, "form.hanging").verdict is Verdict.OK


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_piece_stands_in_stone(an_example: Callable[[str], Top], name: str) -> None:
    survey, cap = an_example(name)
    stone = shapely.Polygon(survey.outline.face)
    form = built((survey, cap))
    for piece in form.pieces:
        assert shapely.Polygon(piece.footprint).intersection(stone).area < HAIR, piece.name
    reach = [side.reach for side in form.sides]
    assert narrowest_gaps(form.corners, reach, survey.outline.face).min() >= 0
    assert narrowest_gaps(form.corners, reach, survey.outline.guard).min() >= -HAIR


@pytest.mark.parametrize("name", EXAMPLES)
def test_sidewalls_stand_wholly_on_soffit_boards_but_for_their_horns(an_example: Callable[[str], Top], name: str) -> None:
    form = built(an_example(name))
    soffits = shapely.union_all([shapely.Polygon(p.footprint) for p in parts(form, "soffit board")]).buffer(HAIR)
    for wall in parts(form, "sidewall"):
        off = shapely.Polygon(wall.footprint).difference(soffits).area
        assert off <= form.choices.horn * 1.5 * INCH + HAIR
    for moulding in parts(form, "quarter-round"):
        assert soffits.contains(shapely.Polygon(moulding.footprint))


@pytest.mark.parametrize("name", EXAMPLES)
def test_soffit_boards_bear_on_every_block(an_example: Callable[[str], Top], name: str) -> None:
    form = built(an_example(name))
    soffits = shapely.union_all([shapely.Polygon(p.footprint) for p in parts(form, "soffit board")])
    for block in parts(form, "corner block"):
        on = shapely.Polygon(block.footprint).intersection(soffits).area
        assert on / block.length > 0  # some of every leg
        assert on >= 3 * INCH * min(j.bearing for j in form.joints)
    assert finding(form, "form.bearing").verdict is Verdict.OK


@pytest.mark.parametrize("name", EXAMPLES)
def test_screws_start_in_one_piece_they_join_and_point_into_the_other(an_example: Callable[[str], Top], name: str) -> None:
    form = built(an_example(name))
    length = {line.place: line.length for line in form.screw_list}
    shapes = {p.name: shapely.Polygon(p.footprint).buffer(HAIR) for p in form.pieces}
    for screw in form.screws:
        head, way = np.array(screw.head), np.array(screw.drive)
        assert np.linalg.norm(way) == pytest.approx(1)
        along = head + np.linspace(1e-4, length[screw.place], 25)[:, None] * way
        first, second = (_holds(form.piece(name), shapes[name], along) for name in screw.joins)
        assert first[0], (screw.place, screw.joins)
        assert second.any(), (screw.place, screw.joins)
        near = [p for p in form.pieces if p.bottom - HAIR <= along[-1, 2] <= p.top + HAIR]
        assert any(_holds(p, shapes[p.name], along[-1:])[0] for p in near), (screw.place, screw.joins, "comes through")


def _holds(piece: Piece, shape: shapely.Geometry, points: np.ndarray) -> np.ndarray:
    level = (points[:, 2] >= piece.bottom - HAIR) & (points[:, 2] <= piece.top + HAIR)
    return np.asarray(level & shapely.contains_xy(shape, points[:, 0], points[:, 1]))


@pytest.mark.parametrize("name", EXAMPLES)
def test_lengths_are_those_of_the_placed_pieces_to_a_sixteenth(an_example: Callable[[str], Top], name: str) -> None:
    form = built(an_example(name))
    for piece in form.pieces:
        edges = np.linalg.norm(np.roll(piece.footprint, -1, axis=0) - piece.footprint, axis=1)
        placed = piece.top - piece.bottom if piece.stands else edges.max()
        assert piece.length == pytest.approx(placed, abs=INCH / 32 + HAIR), piece.name
        assert piece.length / (INCH / 16) == pytest.approx(round(piece.length / (INCH / 16)), abs=1e-6)
        if piece.section in ("2x4", "2x6", "2x8"):
            size = sorted((*np.sort(edges)[[0, -1]], piece.top - piece.bottom))
            assert size[0] == pytest.approx(board(piece.section).thickness)
            assert size[1] == pytest.approx(min(board(piece.section).width, size[2]), abs=1e-6) or size[1] == pytest.approx(
                piece.length
            )


@fixed
@given(st.floats(0, 2 * pi), st.floats(-5, 5))
def test_turning_and_moving_the_survey_changes_nothing(an_example: Callable[[str], Top], by: float, shift: float) -> None:
    survey, cap = an_example("out-of-square")
    axes = np.array([[cos(by), sin(by)], [-sin(by), cos(by)]])

    def put(points: np.ndarray) -> np.ndarray:
        return np.asarray(points @ axes + (shift, -shift))

    outline = replace(survey.outline, face=put(survey.outline.face), guard=put(survey.outline.guard))
    flues = tuple(replace(flue, ring=put(flue.ring)) for flue in survey.flues)
    placed = replace(survey, corners=put(survey.corners), outline=outline, flues=flues)
    moved = placed, replace(cap, corners=put(cap.corners))
    here, there = built((survey, cap)), built(moved)
    assert [p.length for p in there.pieces] == pytest.approx([p.length for p in here.pieces])
    assert [f.value for f in there.figures] == pytest.approx([f.value for f in here.figures], rel=1e-6, abs=1e-9)
    assert [f.verdict for f in there.findings] == [f.verdict for f in here.findings]
    for a, b in zip(here.pieces, there.pieces, strict=True):
        assert b.footprint == pytest.approx(put(a.footprint), abs=1e-6)


def test_the_width_of_the_soffit_board_follows_from_the_overhang(a_polygon: Callable[..., Top]) -> None:
    """A sidewall on a flat 2x6 leaves four inches, on a 2x4 two; what is wider than needed sticks out."""
    survey, cap = a_polygon((0, 0), (40, 0), (40, 30), (0, 30))
    for overhang, section, sticks_out in (
        (1.9, "2x4", 0.35),
        (2.25, "2x4", 0.0),
        (3.0, "2x6", 1.25),
        (4.25, "2x6", 0.0),
        (4.5, "2x6", 0.0),
    ):
        sides = tuple(replace(s, least=overhang * INCH, sure=overhang * INCH) for s in cap.sides)
        form = built((survey, replace(cap, sides=sides)))
        assert form.sides[0].section == section
        assert form.sides[0].sticks_out == pytest.approx(sticks_out * INCH, abs=1e-9)
        assert form.sides[0].reach + 1.5 * INCH + form.sides[0].sticks_out == pytest.approx(board(section).width)


def test_a_wider_overhang_takes_the_next_board_on_the_list(a_polygon: Callable[..., Top]) -> None:
    survey, cap = a_polygon((0, 0), (40, 0), (40, 30), (0, 30))
    sides = tuple(replace(s, least=5.2 * INCH, sure=5.2 * INCH) for s in cap.sides)
    form = built((survey, replace(cap, sides=sides)))
    assert [s.section for s in form.sides] == ["2x8"] * 4
    only = (Stock("2x4", 8 * FOOT), Stock("2x6", 8 * FOOT))
    assert [s.section for s in built((survey, replace(cap, sides=sides)), stock=only).sides] == ["2x6"] * 4


def test_no_room_under_the_edge_is_a_finding_not_a_crash(a_polygon: Callable[..., Top]) -> None:
    survey, cap = a_polygon((0, 0), (40, 0), (40, 30), (0, 30))
    sides = tuple(replace(s, least=0.1 * INCH, sure=-0.5 * INCH) for s in cap.sides)
    form = built((survey, replace(cap, sides=sides)))
    assert finding(form, "form.reach.AB").verdict is Verdict.SHORT
    assert finding(form, "form.reach.AB").blocks


def test_rails_come_with_the_span_and_shorten_no_longer_than_they_must(a_polygon: Callable[..., Top]) -> None:
    small = built(a_polygon((0, 0), (30, 0), (30, 28), (0, 28)))
    large = built(a_polygon((0, 0), (66, 0), (66, 30), (0, 30)))
    assert not parts(small, "rail")
    assert {p.place for p in parts(large, "rail")} == {"AB", "CD"}
    for form in (small, large):
        assert finding(form, "form.span.AB").verdict is Verdict.OK
        assert all(s.span <= s.span_most for s in form.sides)


def test_a_span_that_no_rail_carries_is_a_finding(a_polygon: Callable[..., Top]) -> None:
    form = built(a_polygon((0, 0), (130, 0), (130, 40), (0, 40)))
    spans = [f for f in form.findings if f.key.startswith("form.span.")]
    assert [f.verdict for f in spans] == [Verdict.SHORT, Verdict.OK, Verdict.SHORT, Verdict.OK]
    assert "block at the middle" in spans[0].action


def test_kickers_hold_long_walls_in_equal_spans(a_polygon: Callable[..., Top]) -> None:
    form = built(a_polygon((0, 0), (110, 0), (110, 30), (0, 30)))
    for side in form.sides:
        assert side.inside / (side.kickers + 1) <= side.wall_most
        assert side.kickers == 0 or side.inside / side.kickers > side.wall_most
        assert len([p for p in parts(form, "kicker") if p.place == side.name]) == side.kickers
        packers = [p for p in parts(form, "packer") if p.place == side.name]
        assert len(packers) == (side.kickers if side.sticks_out > INCH / 16 else 0)


def test_without_a_horn_the_corners_rest_on_end_grain_and_it_is_said(an_example: Callable[[str], Top]) -> None:
    top = an_example("brick-one-flue")
    assert finding(built(top), "form.corner_thrust").verdict is Verdict.OK
    bare = built(top, horn=0.0)
    assert finding(bare, "form.corner_thrust").verdict is Verdict.SHORT
    assert not parts(bare, "corner cleat")
    square = [p.inside for p in parts(bare, "sidewall")]
    perimeter = sum(s.inside for s in bare.sides)
    assert sum(square) == pytest.approx(perimeter + 4 * 1.5 * INCH)


def test_two_straps_lie_apart_under_the_rails(a_polygon: Callable[..., Top]) -> None:
    top = a_polygon((0, 0), (66, 0), (66, 30), (0, 30))
    one, two = built(top), built(top, straps=2)
    assert two.strap.count == 2
    rail = max(board(s.rail).width for s in two.sides if s.rail)
    assert two.strap.heights[0] <= two.choices.block_length - rail - 1.4 * INCH
    assert two.strap.heights[1] > 1 * INCH
    assert one.strap.girth == two.strap.girth == pytest.approx(float(shapely.Polygon(one.strap.path).length))
    hull = shapely.MultiPoint(np.vstack([p.footprint for p in parts(one, "corner block")])).convex_hull
    assert one.strap.girth == pytest.approx(hull.length)


def test_straps_are_as_many_as_hold_on_wet_stone_with_a_factor_of_two(an_example: Callable[[str], Top]) -> None:
    """By the belt formula written out: each presses with 2 T (1 + exp(-0.3 pi/2))^2, T 2,400 N, and wet stone holds a fifth."""
    form = built(an_example("brick-one-flue"))
    each = 0.2 * 2 * 2400 * (1 + np.exp(-0.3 * pi / 2)) ** 2
    assert form.strap.count * each >= 2 * form.strap.load > (form.strap.count - 1) * each
    assert built(an_example("brick-one-flue"), straps=1).strap.count == 1


def test_blocks_grow_until_the_straps_lie_side_by_side_and_no_further_than_two_feet(an_example: Callable[[str], Top]) -> None:
    top = an_example("brick-one-flue")
    for straps, length in ((1, 12), (5, 12), (8, 17), (40, 24)):
        form = built(top, straps=straps)
        assert form.choices.block_length == pytest.approx(length * INCH)
        assert {p.length for p in parts(form, "corner block")} == {form.choices.block_length}
        assert min(form.strap.heights) >= 0.99 * INCH
        assert finding(form, "form.straps").verdict is (Verdict.SHORT if straps == 40 else Verdict.OK)


def test_a_gap_that_not_even_mortar_closes_is_a_finding(an_example: Callable[[str], Top]) -> None:
    survey, cap = an_example("brick-one-flue")
    assert finding(built((survey, cap)), "form.gap").verdict is Verdict.OK
    face = survey.outline.face.copy()
    middle = int(np.argmin(face[:, 1] + 9 * (survey.outline.side != 0)))
    face[middle, 1] += 4 * INCH
    notched = replace(survey, outline=replace(survey.outline, face=face))
    found = finding(built((notched, cap)), "form.gap")
    assert found.verdict is Verdict.SHORT
    assert "filler strip" in found.action
    assert "on AB before" in found.action


def test_gaps_wider_than_can_be_packed_get_a_bed_and_narrower_ones_none(an_example: Callable[[str], Top]) -> None:
    top = an_example("out-of-square")
    all_packed, all_bed = built(top, pack_most=12 * INCH), built(top, pack_most=0.0)
    assert all_packed.bed_volume.mean == pytest.approx(0, abs=1e-9)
    assert not any(g.wide for g in all_packed.gaps)
    some = built(top)
    whole = all_packed.packing_volume.mean
    for form in (all_packed, some, all_bed):
        assert form.packing_volume.mean + form.bed_volume.mean == pytest.approx(whole)
    assert 0 < some.bed_volume.mean <= all_bed.bed_volume.mean <= whole
    assert whole == pytest.approx((shapely.Polygon(form_ring(some)).area - top[0].outline.area.mean) * 1.5 * INCH)


def form_ring(form: FormDesign) -> np.ndarray:
    """Inner edges of the soffit boards, by intersecting half planes."""
    cap = shapely.Polygon(form.corners)
    for i, side in enumerate(form.sides):
        a, b = form.corners[i], form.corners[(i + 1) % 4]
        u = (b - a) / np.linalg.norm(b - a)
        n = np.array([u[1], -u[0]])
        far = [a - 9 * u - side.reach * n, a + 9 * u - side.reach * n, a + 9 * u - 9 * n, a - 9 * u - 9 * n]
        cap = cap.intersection(shapely.Polygon(far))
    return np.array(cap.exterior.coords[:-1])


def test_the_bed_s_expected_area_agrees_with_sampling(an_example: Callable[[str], Top]) -> None:
    """Draw every station from its own normal; 2 % is five standard errors of 20,000 draws."""
    form = built(an_example("out-of-square"))
    rng = np.random.default_rng(1)
    for gap in form.gaps:
        drawn = gap.width + gap.sd * rng.standard_normal((20_000, len(gap.width)))
        run = np.zeros(len(gap.along))
        run[:-1] += np.diff(gap.along) / 2
        run[1:] += np.diff(gap.along) / 2
        area = np.where(drawn > form.choices.pack_most, drawn, 0.0) @ run
        assert gap.bed.mean == pytest.approx(area.mean(), rel=0.02, abs=1e-6)


@pytest.mark.parametrize("name", EXAMPLES)
def test_everything_on_the_job_can_be_cut_from_the_usual_rack(an_example: Callable[[str], Top], name: str) -> None:
    survey, cap = an_example(name)
    form = build_form(survey, cap, FormChoices())
    assert form.problems == ()
    assert form.cut is not None
    assert form.cut.proved
    sawn = sorted(p.name for b in form.cut.boards for p in b.pieces)
    assert sawn == sorted(p.name for p in form.pieces if p.part != "packer")


def test_a_piece_no_board_is_long_enough_for_is_a_problem(a_polygon: Callable[..., Top]) -> None:
    survey, cap = a_polygon((0, 0), (66, 0), (66, 30), (0, 30))
    short = replace(FormChoices(), stock=(Stock("2x4", 3 * FOOT), Stock("2x6", 8 * FOOT), Stock("quarter-round 3/4", 8 * FOOT)))
    form = build_form(survey, cap, short)
    too_long = {f"{p.section} {p.name}" for p in form.pieces if p.section == "2x4" and p.length > 3 * FOOT - 0.625 * INCH}
    assert {p.where for p in form.problems} == too_long != set()
    assert form.cut is not None
    assert {f"2x4 {p.name}" for b in form.cut.boards for p in b.pieces}.isdisjoint(too_long)


def test_a_block_section_that_is_no_lumber_is_a_problem_and_the_rest_is_planned(an_example: Callable[[str], Top]) -> None:
    form = built(an_example("brick-one-flue"), block_section="2x7")
    assert [p.where for p in form.problems] == ["form.block_section"]
    assert parts(form, "corner block")[0].section == "2x4"


@pytest.mark.parametrize(
    "corners",
    [
        ((0, 0), (44, 0), (20, 40)),
        ((0, 0), (40, 0), (48, 24), (20, 42), (-8, 24)),
        ((0, 0), (40, 0), (40, 26), (12, 40), (0, 40)),
    ],
)
def test_a_stone_of_other_than_four_corners_is_built_as_far_as_it_goes_and_the_rest_is_said(
    a_polygon: Callable[..., Top], corners: tuple[tuple[float, float], ...]
) -> None:
    survey, cap = a_polygon(*corners, flue=6.0)
    form = built((survey, cap))
    assert finding(form, "form.bearing").verdict is Verdict.CANNOT_TELL
    assert len(parts(form, "corner block")) == 2 * len(corners)
    assert len(parts(form, "soffit board")) == 4
    stone = shapely.Polygon(survey.outline.face)
    for piece in form.pieces:
        assert shapely.Polygon(piece.footprint).intersection(stone).area < 1e-5, piece.name
    assert all(len(g.along) for g in form.gaps)


def test_joint_gaps_are_nil_as_drawn_and_grow_with_the_skew(an_example: Callable[[str], Top]) -> None:
    form = built(an_example("brick-one-flue"))
    square = np.full(4, pi / 2)
    assert joint_gaps(form, square) == pytest.approx(np.zeros((4, 3)), abs=1e-9)
    skew = joint_gaps(form, square + np.array([1, -1, 1, -1]) * pi / 180)
    assert skew[:, 0] == pytest.approx(1.5 * INCH * np.tan(pi / 180), rel=1e-6)
    assert skew[:, 1] == pytest.approx(5.5 * INCH * np.tan(pi / 180), rel=1e-6)
    assert (skew[:, 2] > 0).all()


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_figure_and_finding_names_a_source_that_exists(an_example: Callable[[str], Top], name: str) -> None:
    survey, cap = an_example(name)
    form = build_form(survey, cap, FormChoices())
    keys = [f.key for f in form.figures]
    assert len(keys) == len(set(keys))
    for figure in form.figures:
        assert spell(figure.cite)
        assert np.isfinite(figure.value)
        assert all(spell(t.cite) for t in figure.inputs if t.cite)
    assert all(spell(f.cite) for f in form.findings)


def test_every_piece_and_screw_has_its_step(an_example: Callable[[str], Top]) -> None:
    form = built(an_example("stone-two-flues"))
    assert sorted(p for step in form.steps for p in step.pieces) == sorted(p.name for p in form.pieces)
    assert {place for step in form.steps for place in step.screws} >= {line.place for line in form.screw_list}
    with pytest.raises(KeyError, match="no piece"):
        form.piece("wheel")
