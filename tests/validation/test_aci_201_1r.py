"""ACI 201.1R, Guide for Conducting a Visual Inspection of Concrete in Service: grades (older editions)."""

from __future__ import annotations

import pytest

from crownwright.codes.aci_201_1r import grade, grade_spall, table

MM = 0.001


@pytest.mark.parametrize(
    ("name", "worst", "begins"),
    [
        ("crack", "medium", 1),
        ("crack", "wide", 2),
        ("scaling", "medium", 5),
        ("scaling", "severe", 10),
        ("scaling", "very severe", 20),
        ("popout", "medium", 10),
        ("popout", "large", 50),
    ],
)
def test_where_a_grade_begins(theirs, name, worst, begins):
    theirs(f"{name}, {worst} from", begins, table(name).number(worst, "from"), unit="mm", tol=0, place=name, grade="from memory")
    assert grade(name, (begins + 0.01) * MM) == worst
    assert grade(name, (begins - 0.01) * MM) != worst


def test_spalls(theirs):
    spalls = table("spall")
    theirs(
        "large spall, deeper than",
        20,
        spalls.number("large", "deeper_than"),
        unit="mm",
        tol=0,
        place="spalls",
        grade="from memory",
    )
    theirs(
        "large spall, wider than",
        150,
        spalls.number("large", "wider_than"),
        unit="mm",
        tol=0,
        place="spalls",
        grade="from memory",
    )
    assert grade_spall(20 * MM, 150 * MM) == "small"
    assert grade_spall(21 * MM, 10 * MM) == grade_spall(1 * MM, 151 * MM) == "large"


def test_the_findings_use_these_grades():
    from crownwright.repair.defects import defect

    for name, kind in (("scaling", "scaling"), ("popout", "popouts")):
        for millimetres in (0.5, 4.9, 5, 9.9, 10, 19.9, 20, 49.9, 50):
            found = defect(kind).grade(millimetres * MM)
            assert found is not None
            assert found.name == grade(name, millimetres * MM)
    assert defect("cap spall").grade(19 * MM, 140 * MM).name == grade_spall(19 * MM, 140 * MM)
    assert defect("cap spall").grade(19 * MM, 160 * MM).name == grade_spall(19 * MM, 160 * MM)
