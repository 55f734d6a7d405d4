"""Draw a plan: every drawing that its parts allow, as SVG and DXF, and its solids as GLB and STL."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from crownwright.plan.model import Plan

KINDS = ("svg", "dxf", "glb", "stl")
"""The kinds of file there are, here too so that naming them loads nothing."""


def drawn_files(plan: Plan, kinds: Collection[str] = KINDS) -> Iterator[tuple[str, bytes]]:
    """Paths and contents of the drawings and solids, one after another, so that a caller can show how far it is."""
    from crownwright.sheets.everything import drawing_files, solid_files

    yield from drawing_files(plan, kinds)
    yield from solid_files(plan, kinds)
