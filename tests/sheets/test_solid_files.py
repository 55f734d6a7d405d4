"""GLB and STL: an independent reader finds the same named, watertight bodies of the same volume."""

import io
import json
import struct

import numpy as np
import pytest
import trimesh

from crownwright.sheets.solid.body import Body, watertight
from crownwright.sheets.solid.glb import glb
from crownwright.sheets.solid.stl import stl

CORNERS = np.array([[x, y, z] for x in (0.0, 1.2) for y in (0.0, 1.1) for z in (-0.1, 0.3)])
SIDES = "013 032 467 475 045 051 237 276 026 064 157 173"
BOX = np.array([[int(i) for i in side] for side in SIDES.split()])
BODY = Body("cap", CORNERS, BOX)


def test_a_box_is_watertight_and_its_volume_is_its_sides_multiplied():
    assert watertight(BODY)
    assert BODY.volume == pytest.approx(1.2 * 1.1 * 0.4, rel=1e-12)


def test_a_box_with_a_face_left_out_or_turned_is_not_watertight():
    assert not watertight(Body("open", CORNERS, BOX[1:]))
    turned = BOX.copy()
    turned[0] = turned[0][::-1]
    assert not watertight(Body("turned", CORNERS, turned))


def test_glb_read_back_has_the_bodies_by_name_y_up_and_in_metres():
    other = Body("stone", CORNERS - [0, 0, 1.0], BOX, (0.5, 0.5, 0.4, 0.5))
    scene = trimesh.load(io.BytesIO(glb((BODY, other), "Demo")), file_type="glb")
    assert set(scene.geometry) == {"cap", "stone"}
    for name, body in (("cap", BODY), ("stone", other)):
        mesh = scene.geometry[name]
        assert mesh.is_watertight
        assert mesh.is_winding_consistent
        assert mesh.volume == pytest.approx(body.volume, rel=1e-6)  # float32 in the file
        assert mesh.bounds[:, 1] == pytest.approx([body.points[:, 2].min(), body.points[:, 2].max()], abs=1e-6)


def test_glb_is_laid_out_as_the_format_asks():
    data = glb((BODY,))
    magic, version, length = struct.unpack("<4sII", data[:12])
    assert (magic, version, length) == (b"glTF", 2, len(data))
    size, kind = struct.unpack("<I4s", data[12:20])
    assert kind == b"JSON"
    assert size % 4 == 0
    tree = json.loads(data[20 : 20 + size])
    assert tree["nodes"][0]["name"] == "cap"
    assert tree["accessors"][0]["min"] == pytest.approx([0.0, -0.1, -1.1])
    assert glb((BODY,)) == data


def test_an_empty_glb_is_still_a_glb():
    scene = trimesh.load(io.BytesIO(glb(())), file_type="glb")
    assert len(scene.geometry) == 0


@pytest.mark.parametrize(("unit", "size"), [("mm", 1000.0), ("m", 1.0), ("in", 1 / 0.0254)])
def test_stl_read_back_encloses_the_same_volume(unit, size):
    mesh = trimesh.load(io.BytesIO(stl(BODY, unit)), file_type="stl")
    assert mesh.is_watertight
    assert mesh.volume == pytest.approx(BODY.volume * size**3, rel=1e-6)
    assert b"unit " + unit.encode() in stl(BODY, unit)[:80]
