"""National Park Service, Preservation Brief 2 (1998), Repointing Mortar Joints in Historic Masonry Buildings."""

from __future__ import annotations

import pytest

from crownwright.codes import nps_pb2
from crownwright.quantity.units import FOOT, FT3, IN3, INCH, fahrenheit


def test_depth_over_width(theirs):
    theirs("depth over width, least", 2, nps_pb2.RAKE_LEAST, tol=0, place="joint preparation")
    theirs("depth over width, most", 2.5, nps_pb2.RAKE_MOST, tol=0, place="joint preparation")
    theirs(
        "depth in brick, least", 0.75, nps_pb2.RAKE_FLOOR / INCH, unit="in.", tol=1e-9, place="a trade paper on preparing joints"
    )


def test_when_all_of_a_wall_is_repointed(theirs):
    theirs("share of a wall, from", 25, 100 * nps_pb2.SPOT_MOST, unit="%", tol=1e-9, place="budgeting and scheduling")
    theirs("share of a wall, to", 50, 100 * nps_pb2.WHOLE_FROM, unit="%", tol=1e-9, place="budgeting and scheduling")


def test_weather(theirs):
    theirs("coldest wall", 40, fahrenheit(nps_pb2.WALL_COLDEST), unit="degF", tol=1e-9, place="budgeting and scheduling")
    theirs("hottest wall", 95, fahrenheit(nps_pb2.WALL_HOTTEST), unit="degF", tol=1e-9, place="budgeting and scheduling")


@pytest.mark.parametrize(("wide", "deep", "cubic_inches", "feet"), [(0.5, 1.25, 7.5, 230), (1.0, 2.5, 30, 57.6)])
def test_repointing_lengths(theirs, wide, deep, cubic_inches, feet):
    assert nps_pb2.rake_depth(wide * INCH, ratio=2.5) == pytest.approx(deep * INCH)
    each = nps_pb2.joint_volume(FOOT, wide * INCH, deep * INCH)
    what = f"{wide:g} in. joint raked {deep:g} in."
    theirs(f"{what}, a foot of it", cubic_inches, each / IN3, unit="cu in.", tol=1e-6, place="by its depth rule", grade="derived")
    tol = 0.5 if feet == 230 else 0.05  # as printed: whole feet, a tenth
    theirs(f"{what}, feet to a cubic foot", feet, FT3 / each, unit="ft", tol=tol, place="by its depth rule", grade="derived")


def test_layers(theirs):
    theirs("1 1/4 in. in layers of 1/4", 5, nps_pb2.lifts(1.25 * INCH), tol=0, place="filling", grade="from memory")


def test_mortar_by_exposure():
    """From memory: the table's corners."""
    assert [nps_pb2.suggested("hard", e) for e in ("sheltered", "moderate", "severe")] == ["O", "N", "S"]
    assert [nps_pb2.suggested("medium", e) for e in ("sheltered", "moderate", "severe")] == ["K", "O", "N"]
    assert [nps_pb2.suggested("soft", e) for e in ("sheltered", "moderate", "severe")] == ["L", "K", "O"]


def test_what_others_say_of_when(theirs):
    said = nps_pb2.table("when")
    for source, inches in (("home repair magazine", 0.25), ("lime mortar workshop", 0.375), ("trade paper", 0.333)):
        theirs(f"open deeper than, {source}", inches, said.number(source, "open_deeper_than"), unit="in.", tol=1e-9, place="when")
    assert min(said.number(source, "open_deeper_than") for source in said.rows) == pytest.approx(nps_pb2.OPEN / INCH)
