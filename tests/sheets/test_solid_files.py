"""GLB and STL: an independent reader finds the same named, watertight bodies of the same volume."""

import io
import json
import struct
from math import pi

import numpy as np
import pytest
import trimesh

from crownwright.form.model import EndCut, Piece
from crownwright.geometry.solid import prism
from crownwright.sheets.solid.bodies import piece_solid
from crownwright.sheets.solid.body import Body, together
from crownwright.sheets.solid.glb import glb
from crownwright.sheets.solid.stl import stl

SQUARE = np.array([[0.0, 0.0], [1.2, 0.0], [1.2, 1.1], [0.0, 1.1]])
BOX = prism("cap", SQUARE, -0.1, 0.3)
LOW = prism("stone", SQUARE, -1.1, -0.1)


def test_glb_read_back_has_the_bodies_by_name_y_up_and_in_metres():
    scene = trimesh.load(io.BytesIO(glb((Body(BOX, "cap"), Body(LOW, "stone", (0.5, 0.5, 0.4, 0.5))), "Demo")), file_type="glb")
    assert set(scene.geometry) == {"cap", "stone"}
    for solid in (BOX, LOW):
        mesh = scene.geometry[solid.name]
        assert mesh.is_watertight
        assert mesh.is_winding_consistent
        assert mesh.volume == pytest.approx(solid.volume, rel=1e-6)  # float32 in the file
        assert mesh.bounds[:, 1] == pytest.approx([solid.points[:, 2].min(), solid.points[:, 2].max()], abs=1e-6)


def test_glb_is_laid_out_as_the_format_asks_with_a_node_for_each_group():
    data = glb((Body(BOX, "cap"), Body(LOW, "form"), Body(BOX, "form")))
    magic, version, length = struct.unpack("<4sII", data[:12])
    assert (magic, version, length) == (b"glTF", 2, len(data))
    size, kind = struct.unpack("<I4s", data[12:20])
    assert kind == b"JSON"
    assert size % 4 == 0
    tree = json.loads(data[20 : 20 + size])
    assert [tree["nodes"][i] for i in tree["scenes"][0]["nodes"]] == [
        {"name": "cap", "children": [0]},
        {"name": "form", "children": [1, 2]},
    ]
    assert tree["accessors"][0]["min"] == pytest.approx([0.0, -0.1, -1.1])
    assert all(view["byteOffset"] % 4 == 0 for view in tree["bufferViews"])


def test_an_empty_glb_is_still_a_glb():
    assert len(trimesh.load(io.BytesIO(glb(())), file_type="glb").geometry) == 0


@pytest.mark.parametrize(("unit", "size"), [("mm", 1000.0), ("m", 1.0), ("in", 1 / 0.0254)])
def test_stl_read_back_encloses_the_same_volume(unit, size):
    both = together("cap and stone", [BOX, prism("apart", SQUARE + 5.0, 0.0, 1.0)])
    mesh = trimesh.load(io.BytesIO(stl(both, unit)), file_type="stl")
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx(both.volume * size**3, rel=1e-6)
    assert b"unit " + unit.encode() in stl(both, unit)[:80]


@pytest.mark.parametrize("start", range(4))
def test_a_mitred_quarter_round_is_closed_and_as_large_as_pappus_says(start):
    r, long = 0.019, 1.0  # outer edge long, inner edge shorter by r at each end
    ring = np.roll(np.array([[0.0, 0.0], [long, 0.0], [long - r, r], [r, r]]), start, axis=0)
    mitre = EndCut("mitre", pi / 4)
    piece = Piece("Q1", "quarter-round", "AB", "quarter-round 3/4", long, long - 2 * r, mitre, mitre, ring, 0.1, 0.1 + r)
    solid = piece_solid(piece, np.array([0.5, 1.0]))
    # area of a quarter disc times the length at its centre of gravity, 4 r / 3 pi from the flat side on the outer edge
    exact = pi * r**2 / 4 * (long - 2 * 4 * r / (3 * pi))
    assert solid.closed
    assert solid.volume == pytest.approx(exact, rel=0.004)  # the curve is a polygon of twelve sides
    assert trimesh.Trimesh(solid.points, solid.triangles, process=False).is_watertight
