"""How findings are judged, what blocks a cap, what may be claimed, what brought on what."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.repair.stacks import looked, record, seen

from crownwright.quantity.findings import Verdict
from crownwright.quantity.units import INCH
from crownwright.repair.causes import chains, look_for
from crownwright.repair.condition import judge
from crownwright.repair.defects import defects
from crownwright.repair.record import RepairRecord, Waived
from crownwright.sources.bibliography import entries

LEVEL_2 = looked(
    cap="by hand", faces="by hand", flue_tops="close to", flue_inside="by camera", appliance="close to", attic="close to",
    crawl_space="not there", basement="close to",
)  # fmt: skip


def only(*found, **more):
    (one,) = judge(record(*found, **more)).judged
    return one


@pytest.mark.parametrize(
    "entered",
    [
        seen("masonry crack", face="AB", measure=0.125),
        seen("masonry crack", face="AB", measure=0.01, offset=0.02),
        seen("masonry crack", face="AB", measure=0.01, growing=True),
        seen("bulge", face="AB", measure=0.5),
        seen("lean", measure=1.0, over=40.0),
        seen("cracked liner", flue="F1"),
        seen("open liner bed", flue="F1"),
        seen("missing liner", flue="F1"),
        seen("blocked flue", flue="F1"),
        seen("chimney fire", flue="F1"),
    ],
)
def test_what_blocks_a_cap(entered):
    one = only(entered)
    assert one.finding.blocks
    assert one.finding.verdict is Verdict.SHORT
    assert one.grade.see
    assert one.grade.see in one.finding.action


@pytest.mark.parametrize("entered", [seen("open joints", face="AB", measure=0.5), seen("masonry crack", face="AB", measure=0.06)])
def test_what_does_not_block(entered):
    assert not only(entered).finding.blocks


def test_a_crack_not_measured_is_not_cleared():
    one = only(seen("masonry crack", face="AB"))
    assert one.grade is None
    assert one.finding.verdict is Verdict.CANNOT_TELL
    assert one.finding.blocks


def test_small_cracks_add_up():
    two = judge(record(seen("masonry crack", face="AB", measure=0.12), seen("masonry crack", face="AB", measure=0.13)))
    assert not judge(record(seen("masonry crack", face="AB", measure=0.12))).judged[0].finding.blocks
    (together,) = [one for one in two.findings if one.key == "repair.cracks.AB"]
    assert together.blocks
    assert together.provided == pytest.approx(0.25 * INCH)
    apart = judge(record(seen("masonry crack", face="AB", measure=0.12), seen("masonry crack", face="BC", measure=0.12)))
    assert not any(one.key.startswith("repair.cracks") for one in apart.findings)


def test_a_chimney_fire_is_lifted_by_a_level_2_inspection_only():
    fire = seen("chimney fire", flue="F1")
    assert only(fire).finding.blocks
    less = tuple(look for look in LEVEL_2 if look.part != "attic")
    assert only(fire, looked=less).finding.blocks
    after = only(fire, looked=LEVEL_2)
    assert not after.finding.blocks
    assert after.grade.call == "seal"


def test_a_waiver_stays_on_the_papers():
    one = only(seen("bulge", face="AB"), waived=(Waived("bulge", "E. Marr", "engineer's letter of 3 May"),))
    assert one.finding.verdict is Verdict.WAIVED
    assert not one.finding.blocks
    assert one.finding.waiver.by == "E. Marr"


def test_a_level_not_done_is_not_claimed():
    top = looked(cap="by hand", faces="by hand", flue_tops="by hand")
    for claimed in (1, 2, 3):
        condition = judge(RepairRecord(looked=top, claimed=claimed))
        (level,) = [one for one in condition.findings if one.key == "repair.level"]
        assert level.verdict is Verdict.SHORT
        assert f"Print no level {claimed}" in level.action
        assert "none is claimed" in condition.level_says
    done = judge(RepairRecord(looked=LEVEL_2, claimed=2))
    assert next(one for one in done.findings if one.key == "repair.level").verdict is Verdict.OK
    assert "level 2" in done.level_says


@settings(deadline=None)
@given(
    st.lists(
        st.tuples(st.sampled_from([look.part for look in LEVEL_2]), st.sampled_from(["from the ground", "close to", "by camera"]))
    )
)
def test_looking_at_more_never_lowers_the_level(pairs):
    less = looked(**{part.replace(" ", "_"): how for part, how in pairs})
    assert judge(RepairRecord(looked=less)).level.reached <= judge(RepairRecord(looked=(*less, *LEVEL_2))).level.reached


def test_a_leak_without_a_cause_is_asked_for():
    alone = judge(record(seen("efflorescence", face="AB")))
    assert any(one.key == "repair.leak.1" for one in alone.findings)
    caused = judge(record(seen("efflorescence", face="AB"), seen("no drip")))
    assert not any(one.key.startswith("repair.leak") for one in caused.findings)
    fine = judge(record(seen("efflorescence", face="AB"), seen("cap crack", measure=0.005)))  # a crack this fine leaks nothing
    assert any(one.key == "repair.leak.1" for one in fine.findings)


# ---- the table of findings ------------------------------------------------------------------------------------------------


def test_every_grade_has_a_source_and_something_to_do():
    for kind in defects().values():
        assert kind.grades, kind.name
        for grade in kind.grades:
            assert grade.cite.document in entries(), (kind.name, grade.name)
            assert grade.do
            assert grade.call
            assert grade.see or not grade.blocks, (kind.name, grade.name)


def test_grades_begin_in_order_and_worsen():
    for kind in defects().values():
        assert all(a.begins < b.begins for a, b in pairwise(kind.grades)), kind.name
        blocking = [grade.blocks for grade in kind.grades]
        assert blocking == sorted(blocking), kind.name
        assert kind.most is not None or not kind.measure, kind.name


@settings(deadline=None)
@given(st.sampled_from([kind for kind in defects().values() if kind.measure]), st.floats(0, 0.2), st.floats(0, 0.2))
def test_a_larger_measure_is_never_a_slighter_grade(kind, one, other):
    less, more = sorted((one, other))
    assert kind.grades.index(kind.grade(less)) <= kind.grades.index(kind.grade(more))


def test_no_finding_brings_itself_about():
    """The causes have no circle: following them from any finding never comes back to it."""

    def above(name, seen_so_far=()):
        assert name not in seen_so_far, (name, seen_so_far)
        for cause in defects()[name].causes:
            if cause in defects():
                above(cause, (*seen_so_far, name))

    for name in defects():
        above(name)


@settings(deadline=None)
@given(st.sets(st.sampled_from(sorted(defects())), max_size=8))
def test_chains(found):
    told = chains(found)
    for chain in told:
        assert len(chain) > 1
        assert set(chain) <= found
        assert all(cause in defects()[effect].causes for cause, effect in pairwise(chain))
        assert look_for(chain[0], found) == () or not any(c in found for c in defects()[chain[0]].causes)
        assert not any(set(chain) < set(other) for other in told)
    linked = {name for chain in told for name in chain}
    for effect in found:
        for cause in defects()[effect].causes:
            if cause in found:
                assert {effect, cause} <= linked
