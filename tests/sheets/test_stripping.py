"""Stripping as drawn: every piece comes off once, in the order of the search, with as many fasteners as it draws."""

import re
from dataclasses import replace

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
    told = sum(int(n) for n in re.findall(r"(\d+) (?:screw|strap|line)", text))
    assert told == len(order.grease)
    assert not order.falls
    assert "Prop, tie or hold the" not in text


def test_what_would_fall_without_its_line_is_to_be_propped(demo):
    bare = replace(demo, form=replace(demo.form, hanging=replace(demo.form.hanging, lines=())))
    assert "Prop, tie or hold the" in words(stripping(bare))


def test_stripping_hangs_the_form_then_takes_what_is_under_the_walls_and_the_walls_last(demo):
    says = " ".join(of.says for of in stripping(demo))
    titles = re.findall(r"\d+: ([^.]+)\.", says)
    assert titles[0] == "Hang the form on lines"
    assert titles.index("Corner blocks off") < titles.index("Soffit boards and drip moulding off") < titles.index("Sidewalls off")
    assert {of.name.split("-")[0] for of in stripping(demo)} == {"stripping"}
