"""Stripping as drawn: every piece comes off once, in the order of the search, with as many fasteners as it draws."""

import re

from crownwright.checks.strip import order_of
from crownwright.sheets.draw.shapes import Text
from crownwright.sheets.drawings.stripping import stripping


def words(drawings):
    texts = (shape.text for of in drawings for shape in of.shapes if isinstance(shape, Text))
    return " ".join(re.sub(r"\s+", " ", text) for text in texts)


def test_the_pictures_draw_every_fastener_that_the_search_draws(example):
    plan = example.plan
    order = order_of(plan.survey, plan.cap, plan.form)
    drawings = stripping(plan)
    assert order.comes_off
    text = words(drawings)
    told = sum(int(n) for n in re.findall(r"(\d+) (?:greased screw|strap)", text))
    assert told == len(order.grease)
    assert order.falls
    assert "Prop, tie or hold the" in text


def test_stripping_begins_with_what_is_outermost_and_ends_with_what_bears_the_rest(demo):
    says = " ".join(of.says for of in stripping(demo))
    titles = re.findall(r"\d+: ([^.]+)\.", says)
    assert titles.index("Sidewalls off") < titles.index("Soffit boards and drip moulding off") < titles.index("Corner blocks off")
    assert {of.name.split("-")[0] for of in stripping(demo)} == {"stripping"}
