"""Rules of WCAG 2.2, level A and AA, held against a page by axe-core, which comes with a package: nothing is fetched."""

from __future__ import annotations

from functools import cache
from importlib import resources
from typing import Any

from playwright.sync_api import Page

LEVELS = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")


@cache
def _source() -> str:
    return resources.files("axe_playwright_python").joinpath("axe.min.js").read_text("utf-8")


def violations(page: Page) -> list[str]:
    """What the page does against the rules, a line for each element: rule, element, what is wrong with it."""
    page.evaluate(_source())  # by the browser's own tools: the page's content policy would refuse a script put into it
    options: dict[str, Any] = {"runOnly": {"type": "tag", "values": list(LEVELS)}, "resultTypes": ["violations"]}
    found = page.evaluate("options => axe.run(document, options)", options)
    return [
        f"{rule['id']}: {node['html'][:160]} -- {' '.join(node['failureSummary'].split())[:300]}"
        for rule in found["violations"]
        for node in rule["nodes"]
    ]
