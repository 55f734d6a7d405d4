"""A number that opens to a formula can be worked again from it: where a formula is arithmetic in the symbols of its inputs, the
inputs as shown give the value as shown. Formulas told in words are left to their own tests.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from crownwright.quantity.working import Figure, Term
from crownwright.service.jobfile import read_job
from crownwright.service.plan_a_job import plan_a_job

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
KNOWN = {"sqrt": math.sqrt, "exp": math.exp, "ln": math.log, "tan": math.tan, "sin": math.sin, "cos": math.cos, "pi": math.pi}
SIGNS = {"^": "**", "x": "*", "+": "+", "-": "-", "*": "*", "/": "/", "(": "(", ")": ")", ",": ","}
NUMBER = re.compile(r"\d+(?:\.\d+)?(?:e-?\d+)?")


class WordsError(Exception):
    """The formula says something that is no arithmetic in these symbols."""


def tokens(formula: str, symbols: set[str]) -> Iterator[str]:
    """Python for each sign, number and symbol of a formula, the longest symbol first."""
    names = sorted(symbols | set(KNOWN), key=len, reverse=True)
    at = 0
    while at < len(formula):
        rest = formula[at:]
        if rest[0].isspace():
            at += 1
        elif name := next((n for n in names if rest.startswith(n) and not rest[len(n) : len(n) + 1].isalnum()), None):
            yield f"known[{name!r}]" if name not in symbols else f"given[{name!r}]"
            at += len(name)
        elif number := NUMBER.match(rest):
            yield number[0]
            at += number.end()
        elif sign := SIGNS.get(rest[0]):
            yield sign
            at += 1
        else:
            raise WordsError(rest)


def python_of(formula: str, symbols: set[str]) -> str:
    """A formula as Python: what stands side by side is multiplied."""
    out, before = "", ""
    for token in tokens(formula, symbols):
        value = token[-1] in "])" or token[0].isdigit()
        calls = before.startswith("known[") and callable(KNOWN[before[7:-2]])
        if before and (before[-1] in "])" or before[0].isdigit()) and ((value and token != ")") or token == "(") and not calls:
            out += "*"
        out, before = out + token, token
    return out


def si(term: Term) -> float:
    """The input in SI: work is told by the hour."""
    assert not isinstance(term.value, str)
    return term.value / 3600 if term.name.endswith("in an hour") else float(term.value)


def worked_again(figure: Figure) -> float | None:
    """The value that the formula gives, None where it cannot be worked from the inputs alone."""
    terms = [term for term in figure.inputs if term.symbol and not isinstance(term.value, str)]
    given = {term.symbol: si(term) for term in terms}
    if len(given) < len(terms):
        return None
    try:
        return float(eval(python_of(figure.formula, set(given)), {"known": KNOWN, "given": given}))
    except (WordsError, SyntaxError, TypeError, ZeroDivisionError):
        return None


@pytest.mark.parametrize(
    ("formula", "gives"),
    [("a b / 2", 3.0), ("(a + b)^2", 25.0), ("1.5 a x b", 9.0), ("sqrt(a^2 + 5)", 3.0), ("a b(a + b)", 30.0), ("twice a", None)],
)
def test_a_formula_is_worked(formula: str, gives: float | None) -> None:
    figure = Figure("x", "x", 0.0, "1", formula, (Term("a", "a", 2.0), Term("b", "b", 3.0)))
    assert worked_again(figure) == gives


@pytest.mark.parametrize("name", ["metric", "repair-first"])
def test_the_inputs_shown_give_the_value_shown(name: str) -> None:
    job, problems = read_job(EXAMPLES / f"{name}.toml")
    assert job is not None, problems
    figures = plan_a_job(job, cut_list=False).plan.figures
    again = {figure: value for figure in figures if (value := worked_again(figure)) is not None}
    assert len(again) > 60, "most of the arithmetic is read"
    # a part in five hundred: some inputs are told rounded, as their source prints them
    off = {f.key: (f.formula, value, f.value) for f, value in again.items() if not math.isclose(value, f.value, rel_tol=2e-3)}
    assert {key: told for key, told in off.items() if max(abs(told[1]), abs(told[2])) > 1e-9} == {}
