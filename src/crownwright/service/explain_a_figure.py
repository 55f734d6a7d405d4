"""Explain a figure of a plan: formula, inputs, source, where it holds, how sure it is."""

from __future__ import annotations

from difflib import get_close_matches

from crownwright.plan.days import DaysPlan
from crownwright.plan.model import Plan
from crownwright.quantity.display import System, show, show_figure
from crownwright.quantity.problems import Problem
from crownwright.quantity.working import Figure, Term
from crownwright.sources.bibliography import spell


def find_figures(plan: Plan | DaysPlan, key: str) -> tuple[Figure, ...] | Problem:
    """The figure of that key, or those whose keys begin with it ("cap."), or the problem that there is none."""
    found = tuple(f for f in plan.figures if f.key == key) or tuple(f for f in plan.figures if f.key.startswith(key))
    if found:
        return found
    near = get_close_matches(key, [f.key for f in plan.figures], n=4, cutoff=0.3)
    return Problem(
        "key",
        f"no figure here is called “{key}”",
        f"Near it: {', '.join(near)}" if near else "Leave the key out for a list",
    )


def explanation(figure: Figure, units: System) -> str:
    """A figure with its working, as lines of text."""
    lines = [f"{figure.label[:1].upper()}{figure.label[1:]}: {show_figure(figure, units)}", f"  key      {figure.key}"]
    if figure.formula:
        lines.append(f"  formula  {figure.formula}")
    lines += [f"  with     {_term(term, figure, units)}" for term in figure.inputs]
    lines.append(f"  source   {spell(figure.cite)}")
    if figure.holds:
        lines.append(f"  holds    {figure.holds}" + (" (these inputs lie outside that)" if figure.extrapolated else ""))
    if figure.spread:
        lines.append("  spread   after ± is one standard error: two times in three it lies within that")
    return "\n".join(lines)


def _term(term: Term, figure: Figure, units: System) -> str:
    value = term.value if isinstance(term.value, str) else show(term.value, term.unit, units)
    source = f" [{spell(term.cite)}]" if term.cite is not None and term.cite != figure.cite else ""
    return f"{term.symbol} = {value}, {term.name}{source}"
