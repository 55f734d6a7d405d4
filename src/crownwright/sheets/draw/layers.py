"""Layers of a drawing, named as the trade names what lies on them, with their line weights in mm on paper.

Weights step by about the root of two, so that a thick line is seen to be thicker at arm's length: 0.7 what is cut through, 0.5
what is looked at, 0.35 lesser edges, 0.25 what is hidden or slight, 0.18 dimensions and notes, 0.13 hatching.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer: ``name`` (also its class in SVG and its name in DXF), what lies on it, line weight in mm on paper, dash pattern
    (mm on, mm off, ...; empty is a full line), and its DXF colour index.
    """

    name: str
    holds: str
    weight: float
    dash: tuple[float, ...] = ()
    colour: int = 7


STONE = Layer("stone", "the face of the chimney's top, stone or brick", 0.5, colour=32)
STONE_CUT = Layer("stone-cut", "stone or brick that is cut through", 0.7, colour=32)
STONE_HIDDEN = Layer("stone-hidden", "stone or brick under something", 0.25, (2.0, 1.2), colour=32)
GUARD = Layer("guard", "the line outside which no stone is expected", 0.25, (0.6, 0.9), colour=30)
CAP = Layer("cap", "edges of the cap", 0.5, colour=5)
CAP_CUT = Layer("cap-cut", "concrete that is cut through", 0.7, colour=5)
WASH = Layer("wash", "ridges and valleys of the wash", 0.25, colour=5)
DRIP = Layer("drip", "the drip groove, hidden under the edge", 0.25, (1.5, 1.0), colour=4)
FLUE = Layer("flue", "clay flues", 0.5, colour=1)
FLUE_CUT = Layer("flue-cut", "clay that is cut through", 0.5, colour=1)
JOINT = Layer("joint", "the soft joint round a flue", 0.25, colour=6)
STEEL = Layer("steel", "joint reinforcement", 0.35, (4.0, 0.8), colour=140)
BOARD = Layer("board", "form boards", 0.35, colour=34)
BOARD_CUT = Layer("board-cut", "form boards that are cut through", 0.5, colour=34)
BOARD_HIDDEN = Layer("board-hidden", "form boards under something", 0.18, (1.6, 1.0), colour=34)
MOULDING = Layer("moulding", "quarter-round for the drip", 0.25, colour=34)
STRAP = Layer("strap", "ratchet straps", 0.7, (3.0, 0.8), colour=10)
STRING = Layer("string", "the level string and side strings", 0.25, (5.0, 1.0, 0.6, 1.0), colour=8)
READING = Layer("reading", "what the mason read", 0.25, colour=94)
WANTED = Layer("wanted", "what is still to be read", 0.5, (1.2, 0.9), colour=94)
DIMENSION = Layer("dimension", "dimensions", 0.18, colour=7)
NOTE = Layer("note", "notes, marks and leaders", 0.18, colour=7)
HATCH = Layer("hatch", "hatching", 0.13, colour=8)
ROOF = Layer("roof", "roof and house", 0.5, colour=8)
PERSON = Layer("person", "a person, for scale", 0.25, colour=8)

LAYERS = (
    STONE, STONE_CUT, STONE_HIDDEN, GUARD, CAP, CAP_CUT, WASH, DRIP, FLUE, FLUE_CUT, JOINT, STEEL, BOARD, BOARD_CUT, BOARD_HIDDEN,
    MOULDING, STRAP, STRING, READING, WANTED, DIMENSION, NOTE, HATCH, ROOF, PERSON,
)  # fmt: skip
"""Every layer, in the order they are listed in a DXF file."""
