"""A form as a mason describes it: read, looked over, searched, put on paper."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pytest

from crownwright.checks.strip_model import Fastener, FormModel, Part, Prism
from crownwright.checks.strip_order import strip_order
from crownwright.cli.codes import Code
from crownwright.cli.main import run
from crownwright.quantity.units import INCH
from crownwright.service.formfile import parse_form, read_form
from crownwright.service.formfile.model import BoxTable, ClampTable, FastenerTable, FormFile, PartTable
from crownwright.service.strip_a_form import form_files, strip_a_form

ROOT = Path(__file__).resolve().parents[2]
FORMS = ROOT / "examples" / "forms"
TWO = """title = "two boards"
parts = [
  { name = "left", x = [0, 10], y = [0, 1], z = [0, 4] },
  { name = "right", x = [10, 20], y = [0, 1], z = [0, 4] },
]
fasteners = [
  { name = "cleat", joins = ["left", "right"], head = [0, "1/2", 2], driven = "+x" },
]
concrete = [ { x = [0, 20], y = [1, 9], z = [0, 4] } ]
"""


def told(name):
    form, problems = read_form(FORMS / f"{name}.toml")
    assert form is not None, problems
    return form


def wrong(text):
    form, problems = parse_form(text)
    assert form is None
    return {problem.where: f"{problem.what}. {problem.remedy}" for problem in problems}


def test_the_example_that_comes_off_does_and_each_step_is_told_both_ways():
    done = strip_a_form(told("strips"))
    assert done.order.comes_off
    assert len(done.off) == len(done.on) == len(done.order.steps) == 12
    assert "First prop, tie or hold block B, block C and block D" in done.off[8]
    assert "strap" not in done.grease


def test_the_example_that_stays_on_names_its_screw():
    done = strip_a_form(told("stuck"))
    assert done.order.left == ("soffit AB",)
    assert done.order.move == ("anchor AB",)
    assert done.order.fewest
    assert done.on == ()
    assert "anchor AB" in next(one.action for one in done.findings if one.key == "form.strip")


def test_the_two_examples_differ_in_one_screw_only():
    fine, stuck = (tomllib.loads((FORMS / f"{name}.toml").read_text("utf-8")) for name in ("strips", "stuck"))
    assert {one["name"] for one in stuck["fasteners"]} - {one["name"] for one in fine["fasteners"]} == {"anchor AB"}
    assert all(fine[key] == stuck[key] for key in ("parts", "clamps", "concrete", "stone"))


def test_what_is_read_is_the_form_that_was_typed():
    form, problems = parse_form(TWO)
    assert problems == ()
    board = Prism(((0.0, 0.0), (10 * INCH, 0.0), (10 * INCH, INCH), (0.0, INCH)), 0.0, 4 * INCH)
    assert form.form.parts[0] == Part("left", (board,))
    assert form.form.fasteners == (Fastener("cleat", ("left", "right"), (0.0, INCH / 2, 2 * INCH), (1.0, 0.0, 0.0)),)
    assert strip_order(form.form).comes_off


def test_boxes_may_be_typed_either_way_round_and_in_other_units():
    turned = TWO.replace("x = [0, 10]", "x = [10, 0]").replace("[10, 20], y", '["254 mm", "508 mm"], y')
    (plain, _), (other, _) = parse_form(TWO), parse_form(turned)
    assert isinstance(other.form, FormModel)
    assert other.form.parts[0] == plain.form.parts[0]
    assert other.form.parts[1].prisms[0].box == pytest.approx(plain.form.parts[1].prisms[0].box)


def test_everything_wrong_with_names_and_sizes_is_told_at_once_with_its_line():
    text = (
        TWO.replace('joins = ["left", "right"]', 'joins = ["left", "rigt"]')
        .replace("y = [0, 1], z = [0, 4] },\n]", "y = [1, 1], z = [0, 4] },\n]")
        .replace('name = "right"', 'name = "left"')
    )
    found = wrong(text)
    assert set(found) == {"line 4, parts[2].y", "line 4, parts[2].name", "line 7, fasteners[1].joins[2]"}
    assert "no size along y" in found["line 4, parts[2].y"]
    assert "two of them" in found["line 4, parts[2].name"]
    assert "“rigt”" in found["line 7, fasteners[1].joins[2]"]


def test_a_line_that_cannot_be_read_hides_no_fault_of_another():
    found = wrong(
        TWO.replace('driven = "+x"', 'driven = "north"').replace(
            "y = [0, 1], z = [0, 4] },\n  {", "y = [1, 1], z = [0, 4] },\n  {"
        )
    )
    assert {"line 3, parts[1].y", "line 7, fasteners[1].driven"} <= set(found)


def test_a_near_name_is_proposed():
    assert "Did you mean “right”?" in wrong(TWO.replace('"left", "right"]', '"left", "rigth"]'))["line 7, fasteners[1].joins[2]"]


@pytest.mark.parametrize(
    ("typed", "instead", "where", "says"),
    [
        ("x = [10, 20]", "x = [9, 20]", "line 3, part left", "same place as right, 1 in."),
        ("y = [1, 9]", 'y = ["1/2", 9]', "line 3, part left", "deep in the concrete"),
        ('head = [0, "1/2", 2]', 'head = [0, "1/2", 9]', "line 7, fastener cleat", "in the air, 5 in."),
        ('driven = "+x"', 'driven = "up"', "line 7, fastener cleat", "does not meet right"),
        ('driven = "+x"', 'driven = "+x", length = 5', "line 7, fastener cleat", "does not meet right in 5 in."),
        ('driven = "+x"', 'driven = "north"', "line 7, fasteners[1].driven", "no direction"),
        ('driven = "+x"', "driven = [0, 0, 0]", "line 7, fasteners[1].driven", "no direction"),
        ('["left", "right"]', '["left", "left"]', "line 7, fasteners[1].joins", "to itself"),
        ('name = "right"', 'name = "stone"', "line 4, parts[2].name", "means the chimney"),
        ("x = [10, 20], y = [0, 1]", "outline = [[10, 0], [20, 0]]", "line 4, parts[2].outline", "encloses nothing"),
        (
            "x = [10, 20], y = [0, 1]",
            'outline = [[10, 0], [20, 0], [15, "1/2"], [20, 1], [10, 1]]',
            "line 4, parts[2].outline",
            "turns inward",
        ),
        (", z = [0, 4] },\n]", " },\n]", "line 4, parts[2].z", "missing"),
        ('name = "right", x', 'nam = "right", x', "line 4, parts[2].nam", "Did you mean “name”?"),
        ("concrete", "concret", "line 9, concret", "Did you mean “concrete”?"),
    ],
)
def test_what_cannot_be_is_named_with_its_line(typed, instead, where, says):
    assert typed in TWO
    found = wrong(TWO.replace(typed, instead))
    assert where in found, found
    assert any(says in what for place, what in found.items() if place == where)


def test_a_screw_into_stone_must_meet_the_stone_that_was_told():
    anchor = '  { name = "anchor", joins = ["left", "stone"], head = [5, 0, 2], driven = "-y" },\n]\nconcrete'
    stone = "stone = [ { x = [0, 20], y = [1, 9], z = [-20, 0] } ]\n"
    found = wrong(TWO.replace("]\nconcrete", anchor) + stone)
    assert "does not meet" in found["line 8, fastener anchor"]


def test_an_empty_file_and_one_that_is_no_toml_are_told():
    assert parse_form("")[1]
    assert "bracket" in wrong('title = "x"\nparts = [ {')["form file"]
    assert read_form(FORMS)[1]


def test_its_papers_and_drawings_are_written():
    files = dict(form_files(strip_a_form(told("strips")), None, 0))
    assert {"papers/form-steps.pdf", "papers/form-drawings.pdf", "drawings/assembly-1.svg", "drawings/stripping-1.svg"} <= set(
        files
    )
    assert all(files.values())


def test_the_command_answers_in_words_and_in_json(capsys):
    assert run(["strip", str(FORMS / "strips.toml"), "--no-files"]) == Code.DONE
    assert "Taking it off" in capsys.readouterr().out
    assert run(["strip", str(FORMS / "stuck.toml"), "--no-files", "--json"]) == Code.NOT_READY
    said = json.loads(capsys.readouterr().out)
    assert said["order"]["move"] == ["anchor AB"]
    assert run(["strip", str(ROOT / "examples" / "metric.toml"), "--no-files"]) == Code.BAD_JOB


def test_every_key_is_on_its_page():
    page = (ROOT / "docs" / "form-file.md").read_text("utf-8")
    for table in (FormFile, PartTable, BoxTable, FastenerTable, ClampTable):
        for name in table.model_fields:
            assert f"`{name}`" in page, name
