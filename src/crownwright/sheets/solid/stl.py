"""Binary STL. The format has no unit: millimetres unless another is asked for, and the header says which."""

from __future__ import annotations

import struct
from typing import Literal

import numpy as np

from crownwright.geometry.solid import Solid
from crownwright.quantity.units import INCH

Unit = Literal["mm", "m", "in"]
METRES: dict[Unit, float] = {"mm": 0.001, "m": 1.0, "in": INCH}
_FACET = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


def stl(solid: Solid, unit: Unit = "mm") -> bytes:
    """Return one solid as binary STL, z up, in ``unit``."""
    points = (solid.points / METRES[unit]).astype("<f4")
    corners = points[solid.triangles]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    sizes = np.linalg.norm(normals, axis=1, keepdims=True)
    facets = np.zeros(len(corners), _FACET)
    facets["normal"] = np.divide(normals, sizes, out=np.zeros_like(normals), where=sizes > 0)
    facets["corners"] = corners
    header = f"Crownwright {solid.name}, unit {unit}".encode("ascii", "replace")[:80].ljust(80)
    return header + struct.pack("<I", len(facets)) + facets.tobytes()
