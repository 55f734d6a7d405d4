"""Drawings for the screen: the same ink as on paper, as wide as the screen lets it be."""

from __future__ import annotations

import hashlib
import re
from dataclasses import dataclass
from functools import partial

from markupsafe import Markup

from crownwright.plan.model import Plan
from crownwright.quantity.kept import Kept
from crownwright.service.draw_a_plan import as_file, drawings_named

SIZE = re.compile(rb'width="[0-9.]+mm" height="[0-9.]+mm" ')


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing: its name, its title, what it shows in words, its scale on paper, and its SVG."""

    name: str
    title: str
    says: str
    scale: str
    svg: Markup


def pictures_of(kept: Kept, plan: Plan, text: str, *names: str) -> tuple[Picture, ...]:
    """The drawings of those names; ``text`` is what the plan follows from, so that each is drawn once."""
    mark = hashlib.sha256(text.encode()).digest()
    return tuple(picture for name in names for picture in kept.get((mark, "svg", name), partial(_drawn, plan, name)))


def _drawn(plan: Plan, name: str) -> tuple[Picture, ...]:
    return tuple(
        Picture(of.name, of.title, of.says, of.scale_says, on_screen(as_file(of, "svg", plan.job.units)))
        for of in drawings_named(plan, name)
    )


def on_screen(svg: bytes) -> Markup:
    """An SVG without its size on paper: the sheet's style says how wide it is. Its text was escaped where it was written."""
    return Markup(SIZE.sub(b"", svg, count=1).decode())
