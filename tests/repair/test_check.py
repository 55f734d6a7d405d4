"""What is wrong with a record is told all at once, each with its place; nothing entered is lost."""

from __future__ import annotations

from math import isfinite

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.repair.stacks import looked, of, record, repair, sample, seen, stack, with_example

from crownwright.quantity.units import FOOT
from crownwright.repair.check import check_record
from crownwright.repair.defects import defects
from crownwright.repair.record import FlueRepair, RebuildChoices, RepairRecord, RepointChoices, Sample, Seen, Units


def wrong(*found, **more):
    made = record(*found, **more)
    return {problem.where: problem.what for problem in check_record(made, stack(made))}


def test_the_example_has_nothing_wrong():
    assert check_record(with_example(), stack()) == ()


@pytest.mark.parametrize(
    ("entered", "where", "what"),
    [
        (seen("open joint", face="AB"), "what", "no finding known"),
        (seen("open joints", face="AE"), "face", "no face AE"),
        (seen("open joints"), "face", "none is named"),
        (seen("cracked liner"), "flue", "none is named"),
        (seen("cracked liner", flue="F9"), "flue", "no flue F9"),
        (seen("open joints", face="AB", course=0), "course", "no course 0"),
        (seen("open joints", face="AB", course=400), "course", "no course 400"),
        (seen("open joints", face="AB", course=5, to_course=3), "to_course", "above course 5"),
        (seen("open joints", face="AB", to_course=3), "course", "no course is told to begin"),
        (seen("open joints", face="AB", along=400), "along", "lies off it"),
        (seen("open joints", face="AB", measure=90), "measure", "too much"),
        (seen("open joints", face="AB", measure=-1), "measure", "less than nothing"),
        (seen("no drip", measure=1), "measure", "nothing like that"),
        (seen("scaling", over=1), "over", "nothing like that"),
        (seen("open joints", face="AB", offset=1), "offset", "no offset"),
        (seen("open joints", face="AB", share=1.4), "share", "not a share"),
        (seen("masonry crack", face="AB"), "measure", "may not be cast"),
    ],
)
def test_one_thing_wrong(entered, where, what):
    found = wrong(entered)
    assert what in found[f"repair.seen[1].{where}"]


def test_the_other_way_round_is_named():
    made = record(seen("open joints", face="BA"))
    (problem,) = check_record(made, stack(made))
    assert "AB the other way round" in problem.remedy


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (seen("sound", face="AB"), seen("open joints", face="AB", course=2, measure=0.5)),
        (seen("sound", face="AB", course=1, to_course=4), seen("loose units", face="AB", course=4)),
        (seen("sound", part="cap"), seen("cap crack", measure=0.1)),
        (seen("sound", part="faces"), seen("open joints", face="CD", measure=0.5)),
        (seen("sound", flue="F1"), seen("cracked liner", flue="F1")),
        (seen("no cap"), seen("scaling", measure=0.1)),
        (seen("missing liner", flue="F1"), seen("cracked liner", flue="F1")),
    ],
)
def test_contradictions(one, other):
    """Both ways round; the later of the two is named, the earlier in its words."""
    for pair in ((one, other), (other, one)):
        found = wrong(*pair)
        assert any("contradicts seen[1]" in what for what in found.values()), found
        assert "repair.seen[2]" in found


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (seen("sound", face="AB"), seen("open joints", face="BC", measure=0.5)),
        (seen("sound", face="AB", course=1, to_course=3), seen("loose units", face="AB", course=4)),
        (seen("sound", flue="F2"), seen("cracked liner", flue="F1")),
        (seen("sound", flue="F1"), seen("chimney fire", flue="F1")),  # history: an inspection after it may find it sound
    ],
)
def test_no_contradictions(one, other):
    assert not any("contradicts" in what for what in wrong(one, other).values())


def test_all_at_once_and_nothing_lost():
    entered = (
        seen("sound", face="AB"),
        seen("open joints", face="AB", measure=0.5),
        seen("chimney fire", flue="F7"),
        seen("loose units", face="ZZ", course=99),
        seen("gravel", part="roof"),
    )
    made = record(*entered, samples=(sample("QQ", 10), sample("AB", 200)), claimed=7, units=Units(stone="basalt"))
    planned = repair(made)
    told = {problem.where for problem in planned.problems}
    assert {
        "repair.seen[2]", "repair.seen[3].flue", "repair.seen[4].face", "repair.seen[4].course", "repair.seen[5].what",
        "repair.seen[5].part", "repair.samples[1].face", "repair.samples[2].failed", "repair.claimed", "repair.units.stone",
    } <= told  # fmt: skip
    assert planned.record == made
    assert all(problem.remedy for problem in planned.problems)


def test_a_room_is_there_or_not():
    made = RepairRecord(looked=(*looked(attic="close to"), *looked(attic="not there")))
    assert any("attic" in problem.what for problem in check_record(made, stack(made)))


def test_choices_that_clash():
    made = with_example(
        repoint=RepointChoices(height=90 * FOOT, faces=("AB", "XX"), mortar="P"),
        rebuild=RebuildChoices(courses=300, depth=0.5, solid=False, mortar="P"),
        flues=(FlueRepair("F8"), FlueRepair("F1", screen_pitch=0.01, screen_wire=0.02, screen_high=0.3)),
    )
    told = {problem.where for problem in check_record(made, stack(made))}
    assert told == {
        "repair.repoint.mortar", "repair.repoint.faces", "repair.repoint.height", "repair.rebuild.mortar", "repair.rebuild.depth",
        "repair.rebuild.courses", "repair.rebuild.wall", "repair.flues[1].flue", "repair.flues[2].screen_wire",
    }  # fmt: skip


def test_loose_units_without_a_course():
    made = record(seen("loose units", face="AB"))
    assert [p.where for p in check_record(made, stack(made))] == ["repair.seen[1].course"]


def test_courses_of_stone_whose_height_is_not_told():
    made = record(seen("loose units", face="AB", course=2))
    there = stack(made, "stone-two-flues")
    assert [p.where for p in check_record(made, there)] == ["repair.units.course"]


def test_sample_sizes():
    made = record(samples=(sample("AB", -1, side=0.0), sample("AB", 5, side=900.0, width=9.0, depth=30.0)))
    told = {problem.where for problem in check_record(made, stack(made))}
    assert {"repair.samples[1].wide", "repair.samples[1].failed", "repair.samples[2].wide", "repair.samples[2].width",
            "repair.samples[2].depth"} <= told  # fmt: skip
    assert of(1).typed == "1"


lengths = st.one_of(st.none(), st.floats(-5, 400).map(of))
anything = st.builds(
    Seen,
    what=st.sampled_from([*defects(), "sound", "nonsense"]),
    part=st.sampled_from(["", "cap", "faces", "flashing", "nonsense"]),
    face=st.sampled_from(["", "AB", "BC", "ZZ"]),
    flue=st.sampled_from(["", "F1", "F9"]),
    course=st.one_of(st.none(), st.integers(-2, 40)),
    to_course=st.one_of(st.none(), st.integers(-2, 40)),
    along=lengths,
    measure=lengths,
    over=lengths,
    offset=lengths,
    share=st.one_of(st.none(), st.floats(-1, 2)),
    growing=st.booleans(),
)
patches = st.builds(
    Sample,
    face=st.sampled_from(["AB", "BC", "ZZ"]),
    wide=st.floats(-1, 50).map(of),
    high=st.one_of(st.just(0.9), st.floats(-1, 50)).map(of),
    failed=st.floats(-5, 500).map(of),
    joints=lengths,
    width=lengths,
    depth=lengths,
)
work = st.builds(
    RebuildChoices,
    courses=st.one_of(st.none(), st.integers(1, 60)),
    depth=st.one_of(st.none(), st.floats(0.01, 3)),
    solid=st.booleans(),
    wall=st.one_of(st.none(), st.floats(0.05, 0.4)),
    mortar=st.sampled_from(["", "N", "O", "K", "L", "P"]),
    corbel=st.one_of(st.none(), st.floats(0, 0.1)),
)


@settings(max_examples=80, deadline=None)
@given(st.lists(anything, max_size=5), st.lists(patches, max_size=4), st.one_of(st.none(), work))
def test_whatever_is_entered_is_planned_or_told(found, counted, rebuild):
    """Never an exception, never a number that is none; what was entered is there as it was."""
    made = RepairRecord(seen=tuple(found), samples=tuple(counted), rebuild=rebuild)
    for name in ("repair-first", "stone-two-flues"):
        planned = repair(made, name)
        assert planned.record == made
        assert all(problem.where and problem.what and problem.remedy for problem in planned.problems)
        assert all(isfinite(figure.value) for figure in planned.figures)
        assert all(line.amount > 0 and isfinite(line.amount) for line in planned.materials)
