"""Forms made by hand, some that come off and some that cannot; each verdict argued from the drawing, none taken from the search.

All are built on a 40 by 40 in. stack with the cap 4 in. out, inches here, metres in the model. Sides: AB faces -y, BC +x, CD +y,
DA -x.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass, field, replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.checks.strip_model import DOWN, STONE, UP, Fastener, FormModel, Part, Prism
from crownwright.checks.strip_order import strip_order
from crownwright.quantity.units import INCH

SIDES = ("AB", "BC", "CD", "DA")
OUT = {"AB": (0, -1, 0), "BC": (1, 0, 0), "CD": (0, 1, 0), "DA": (-1, 0, 0)}
NEXT = dict(zip(SIDES, (*SIDES[1:], "AB"), strict=True))


def turned(side, x, y):
    """A point given for side AB, turned round the middle of the stack (20, 20) to another side."""
    for _ in range(SIDES.index(side)):
        x, y = 20 - (y - 20), 20 + (x - 20)
    return x * INCH, y * INCH


def box(side, x0, x1, y0, y1, z0, z1):
    """A box given for side AB in inches, turned to ``side``."""
    corners = [turned(side, x, y) for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]
    return Prism(tuple(corners), z0 * INCH, z1 * INCH)


def screw(name, joins, side, head, drive, room=6.0):
    x, y, z = head
    spot = (*turned(side, x, y), z * INCH)
    origin, tip = turned(side, 0, 0), turned(side, drive[0], drive[1])
    way = (tip[0] - origin[0], tip[1] - origin[1], drive[2] * INCH)
    return Fastener(name, tuple(joins), spot, way, room * INCH)


@dataclass
class Bench:
    """A form under construction: change anything, then `model`."""

    edge: float = 3.5
    parts: dict[str, list[Prism]] = field(default_factory=dict)
    ways: dict[str, tuple] = field(default_factory=dict)
    screws: dict[str, Fastener] = field(default_factory=dict)
    concrete: list[Prism] = field(default_factory=list)
    stone: list[Prism] = field(default_factory=list)

    def add(self, *fasteners):
        self.screws.update({one.name: one for one in fasteners})

    def drop(self, *starts):
        self.screws = {name: one for name, one in self.screws.items() if not name.startswith(starts)}

    def model(self):
        parts = tuple(Part(name, tuple(prisms), self.ways.get(name, ())) for name, prisms in self.parts.items())
        return FormModel(parts, tuple(self.screws.values()), tuple(self.concrete), tuple(self.stone))

    def run(self):
        return strip_order(self.model())


def standard(edge=3.5, drip=True):
    """Blocks strapped to the stone, soffit boards on them, sidewalls running past each other, quarter-round; heads outside."""
    b = Bench(edge)
    top = edge - 1
    for s in SIDES:
        b.parts[f"wall {s}"] = [box(s, -5.5, 44, -5.5, -4, -1, top)]
        b.parts[f"soffit {s}"] = [box(s, -5.75, 40.25, -5.75, -0.25, -2.5, -1)]
        b.concrete += [box(s, -4, 44, -4, -2.25, -1, -0.25), box(s, -1.5, 41.5, -1.5, 0, -1, -0.25)]
        if drip:
            b.parts[f"round {s}"] = [box(s, -2.25, 41.5, -2.25, -1.5, -1, -0.25)]
            b.add(*(screw(f"round {s} {x}", (f"round {s}", f"soffit {s}"), s, (x, -1.875, -2.5), (0, 0, 1)) for x in (5, 35)))
        b.parts[f"leg {s} 1"] = [box(s, -1.5, 10.5, -1.5, 0, -8, -2.5)]
        b.parts[f"leg {s} 2"] = [box(s, 29.5, 40, -1.5, 0, -8, -2.5)]
        b.add(
            screw(f"wall {s} up", (f"wall {s}", f"soffit {s}"), s, (20, -4.75, -2.5), (0, 0, 1)),
            screw(f"corner {s}", (f"wall {s}", f"wall {NEXT[s]}"), s, (45.5, -4.75, 0), (-1, 0, 0)),
            screw(f"toe {s} 1", (f"leg {s} 1", f"soffit {s}"), s, (5, -1.5, -3.2), (0, 0.3, 0.95)),
            screw(f"toe {s} 2", (f"leg {s} 2", f"soffit {s}"), s, (35, -1.5, -3.2), (0, 0.3, 0.95)),
            screw(f"block {s}", (f"leg {s} 2", f"leg {NEXT[s]} 1"), s, (41.5, -0.75, -5), (-1, 0, 0)),
        )
    legs = tuple(f"leg {s} {k}" for s in SIDES for k in (1, 2))
    b.add(screw("strap", (*legs, STONE), "AB", (20, -1.6, -5), (0, 1, 0)))
    b.concrete.append(box("AB", -4, 44, -4, 44, -0.25, 4))
    b.stone.append(box("AB", 0, 40, 0, 40, -60, -0.25))
    return b


def inside(side, name, joins, at=20.0):
    """A screw driven from inside the form: its head ends up in the concrete."""
    return screw(name, joins, side, (at, -4, 0.5), (0, -1, 0))


def hidden_corners(b, *sides):
    for s in sides:
        b.drop(f"corner {s}")
        b.add(screw(f"corner {s}", (f"wall {s}", f"wall {NEXT[s]}"), s, (43.9, -3.9, 0.5), (1, -0.2, 0)))


def battens(b, *sides):
    """A strip nailed inside each wall, cast in all round: the wall can only come straight out."""
    b.concrete.pop()
    for s in sides:
        b.parts[f"wall {s}"].append(box(s, 0, 40, -4, -3.5, 0.5, 1.5))
    for s in SIDES:  # the skin of concrete at the strips' level, whole where a side has none
        skin = [(-4, 0), (40, 43.5)] if s in sides else [(-4, 43.5)]
        b.concrete += [box(s, x0, x1, -4, -3.5, 0.5, 1.5) for x0, x1 in skin]
    b.concrete += [
        box("AB", -4, 44, -4, 44, -0.25, 0.5),
        box("AB", -3.5, 43.5, -3.5, 43.5, 0.5, 1.5),
        box("AB", -4, 44, -4, 44, 1.5, 4),
    ]


# --- forms that come off ---------------------------------------------------------------------------------------------------


def plain():
    return standard()


def two_by_six_edge():
    return standard(5.5)


def no_drip():
    return standard(drip=False)


def one_corner_screwed_from_inside():
    """The two walls lift off as one."""
    b = standard()
    hidden_corners(b, "AB")
    return b


def every_corner_screwed_from_inside():
    """The four walls lift off as a ring."""
    b = standard()
    hidden_corners(b, *SIDES)
    return b


def walls_screwed_to_the_soffit_from_above():
    """Wall and soffit board come out together, the quarter-round stays in its groove and drops after."""
    b = standard()
    b.drop("wall")
    b.add(*(screw(f"wall {s} up", (f"wall {s}", f"soffit {s}"), s, (20, -3.9, -0.9), (0, -0.5, -0.5)) for s in SIDES))
    return b


def quarter_round_nailed_from_above():
    """Board and moulding are one, and each moulding's end lies over the next board: the four drop together."""
    b = standard()
    b.drop("round")
    b.add(*(screw(f"round {s}", (f"round {s}", f"soffit {s}"), s, (20, -1.875, -0.3), (0, 0, -1)) for s in SIDES))
    return b


def soffit_screwed_to_blocks_from_above():
    """Boards and blocks come down together once the strap is off."""
    b = standard()
    b.drop("toe")
    b.add(
        *(
            screw(f"toe {s} {k}", (f"leg {s} {k}", f"soffit {s}"), s, (x, -0.75, -1), (0, 0, -1))
            for s in SIDES
            for k, x in ((1, 5), (2, 35))
        )
    )
    return b


def anchor_in_the_stone_that_can_be_reached():
    b = standard()
    b.add(screw("anchor", ("leg AB 1", STONE), "AB", (5, -1.5, -6), (0, 1, 0)))
    return b


def anchor_behind_a_cleat_that_comes_off_first():
    b = anchor_in_the_stone_that_can_be_reached()
    b.parts["cleat"] = [box("AB", 2, 8, -3, -1.5, -7, -5)]
    b.add(screw("cleat", ("cleat", "leg AB 1"), "AB", (3, -3, -6), (0, 1, 0)))
    return b


def walls_with_battens():
    b = standard()
    battens(b, *SIDES)
    return b


def one_batten_and_its_corner_from_inside():
    """AB with its batten goes straight out and takes BC along."""
    b = standard()
    battens(b, "AB")
    hidden_corners(b, "AB")
    return b


def cleats_outside():
    b = standard()
    for s in SIDES:
        b.parts[f"cleat {s}"] = [box(s, 15, 25, -7, -5.5, -1, 0.5)]
        b.add(screw(f"cleat {s}", (f"cleat {s}", f"wall {s}"), s, (20, -7, 0), (0, 1, 0)))
    return b


def cleats_screwed_from_inside():
    """The head is in the concrete, so wall and cleat come away together."""
    b = standard()
    for s in SIDES:
        b.parts[f"cleat {s}"] = [box(s, 15, 25, -7, -5.5, -1, 0.5)]
        b.add(inside(s, f"cleat {s}", (f"cleat {s}", f"wall {s}")))
    return b


def everything_hidden_but_the_strap():
    """The whole ring, walls and soffit, drops down the stack once the blocks are gone."""
    b = standard()
    hidden_corners(b, *SIDES)
    b.drop("wall", "round", "toe")
    for s in SIDES:
        b.add(
            screw(f"wall {s} up", (f"wall {s}", f"soffit {s}"), s, (20, -3.9, -0.9), (0, -0.5, -0.5)),
            screw(f"round {s}", (f"round {s}", f"soffit {s}"), s, (20, -1.875, -0.3), (0, 0, -1)),
            screw(f"lap {s}", (f"soffit {s}", f"soffit {NEXT[s]}"), s, (40.2, -3, -1), (0.5, 0, -0.5)),
        )
    return b


def lid_screwed_from_above():
    b = standard()
    b.parts["lid"] = [box("AB", -5.5, 44, -5.5, 2, 2.5, 4)]
    b.concrete[-1] = box("AB", -4, 44, -4, 44, -0.25, 2.5)
    b.add(screw("lid", ("lid", "wall AB"), "AB", (20, -4.75, 4), (0, 0, -1)))
    return b


def lid_screwed_from_below():
    """Head in the concrete: lid and wall lift together."""
    b = lid_screwed_from_above()
    b.drop("lid")
    b.add(screw("lid", ("lid", "wall AB"), "AB", (20, -3.9, 2.4), (0, -0.5, 0.5)))
    return b


def box_out_round_a_flue():
    """A wooden sleeve in the concrete, straight sided, its boards screwed from the concrete side; it lifts out in one."""
    b = standard()
    hole = (12, 28)
    b.concrete[-1:] = [
        box("AB", -4, 44, -4, 12, -0.25, 4),
        box("AB", -4, 44, 28, 44, -0.25, 4),
        box("AB", -4, 12, 12, 28, -0.25, 4),
        box("AB", 28, 44, 12, 28, -0.25, 4),
    ]
    for s in SIDES:
        b.parts[f"sleeve {s}"] = [box(s, *hole, 12, 13, -0.25, 5)] if s in ("AB", "CD") else [box(s, 13, 27, 12, 13, -0.25, 5)]
    b.add(*(screw(f"sleeve {s}", (f"sleeve {s}", f"sleeve {NEXT[s]}"), s, (27.5, 12, 2), (0, 1, 0)) for s in SIDES))
    return b


def three_sided_chimney():
    """Three walls round a triangle, screwed from outside."""
    b = Bench()
    corners = np.array([(0.0, 0.0), (50.0, 0.0), (25.0, 43.3)])
    middle = corners.mean(axis=0)
    for k in range(3):
        p, q = corners[k], corners[(k + 1) % 3]
        along = (q - p) / np.hypot(*(q - p))
        out = np.array((along[1], -along[0]))
        ring = (p, q, q + 1.5 * out, p + 1.5 * out)
        b.parts[f"wall {k}"] = [Prism(tuple((float(x) * INCH, float(y) * INCH) for x, y in ring), 0.0, 3.5 * INCH)]
        head = (p + q) / 2 + 1.5 * out
        b.add(Fastener(f"stake {k}", (f"wall {k}", STONE), (*(head * INCH), 0.04), (-out[0], -out[1], 0.0)))
    assert np.all(middle > 0)
    b.concrete.append(Prism(tuple((float(x) * INCH, float(y) * INCH) for x, y in corners), 0.0, 4 * INCH))
    return b


def out_of_square_walls():
    """Walls at 85 and 95 degrees, each square off its own face, screws from outside."""
    b = Bench()
    corners = [(0.0, 0.0), (48.0, 0.0), (52.0, 45.0), (4.0, 46.0)]
    b.concrete.append(Prism(tuple((x * INCH, y * INCH) for x, y in corners), 0.0, 4 * INCH))
    for k in range(4):
        p, q = np.array(corners[k]), np.array(corners[(k + 1) % 4])
        out = np.array(((q - p)[1], -(q - p)[0])) / np.hypot(*(q - p))
        ring = (p, q, q + 1.5 * out, p + 1.5 * out)
        b.parts[f"wall {k}"] = [Prism(tuple((float(x) * INCH, float(y) * INCH) for x, y in ring), 0.0, 3.5 * INCH)]
        b.add(Fastener(f"brace {k}", (f"wall {k}", STONE), (*(((p + q) / 2 + 1.5 * out) * INCH), 0.04), (-out[0], -out[1], 0.0)))
    return b


def lump_below_but_boards_come_out_sideways():
    b = standard()
    b.stone.append(box("AB", 10, 30, -2, 0, -30, -12))
    return b


COME_OFF = [
    plain,
    two_by_six_edge,
    no_drip,
    one_corner_screwed_from_inside,
    every_corner_screwed_from_inside,
    walls_screwed_to_the_soffit_from_above,
    quarter_round_nailed_from_above,
    soffit_screwed_to_blocks_from_above,
    anchor_in_the_stone_that_can_be_reached,
    anchor_behind_a_cleat_that_comes_off_first,
    walls_with_battens,
    one_batten_and_its_corner_from_inside,
    cleats_outside,
    cleats_screwed_from_inside,
    everything_hidden_but_the_strap,
    lid_screwed_from_above,
    lid_screwed_from_below,
    box_out_round_a_flue,
    three_sided_chimney,
    out_of_square_walls,
    lump_below_but_boards_come_out_sideways,
]

# --- forms that do not, and the fasteners to move ----------------------------------------------------------------------------


def soffit_anchored_from_above():
    b = standard()
    b.add(screw("anchor", ("soffit AB", STONE), "AB", (20, -1, -1), (0, 0.5, -0.5)))
    return b, {"anchor"}


def two_anchors_from_above():
    b, _ = soffit_anchored_from_above()
    b.add(screw("anchor 2", ("soffit CD", STONE), "CD", (20, -1, -1), (0, 0.5, -0.5)))
    return b, {"anchor", "anchor 2"}


def wall_anchored_from_inside():
    b = standard()
    b.add(inside("BC", "anchor", ("wall BC", STONE)))
    return b, {"anchor"}


def battens_all_round_and_one_corner_from_inside():
    """AB must go to -y, BC to +x, and the screw that ties them cannot be reached."""
    b = standard()
    battens(b, *SIDES)
    hidden_corners(b, "AB")
    return b, {"corner AB"}


def battens_all_round_and_opposite_corners_from_inside():
    b = standard()
    battens(b, *SIDES)
    hidden_corners(b, "AB", "CD")
    return b, {"corner AB", "corner CD"}


def battens_all_round_and_every_corner_from_inside():
    b = standard()
    battens(b, *SIDES)
    hidden_corners(b, *SIDES)
    return b, {f"corner {s}" for s in SIDES}


def ratchet_against_the_stone():
    b = standard()
    b.drop("strap")
    legs = tuple(f"leg {s} {k}" for s in SIDES for k in (1, 2))
    b.add(screw("strap", (*legs, STONE), "AB", (20, -0.1, -5), (0, -1, 0)))
    return b, {"strap"}


def quarter_round_over_a_ledge():
    """Stone under the soffit board: its screws up into the quarter-round cannot be reached, and the board cannot drop."""
    b = standard()
    b.parts.pop("leg AB 1")
    b.parts.pop("leg AB 2")
    b.drop("toe AB", "block AB", "block DA", "strap")
    legs = tuple(name for name in b.parts if name.startswith("leg"))
    b.add(screw("strap", (*legs, STONE), "CD", (20, -1.6, -5), (0, 1, 0)))
    b.parts["round AB"] = [box("AB", -2.25, 41.5, -2.25, -1.5, -1, -0.25)]
    b.stone += [box("AB", 2, 8, -5, 0, -8, -2.6), box("AB", 32, 38, -5, 0, -8, -2.6)]
    return b, {"round AB 5", "round AB 35"}


def ring_over_a_lump():
    """Everything hidden, and a lump of stone under side AB further out than the wall.

    AB must come out sideways, so it must come away from its neighbors; the rest may still drop in one piece.
    """
    b = everything_hidden_but_the_strap()
    b.drop("round")
    for s in SIDES:
        b.add(screw(f"round {s}", (f"round {s}", f"soffit {s}"), s, (20, -1.875, -2.5), (0, 0, 1)))
    b.stone.append(box("AB", 10, 30, -7, 0, -30, -12))
    return b, 4  # one side, or two corners opposite: corner and lap at two places, and which two is a free choice


def block_hides_the_anchor_of_the_board():
    """Board tied to block and block to stone, both from above: freeing the block is enough, freeing the board is not."""
    b = soffit_screwed_to_blocks_from_above()
    b.add(screw("anchor", ("leg AB 1", STONE), "AB", (5, -1, -1), (0, 0.5, -0.5)))
    return b, {"anchor"}


def lid_tied_to_a_wall_with_a_batten():
    """The lid is keyed into the wash and must go up, the wall is keyed sideways and must go out."""
    b = standard()
    battens(b, "AB")
    b.concrete[-1:] = [
        box("AB", -4, 44, -4, 44, 1.5, 2.0),
        box("AB", -4, 44, -4, 0, 2.0, 2.5),
        box("AB", -4, 44, 1, 44, 2.0, 2.5),
        box("AB", -4, 0, 0, 1, 2.0, 2.5),
        box("AB", 40, 44, 0, 1, 2.0, 2.5),
    ]
    b.parts["lid"] = [box("AB", -5.5, 44, -5.5, 2, 2.5, 4), box("AB", 0, 40, 0, 1, 2, 2.5)]
    b.add(screw("lid", ("lid", "wall AB"), "AB", (20, -3.9, 2.4), (0, -0.5, 0.5)))
    return b, {"lid"}


STAY_ON = [
    soffit_anchored_from_above,
    two_anchors_from_above,
    wall_anchored_from_inside,
    battens_all_round_and_one_corner_from_inside,
    battens_all_round_and_opposite_corners_from_inside,
    battens_all_round_and_every_corner_from_inside,
    ratchet_against_the_stone,
    quarter_round_over_a_ledge,
    ring_over_a_lump,
    block_hides_the_anchor_of_the_board,
    lid_tied_to_a_wall_with_a_batten,
]

# --- forms that no moving of screws helps --------------------------------------------------------------------------------------


def dovetail_batten():
    """A strip wider inside than at the face, with concrete at its ends: cast in for good."""
    b = standard()
    b.parts["wall AB"] += [box("AB", 0, 40, -4, -3.5, 0.5, 1.0), box("AB", 0, 40, -3.5, -3.0, 0.2, 1.3)]
    b.concrete[-1:] = [
        box("AB", -4, 44, -4, 44, -0.25, 0.2),
        box("AB", -4, 44, -3.0, 44, 0.2, 1.3),
        box("AB", 0, 40, -4, -3.5, 0.2, 0.5),
        box("AB", 0, 40, -4, -3.5, 1.0, 1.3),
        box("AB", -4, 0, -4, -3.0, 0.2, 1.3),
        box("AB", 40, 44, -4, -3.0, 0.2, 1.3),
        box("AB", -4, 44, -4, 44, 1.3, 4),
    ]
    return b, {"wall AB"}


def sleeve_with_a_foot():
    """A box-out with a lip at its foot under the concrete: it cannot lift, and stone is below."""
    b = standard()
    b.concrete[-1:] = [
        box("AB", -4, 44, -4, 12, 0.5, 4),
        box("AB", -4, 44, 28, 44, 0.5, 4),
        box("AB", -4, 12, 12, 28, 0.5, 4),
        box("AB", 28, 44, 12, 28, 0.5, 4),
        box("AB", -4, 44, -4, 11, -0.25, 0.5),
        box("AB", -4, 44, 29, 44, -0.25, 0.5),
        box("AB", -4, 11, 11, 29, -0.25, 0.5),
        box("AB", 29, 44, 11, 29, -0.25, 0.5),
    ]
    b.parts["sleeve"] = [box("AB", 12, 28, 12, 28, 0.5, 5), box("AB", 11, 29, 11, 29, -0.25, 0.5)]
    return b, {"sleeve"}


def board_in_a_closed_chase():
    """A soffit board let into stone above and below, its ends closed too."""
    b = Bench()
    b.parts["board"] = [box("AB", 0, 40, 0, 5, 0, 1.5)]
    b.stone += [
        box("AB", -5, 45, 0, 8, -5, 0),
        box("AB", -5, 45, 5, 8, 0, 5),
        box("AB", -5, 0, -2, 8, 0, 5),
        box("AB", 40, 45, -2, 8, 0, 5),
    ]
    b.concrete += [box("AB", -5, 45, -5, 0, -1, 3), box("AB", -5, 45, -5, 5, 1.5, 5)]
    return b, {"board"}


LOCKED = [dovetail_batten, sleeve_with_a_foot, board_in_a_closed_chase]


@cache
def searched(make):
    return make()[0].run()


def test_there_are_enough_forms():
    assert len(COME_OFF) + len(STAY_ON) + len(LOCKED) >= 30


@pytest.mark.parametrize("make", COME_OFF)
def test_comes_off(make):
    bench = make()
    order = bench.run()
    assert order.left == ()
    assert order.undrivable == ()
    assert order.comes_off
    assert sorted(name for step in order.steps for name in step.parts) == sorted(bench.parts)
    assert len(set(order.grease)) == len(order.grease), "a fastener is drawn once"


@pytest.mark.parametrize("make", STAY_ON)
def test_stays_on_and_names_the_fasteners_to_move(make):
    _, blocking = make()
    order = searched(make)
    assert not order.comes_off
    assert len(order.move) == blocking if isinstance(blocking, int) else set(order.move) == blocking
    assert order.fewest
    assert order.locked == ()


@pytest.mark.parametrize("make", STAY_ON)
def test_moving_the_named_fasteners_outside_is_a_cure_and_leaving_one_is_not(make):
    """Proof by doing it: take the named ones away (as if drawn from where they can be reached), whole and one short."""
    bench, _ = make()
    screws, blocking = dict(bench.screws), set(searched(make).move)
    bench.screws = {name: one for name, one in screws.items() if name not in blocking}
    assert bench.run().left == ()
    for kept in blocking:
        bench.screws = {name: one for name, one in screws.items() if name not in blocking - {kept}}
        assert bench.run().left != ()


@pytest.mark.parametrize("make", LOCKED)
def test_locked_by_concrete_or_stone(make):
    bench, locked = make()
    order = bench.run()
    assert locked <= set(order.locked)
    assert not order.comes_off


def test_a_screw_that_cannot_be_driven_is_named():
    b = standard()
    b.add(screw("buried", ("wall AB", "wall BC"), "AB", (44.5, -4.75, 1), (-1, 0, 0), room=6))
    assert "buried" in b.run().undrivable


def test_whole_groups_come_off_where_a_reader_would_expect_them():
    ring = every_corner_screwed_from_inside().run()
    assert any({f"wall {s}" for s in SIDES} <= set(step.parts) for step in ring.steps)
    nailed = quarter_round_nailed_from_above().run()
    step = next(step for step in nailed.steps if "round AB" in step.parts)
    assert set(step.parts) == {f"{what} {s}" for what in ("round", "soffit") for s in SIDES}
    assert [leg.way for leg in step.move] == [DOWN]


def test_a_moulding_over_a_lump_drops_out_of_its_groove_and_then_goes_sideways():
    order = lump_below_but_boards_come_out_sideways().run()
    step = next(step for step in order.steps if step.parts == ("round AB",))
    assert step.move[0].way == DOWN
    assert step.move[0].far == pytest.approx(0.75 * INCH)
    assert step.move[1].way[2] == 0


def test_the_strap_goes_before_the_blocks_and_assembly_is_the_same_backwards():
    order = plain().run()
    first = next(k for k, step in enumerate(order.steps) if any(name.startswith("leg") for name in step.parts))
    assert "strap" in order.steps[first].draw
    assert order.assembly == tuple(reversed(order.steps))


def test_every_step_is_free_by_small_shoves():
    """Independently: shove the group a quarter inch at a time and look for overlap with what is still there (boxes only)."""
    for make in (plain, walls_with_battens, everything_hidden_but_the_strap, lump_below_but_boards_come_out_sideways):
        bench = make()
        model = bench.model()
        there = {part.name: part for part in model.parts}
        for step in bench.run().steps:
            mine = _extents([prism for name in step.parts for prism in there.pop(name).prisms])
            rest = [prism for part in there.values() for prism in part.prisms]
            fixed = _extents([*rest, *model.concrete, *model.stone])
            assert not any(_overlap(mine + np.concatenate((at, at)), fixed) for at in _places(step.move))


def _places(move):
    at = np.zeros(3)
    for leg in move:
        for shove in np.arange(0.0, min(leg.far, 20 * INCH), 0.25 * INCH):
            yield at + shove * np.array(leg.way)
        at = at + leg.far * np.array(leg.way)


def _extents(prisms):
    return np.array([(*p.box[:2], p.bottom, *p.box[2:], p.top) for p in prisms])


def _overlap(mine, fixed):
    low = np.maximum(mine[:, None, :3], fixed[None, :, :3])
    high = np.minimum(mine[:, None, 3:], fixed[None, :, 3:])
    return bool(np.any(np.all(high - low > 0.0011, axis=2)))


def test_names_must_be_known_and_used_once():
    b = standard()
    twice = replace(b.model(), parts=(*b.model().parts, b.model().parts[0]))
    with pytest.raises(ValueError, match="part named twice: wall AB"):
        strip_order(twice)
    b.add(screw("stray", ("wall AB", "lintel"), "AB", (0, 0, 0), (0, 0, 1)))
    with pytest.raises(ValueError, match="joins unknown part 'lintel'"):
        b.run()


# --- against brute force: every subset of parts, every move, cell by cell ---

WAYS = ((1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0), UP, DOWN)
CELLS = 4


@st.composite
def small_forms(draw):
    """Up to four parts of one or two cells, some concrete, and up to four screws between them or to stone, in a small grid."""
    cells = [(x, y, z) for x in range(CELLS) for y in range(CELLS) for z in range(CELLS)]
    free = draw(st.permutations(cells))
    parts, taken = [], 0
    for k in range(draw(st.integers(1, 4))):
        count = draw(st.integers(1, 2))
        parts.append((f"p{k}", tuple(free[taken : taken + count])))
        taken += count
    concrete = tuple(free[taken : taken + draw(st.integers(0, 20))])
    screws = []
    for k in range(draw(st.integers(0, 4))):
        joins = draw(st.lists(st.sampled_from([*(name for name, _ in parts), STONE]), min_size=2, max_size=2, unique=True))
        screws.append((f"s{k}", tuple(joins), draw(st.sampled_from(cells)), draw(st.sampled_from(WAYS))))
    return parts, concrete, tuple(screws)


def _cube(cell):
    x, y, z = cell
    return Prism(((x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1)), float(z), float(z + 1))


def _brute(parts, concrete, screws):
    """Which parts can never come off, by trying every set of parts in every move, cell by cell through the grid."""
    there = dict(parts)
    while True:
        names = sorted(there)
        groups = [group for size in range(1, len(names) + 1) for group in itertools.combinations(names, size)]
        loose = (group for group in groups if not _tied(group, there, concrete, screws) and _free(group, there, concrete))
        gone = next(loose, None)
        if gone is None:
            return set(there)
        screws = tuple(s for s in screws if not (set(s[1]) & set(gone) and not set(s[1]) <= set(gone)))
        there = {name: cells for name, cells in there.items() if name not in gone}


def _free(group, there, concrete):
    """Straight off any way, or first as far as one of its parts is long and then off square to that."""
    moves = [((way, 9),) for way in WAYS]
    for name in group:
        for way in WAYS:
            ends = [int(np.dot(cell, way)) for cell in there[name]]
            moves += [((way, max(ends) - min(ends) + 1), (then, 9)) for then in WAYS if not np.dot(way, then)]
    return any(_cells_free(group, there, concrete, move) for move in moves)


def _cells_free(group, there, concrete, move):
    fixed = set(concrete) | {cell for name, cells in there.items() if name not in group for cell in cells}
    mine = [tuple(map(int, cell)) for name in group for cell in there[name]]
    for way, far in move:
        for _ in range(far):
            mine = [tuple(int(c + w) for c, w in zip(cell, way, strict=True)) for cell in mine]
            if fixed & set(mine):
                return False
    return True


def _tied(group, there, concrete, screws):
    for _, joins, cell, way in screws:
        rest = (set(there) | {STONE}) - set(group)
        crossing = set(joins) & set(group) and set(joins) & rest
        solid = set(concrete) | {c for cells in there.values() for c in cells}
        behind = tuple(int(c - w) for c, w in zip(cell, way, strict=True))
        if crossing and (cell in solid or behind in solid):
            return True
    return False


@settings(max_examples=80, deadline=None)
@given(small_forms())
def test_agrees_with_brute_force_on_small_forms(form):
    """A head sits in the middle of its cell and needs that cell and the one behind it free."""
    parts, concrete, screws = form
    model = FormModel(
        tuple(Part(name, tuple(_cube(cell) for cell in cells), WAYS) for name, cells in parts),
        tuple(Fastener(name, joins, tuple(c + 0.5 for c in cell), way, 1.0) for name, joins, cell, way in screws),
        tuple(_cube(cell) for cell in concrete),
    )
    assert set(strip_order(model).left) == _brute(parts, concrete, screws)
