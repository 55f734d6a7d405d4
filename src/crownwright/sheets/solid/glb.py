"""Binary glTF 2.0: one node and mesh a body, metres, Y up as the format asks, the colour as an unlit-looking plain material.

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
        points = np.ascontiguousarray(np.column_stack((body.points[:, 0], body.points[:, 2], -body.points[:, 1])), dtype="<f4")
        indices = np.ascontiguousarray(body.triangles, dtype="<u4")
        accessors.append(_accessor(len(views), _FLOAT, len(points), "VEC3", points))
        views.append(_view(data, points.tobytes(), _VERTICES))
        accessors.append(_accessor(len(views), _UINT, indices.size, "SCALAR", None))
        views.append(_view(data, indices.tobytes(), _INDICES))
    return _pack(_tree(bodies, accessors, views, len(data), title), bytes(data))


def _accessor(view: int, kind: int, count: int, shape: str, points: Any) -> dict[str, Any]:
    entry: dict[str, Any] = {"bufferView": view, "componentType": kind, "count": count, "type": shape}
    if points is not None:
        entry |= {"min": [float(v) for v in points.min(axis=0)], "max": [float(v) for v in points.max(axis=0)]}
    return entry


def _view(data: bytearray, piece: bytes, target: int) -> dict[str, Any]:
    start = len(data)
    data += piece  # both kinds of number are four bytes long, so every view starts on a multiple of four as it must
    return {"buffer": 0, "byteOffset": start, "byteLength": len(piece), "target": target}


def _tree(bodies: tuple[Body, ...], accessors: list[Any], views: list[Any], size: int, title: str) -> dict[str, Any]:
    names = range(len(bodies))
    tree: dict[str, Any] = {
        "asset": {"version": "2.0", "generator": "Crownwright", **({"extras": {"title": title}} if title else {})},
        "scene": 0,
        "scenes": [{"nodes": list(names)}],
        "nodes": [{"name": body.name, "mesh": i} for i, body in enumerate(bodies)],
        "meshes": [
            {"name": body.name, "primitives": [{"attributes": {"POSITION": 2 * i}, "indices": 2 * i + 1, "material": i}]}
            for i, body in enumerate(bodies)
        ],
        "materials": [_material(body) for body in bodies],
        "accessors": accessors,
        "bufferViews": views,
        "buffers": [{"byteLength": size}],
    }
    return tree if bodies else {"asset": tree["asset"]}


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
