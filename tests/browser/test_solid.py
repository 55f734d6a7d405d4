"""The cut through the solid: its faces are closed, as large as slices made by other code, and hatched as on a section."""

from __future__ import annotations

import io
from typing import Any

import manifold3d
import numpy as np
import pytest
import trimesh
from playwright.sync_api import expect
from tests.browser.conftest import DESK, Opener, Served

AREAS = """async ([address, levels]) => {
  const stem = document.querySelector('script[src*="js/solid.js"]').src.replace('solid.js', '');
  const [{ readGlb }, { cutThrough, areaOf }] = await Promise.all([import(stem + 'glb.js'), import(stem + 'section.js')]);
  const groups = readGlb(await (await fetch(address)).arrayBuffer());
  const bodies = groups.flatMap((group) => group.bodies);
  return levels.map((z) => bodies.map(({ points, triangles }) => areaOf(cutThrough(points, triangles, z))));
}"""
LOOK = """() => {
  const canvas = document.querySelector('#solid canvas');
  const gl = canvas.getContext('webgl2');
  const part = [0.45, 0.36, 0.1, 0.08].map((share, k) => share * (k % 2 ? canvas.height : canvas.width));
  const [x, y, wide, high] = part.map(Math.round);
  const dots = new Uint8Array(wide * high * 4);
  gl.readPixels(x, y, wide, high, gl.RGBA, gl.UNSIGNED_BYTE, dots);
  let [light, dark] = [0, 0];
  for (let k = 0; k < dots.length; k += 4) {
    const [r, g, b] = dots.slice(k, k + 3);
    light += Math.min(r, g, b) > 190;
    dark += Math.max(r, g, b) < 150;
  }
  return [light / (wide * high), dark / (wide * high)];
}"""
"""The shares of paper and of ink just under the middle of the picture, where the chimney is."""


def test_a_cut_face_is_as_large_as_a_slice_made_by_other_code(app: Served, opened: Opener) -> None:
    address = f"/job/{app.there.job}/solid.glb"
    with opened(app.home, size=DESK) as page:
        page.goto(f"/job/{app.there.job}/3d")
        data = page.request.get(address).body()
        scene = trimesh.load(io.BytesIO(data), file_type="glb", process=True)
        meshes = [scene.geometry[name] for name in scene.geometry]
        low, high = (pick([mesh.bounds[k, 2] for mesh in meshes]) for pick, k in ((min, 0), (max, 1)))
        levels = [float(low + share * (high - low)) for share in (0.13, 0.37, 0.521, 0.83)]
        ours = page.evaluate(AREAS, [address, levels])
    for z, areas in zip(levels, ours, strict=True):
        theirs = [_slice(mesh, z) for mesh in meshes]
        assert sum(area > 1e-4 for area in theirs) >= 3, "the cut meets cap, stone and form"
        # The slicer draws corners together that lie close, in single precision: up to 2 in 1000 of the lumpy stone's face.
        assert sorted(areas) == pytest.approx(sorted(theirs), abs=1e-4, rel=3e-3)


def _slice(mesh: Any, z: float) -> float:
    body = manifold3d.Manifold(manifold3d.Mesh(mesh.vertices.astype(np.float32), mesh.faces.astype(np.uint32)))
    assert body.status() == manifold3d.Error.NoError
    return float(body.slice(z).area())


def test_where_it_is_cut_it_is_closed_and_hatched(app: Served, opened: Opener) -> None:
    with opened(app.home, size=DESK) as page:
        page.goto(f"/job/{app.there.job}/3d")
        expect(page.locator("#solid canvas")).to_be_visible()
        page.get_by_role("button", name="Level").click()
        page.locator("#cut").fill("48")
        there = f"() => {{ const [paper, ink] = ({LOOK})(); return paper > 0.4 && ink > 0.03 && ink < 0.5; }}"
        page.wait_for_function(there, polling=500)
        page.locator("#cut").fill("0")  # uncut, there is a face of stone there, toned all over
        page.wait_for_function(f"() => ({LOOK})()[0] < 0.05", polling=500)
