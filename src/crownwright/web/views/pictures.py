"""Drawings for the screen: the same ink as on paper, as wide as the screen lets it be."""

from __future__ import annotations

import re
from dataclasses import replace

from markupsafe import Markup

from crownwright.service.draw_a_plan import Picture

SIZE = re.compile(r'width="[0-9.]+mm" height="[0-9.]+mm" ')


def shown(pictures: tuple[Picture, ...]) -> tuple[Picture, ...]:
    """The same drawings, their ink as markup for a page."""
    return tuple(replace(of, svg=on_screen(of.svg)) for of in pictures)


def on_screen(svg: str) -> Markup:
    """An SVG without its size on paper: the sheet's style says how wide it is. Its text was escaped where it was written."""
    return Markup(SIZE.sub("", svg, count=1))
