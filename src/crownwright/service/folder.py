"""Put files into a folder: each is whole or not there."""

from __future__ import annotations

import os
from pathlib import Path

from crownwright.quantity.problems import Problem


def put(folder: Path, name: str, data: bytes) -> Path | Problem:
    """Write one file into a folder (``name`` may lie deeper in it), making what is missing. One of that name is replaced."""
    path = folder / name
    beside = path.with_name(f".{path.name}.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        beside.write_bytes(data)
        os.replace(beside, path)
    except OSError as error:
        return Problem(str(path), f"it cannot be written: {error.strerror or error}", "Name another folder with --into")
    return path
