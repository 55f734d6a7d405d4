"""What hangs and what falls while a form comes off: small benches argued from the drawing, and statics by linear programming.

Inches here, metres in the model. The stack is a wall of stone at y > 0 whose face is y = 0; things hang on its face.
"""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from crownwright.checks.strip import check_strip
from crownwright.checks.strip_model import DOWN, STONE, UP, Fastener, FormModel, Part, Prism
from crownwright.checks.strip_order import strip_order
from crownwright.quantity.findings import Verdict
from crownwright.quantity.units import INCH

OUT = (0.0, -1.0, 0.0)
WALL = (-50, 50, 0, 20, -60, 60)


def box(x0, x1, y0, y1, z0, z1):
    ring = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    return Prism(tuple((x * INCH, y * INCH) for x, y in ring), z0 * INCH, z1 * INCH)


def part(name, *boxes, ways=()):
    return Part(name, tuple(box(*one) for one in boxes), ways)


def screw(name, joins, head, drive=(0, 1, 0)):
    return Fastener(name, joins, tuple(x * INCH for x in head), drive)


def run(parts, screws, concrete=()):
    return strip_order(FormModel(tuple(parts), tuple(screws), tuple(box(*one) for one in concrete), (box(*WALL),)))


LEFT, RIGHT = part("left bracket", (0, 4, -6, 0, -4, 0)), part("right bracket", (36, 40, -6, 0, -4, 0))
BRACKETS = (
    screw("left", ("left bracket", STONE), (2, -6, -2)),
    screw("right", ("right bracket", STONE), (38, -6, -2)),
)
SHELF = (0, 40, -6, 0, 0, 2)
OVER = [(-10, 50, -20, 0, 2, 6), (-10, 50, -10, -6, 0, 2), (-10, 0, -6, 0, 0, 2), (40, 50, -6, 0, 0, 2)]
"""Concrete over a shelf, in front of it and at its ends: it can only drop."""


def test_a_shelf_comes_off_before_its_brackets_though_they_are_listed_first():
    order = run([LEFT, RIGHT, part("shelf", SHELF)], BRACKETS)
    assert order.steps[0].parts == ("shelf",)
    assert order.falls == order.loose == ()


def test_a_shelf_that_can_only_drop_falls_with_its_first_bracket_and_is_named():
    """On one end alone it tips: the first bracket out is the step that lets it down."""
    order = run([LEFT, RIGHT, part("shelf", SHELF)], BRACKETS, OVER)
    assert order.comes_off
    assert order.steps[0].falls == ("shelf",)
    assert order.falls == ("shelf",)


def test_a_third_bracket_in_the_middle_carries_it_till_it_is_the_last():
    """Both ends may go while the middle one is there; then the shelf balances on that and falls with it."""
    middle = part("middle bracket", (18, 22, -6, 0, -4, 0))
    screws = (*BRACKETS, screw("middle", ("middle bracket", STONE), (20, -6, -2)))
    order = run([LEFT, RIGHT, middle, part("shelf", SHELF)], screws, OVER)
    assert [step.parts[0] for step in order.steps if step.falls] == ["middle bracket"]


def test_a_narrow_bracket_under_the_edge_does_not_carry():
    """The shelf reaches 6 in. out, the bracket 2 in.: its middle, 3 in. out, lies beyond."""
    shy = part("bracket", (0, 40, -2, 0, -4, 0))
    screws = [screw("bracket", ("bracket", STONE), (20, -2, -2))]
    assert run([shy, part("shelf", SHELF)], screws).loose == ("shelf",)
    tied = [*screws, screw("shelf", ("shelf", STONE), (20, -6, 1))]
    assert run([shy, part("shelf", SHELF)], tied).loose == ()


def test_what_is_screwed_together_balances_as_one():
    """A board all out beyond the bracket, screwed to one as heavy behind: the middle of both lies on the bracket."""
    bracket = part("bracket", (0, 40, -8, 0, -4, 0))
    behind, beyond = part("behind", (0, 40, -6, 0, 0, 2)), part("beyond", (0, 40, -12, -6, 0, 2))
    hung = screw("bracket", ("bracket", STONE), (20, -8, -2))
    apart = run([bracket, behind, beyond], [hung])
    assert apart.loose == ("beyond",)
    together = run([bracket, behind, beyond], [hung, screw("batten", ("behind", "beyond"), (20, -12, 1))])
    assert together.loose == ()


def test_a_cleat_screwed_under_a_shelf_comes_off_first():
    cleat = part("cleat", (10, 20, -4, -2, -2, 0))
    screws = (*BRACKETS, screw("cleat", ("cleat", "shelf"), (15, -3, -2), (0, 0, 1)))
    order = run([LEFT, RIGHT, part("shelf", SHELF), cleat], screws)
    assert order.steps[0].parts == ("cleat",)
    assert order.falls == ()


def test_a_cleat_that_cannot_come_off_first_is_taken_along():
    """Its screw can be reached, but it may only go out, and the shelf's apron is in front of it."""
    apron = part("shelf", SHELF, (0, 40, -6, -5, -3, 0))
    apron_on = [part("bracket", (0, 40, -5, -4, -8, -3), ways=(OUT,)), apron, part("cleat", (10, 20, -4, -2, -2, 0), ways=(OUT,))]
    screws = [
        screw("bracket", ("bracket", STONE), (20, -5, -5)),
        screw("shelf", ("shelf", STONE), (20, -6, 1)),
        screw("cleat", ("cleat", "shelf"), (15, -3, -2), (0, 0, 1)),
    ]
    order = run(apron_on, screws)
    step = next(step for step in order.steps if "shelf" in step.parts)
    assert set(step.parts) == {"shelf", "cleat"}
    assert "cleat" not in step.draw
    assert order.falls == ()


def test_a_strap_lets_go_of_all_it_held():
    blocks = [part(f"block {k}", (10 * k, 10 * k + 4, -2, 0, -8, 0)) for k in range(4)]
    order = run(blocks, [screw("strap", (*(one.name for one in blocks), STONE), (20, -3, -4))])
    assert set(order.steps[0].falls) == {"block 1", "block 2", "block 3"}
    assert len(order.falls) == 3, "what is propped does not fall again"


def test_a_moulding_in_its_groove_falls_when_its_board_is_slid_out():
    groove = [
        (-10, 50, -8, -4, 0, 4),
        (-10, 50, -3, 0, 0, 4),
        (-10, 50, -4, -3, 1, 4),
        (-10, 0, -4, -3, 0, 1),
        (40, 50, -4, -3, 0, 1),
    ]
    parts = [LEFT, RIGHT, part("board", (0, 40, -6, 0, -0.5, 0)), part("moulding", (0, 40, -4, -3, 0, 1))]
    low = [part(p.name, (*(c / INCH for c in (p.prisms[0].box[0], p.prisms[0].box[2])), -6, 0, -4, -0.5)) for p in (LEFT, RIGHT)]
    order = run([*low, *parts[2:]], BRACKETS, groove)
    board = next(step for step in order.steps if step.parts == ("board",))
    assert board.falls == ("moulding",)
    assert order.falls == ("moulding",)


def test_the_finding_names_what_falls_and_what_frees_it():
    order = run([LEFT, RIGHT, part("shelf", SHELF)], BRACKETS, OVER)
    held = next(one for one in check_strip(order) if one.key == "form.strip.held")
    assert held.verdict is Verdict.SHORT
    assert "left bracket frees shelf" in held.action
    fine = run([LEFT, RIGHT, part("shelf", SHELF)], BRACKETS)
    assert next(one for one in check_strip(fine) if one.key == "form.strip.held").verdict is Verdict.OK


# --- against statics: can upward forces at the contacts balance the weight? ---

CELLS = 4
WAYS = ((1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0), UP, DOWN)


@st.composite
def stacks(draw):
    """Parts of one to three cells on a row, some stone, up to three screws anywhere."""
    cells = draw(st.permutations([(x, y, z) for x in range(CELLS) for y in range(2) for z in range(CELLS)]))
    parts, taken = {}, set()
    for cell in cells[: draw(st.integers(2, 6))]:
        long = draw(st.integers(1, 3))
        row = [(cell[0] + k, cell[1], cell[2]) for k in range(long)]
        if not taken.intersection(row):
            parts[f"p{len(parts)}"] = row
            taken.update(row)
    stone = [cell for cell in cells if cell not in taken][: draw(st.integers(0, 8))]
    pairs = st.lists(st.sampled_from([*parts, STONE]), min_size=2, max_size=2, unique=True)
    return parts, stone, [tuple(draw(pairs)) for _ in range(draw(st.integers(0, 3)))]


def _balances(together, parts, held_cells):
    """Whether forces upward at the corners of contact can carry the cells of what is screwed together."""
    mine = [cell for name in together for cell in parts[name]]
    corners = [
        (x + dx, y + dy) for x, y, z in mine if (x, y, z - 1) in held_cells for dx in (0, 1) for dy in (0, 1)
    ]  # fmt: skip
    if not corners:
        return False
    at = np.array(corners, dtype=float).T
    weight = np.array([(x + 0.5, y + 0.5) for x, y, _ in mine]).sum(axis=0)
    found = linprog(np.ones(len(corners)), A_eq=np.vstack((np.ones(len(corners)), at)), b_eq=[len(mine), *weight])
    return found.status == 0


def _falling(parts, stone, screws, propped):
    """What statics lets down: sets screwed together, carried one after another."""
    sets = {name: {name} for name in parts} | {STONE: {STONE}}
    for one, other in screws:
        whole = sets.get(one, set()) | sets.get(other, set())
        sets |= dict.fromkeys(whole, whole)
    held = set(sets[STONE]) | set().union(*(sets[name] for name in propped), set())
    while True:
        solid = {*stone, *(cell for name in held - {STONE} for cell in parts[name])}
        more = {name for name in parts if name not in held and _balances(sets[name], parts, solid)}
        if not more:
            return set(parts) - held
        held |= more


@settings(max_examples=60, deadline=None)
@given(stacks())
def test_every_step_lets_fall_what_statics_says(form):
    parts, stone, screws = form
    model = FormModel(
        tuple(Part(name, (_bar(row),), WAYS) for name, row in parts.items()),
        tuple(Fastener(f"s{k}", joins, (0.5, 9.0, 0.5), (0, -1, 0), 1.0) for k, joins in enumerate(screws)),
        tuple(_bar([cell]) for cell in stone),
    )
    order = strip_order(model)
    there, tied = dict(parts), list(screws)
    propped = _falling(there, stone, tied, ())
    assert set(order.loose) == propped
    for step in order.steps:
        there = {name: row for name, row in there.items() if name not in step.parts}
        drawn = {int(name[1:]) for name in step.draw}
        tied = [joins for k, joins in enumerate(screws) if k not in drawn and joins in tied]
        tied = [joins for joins in tied if all(name in there or name == STONE for name in joins)]
        falls = _falling(there, stone, tied, {name for name in propped if name in there})
        assert set(step.falls) == falls
        propped |= falls


def _bar(row):
    (x0, y, z), (x1, _, _) = row[0], row[-1]
    return Prism(((x0, y), (x1 + 1, y), (x1 + 1, y + 1), (x0, y + 1)), float(z), float(z + 1))
