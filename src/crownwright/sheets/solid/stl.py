"""Binary STL. The format has no unit: millimetres unless another is asked for, and the header says which."""

from __future__ import annotations

import struct
from typing import Literal

import numpy as np

from crownwright.quantity.units import INCH
from crownwright.sheets.solid.body import Body

Unit = Literal["mm", "m", "in"]
METRES: dict[Unit, float] = {"mm": 0.001, "m": 1.0, "in": INCH}
_FACET = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


def stl(body: Body, unit: Unit = "mm") -> bytes:
    """Return one body as binary STL, z up, in ``unit``."""
    points = (body.points / METRES[unit]).astype("<f4")
    corners = points[body.triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    sizes = np.linalg.norm(normals, axis=1, keepdims=True)
    facets = np.zeros(len(corners), _FACET)
    facets["normal"] = np.divide(normals, sizes, out=np.zeros_like(normals), where=sizes > 0)
    facets["corners"] = corners
    header = f"Crownwright {body.name}, unit {unit}".encode("ascii", "replace")[:80].ljust(80)
    return header + struct.pack("<I", len(facets)) + facets.tobytes()
