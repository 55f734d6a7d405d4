"""Binary glTF 2.0: one node for each group and under it one for each body; metres, Y up as the format asks.

Normals are left out on purpose: the format then has viewers shade flat, and a body keeps one vertex a corner, so it stays
watertight.
"""

from __future__ import annotations

import json
import struct
from collections.abc import Iterable
from typing import Any

import numpy as np

from crownwright.sheets.solid.body import Body

_MAGIC, _JSON, _BINARY = 0x46546C67, 0x4E4F534A, 0x004E4942  # Khronos glTF 2.0 specification, section 4.4
_FLOAT, _UINT, _VERTICES, _INDICES = 5126, 5125, 34962, 34963


def glb(bodies: Iterable[Body], title: str = "") -> bytes:
    """Return bodies as a GLB file: z up becomes y up (x, z, -y). Identical bodies give identical bytes."""
    bodies = tuple(bodies)
    views: list[dict[str, Any]] = []
    accessors: list[dict[str, Any]] = []
    data = bytearray()
    for body in bodies:
        x, y, z = body.solid.points.T
        points = np.ascontiguousarray(np.column_stack((x, z, -y)), dtype="<f4")
        indices = np.ascontiguousarray(body.solid.triangles, dtype="<u4")
        bounds = {"min": points.min(axis=0).tolist(), "max": points.max(axis=0).tolist()}
        accessors.append({"bufferView": len(views), "componentType": _FLOAT, "count": len(points), "type": "VEC3", **bounds})
        views.append(_view(data, points.tobytes(), _VERTICES))
        accessors.append({"bufferView": len(views), "componentType": _UINT, "count": indices.size, "type": "SCALAR"})
        views.append(_view(data, indices.tobytes(), _INDICES))
    return _pack(_tree(bodies, accessors, views, len(data), title), bytes(data))


def _view(data: bytearray, piece: bytes, target: int) -> dict[str, Any]:
    start = len(data)
    data += piece  # both kinds of number are four bytes long, so every view starts on a multiple of four as it must
    return {"buffer": 0, "byteOffset": start, "byteLength": len(piece), "target": target}


def _tree(bodies: tuple[Body, ...], accessors: list[Any], views: list[Any], size: int, title: str) -> dict[str, Any]:
    asset = {"version": "2.0", "generator": "Crownwright", **({"extras": {"title": title}} if title else {})}
    if not bodies:
        return {"asset": asset}
    groups = list(dict.fromkeys(body.group for body in bodies))
    count = len(bodies)
    parents = [{"name": group, "children": [i for i, body in enumerate(bodies) if body.group == group]} for group in groups]
    return {
        "asset": asset,
        "scene": 0,
        "scenes": [{"nodes": list(range(count, count + len(groups)))}],
        "nodes": [*({"name": body.name, "mesh": i} for i, body in enumerate(bodies)), *parents],
        "meshes": [
            {"name": body.name, "primitives": [{"attributes": {"POSITION": 2 * i}, "indices": 2 * i + 1, "material": i}]}
            for i, body in enumerate(bodies)
        ],
        "materials": [_material(body) for body in bodies],
        "accessors": accessors,
        "bufferViews": views,
        "buffers": [{"byteLength": size}],
    }


def _material(body: Body) -> dict[str, Any]:
    look = {"baseColorFactor": list(body.colour), "metallicFactor": 0.0, "roughnessFactor": 0.95}
    return {"name": body.name, "pbrMetallicRoughness": look, **({"alphaMode": "BLEND"} if body.colour[3] < 1 else {})}


def _pack(tree: dict[str, Any], data: bytes) -> bytes:
    text = json.dumps(tree, separators=(",", ":"), ensure_ascii=False).encode()
    text += b" " * (-len(text) % 4)
    chunks = struct.pack("<II", len(text), _JSON) + text
    if data:
        chunks += struct.pack("<II", len(data), _BINARY) + data
    return struct.pack("<III", _MAGIC, 2, 12 + len(chunks)) + chunks
