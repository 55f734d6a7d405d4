"""The [pour] section: read into the choices of the days, written back the same, its faults told with their place."""

from __future__ import annotations

import pytest

from crownwright.concrete.batches import Site
from crownwright.plan.day_choices import DayChoices
from crownwright.quantity.units import DAY, FT2, GALLON, HOUR, LB
from crownwright.service.jobfile import parse_job, write_job

BEFORE = 'title = "x"\n[quick]\nlength = "48"\nwidth = "36"\nmasonry = "brick"\n'
POUR = """[pour]
water = "50 F"
ice = "1 lb"
site = { mixer = 1, people = 3, trip = "3 min", bucket = "4 gal" }
stripping = { floor = "4 d", frost = false }
[pour.cure]
earliest = 8
care = { blanket = "4 R", moist_days = 5 }
limits = { rain_chance = "30 %", evaporation = "0.15 lb/ft2/h", mix_low = "50 F", rain = "0.02 in", snow = "2 mm" }
"""


def test_every_part_reaches_the_choices_in_si() -> None:
    job, problems = parse_job(BEFORE + POUR)
    assert job is not None, problems
    pour = job.pour
    assert pour.water == pytest.approx(10.0)
    assert pour.ice == pytest.approx(LB)
    assert pour.site == Site(mixer=1, people=3, trip=180.0, bucket=4 * GALLON)
    assert (pour.stripping.floor, pour.stripping.frost) == (4 * DAY, False)
    assert pour.cure.earliest == 8
    assert pour.cure.care.moist_days == 5
    assert pour.cure.care.blanket == pytest.approx(4 * 0.176110, rel=1e-5)  # 1 h ft2 F/Btu = 0.176110 m2K/W (NIST SP 811)
    assert pour.cure.limits.rain_chance == pytest.approx(0.3)
    assert pour.cure.limits.evaporation == pytest.approx(0.15 * LB / FT2 / HOUR)
    assert (pour.cure.limits.rain, pour.cure.limits.snow) == (pytest.approx(0.508), 2.0), "mm in an hour"
    assert pour.cure.limits.mix_low == pytest.approx(10.0)


def test_it_is_written_back_to_the_last_bit() -> None:
    job, _ = parse_job(BEFORE + POUR)
    assert job is not None
    again, problems = parse_job(write_job(job))
    assert again is not None, problems
    assert again.pour == job.pour
    assert "[pour]" in write_job(job)


def test_a_job_without_it_has_the_usual_and_writes_none() -> None:
    job, _ = parse_job(BEFORE)
    assert job is not None
    assert job.pour == DayChoices()
    assert "pour" not in write_job(job)


@pytest.mark.parametrize(
    ("typed", "where"),
    [
        ("water = 50", "pour.water"),
        ("site = { people = 0 }", "pour.site.people"),
        ("site = { trip = '3' }", "pour.site.trip"),
        ("cure = { care = { blanket = 'thick' } }", "pour.cure.care.blanket"),
        ("cure = { earliest = 21 }", "pour.cure.earliest"),
        ("cure = { nights = 6 }", "pour.cure.nights"),
        ("stripping = { tug = 3 }", "pour.stripping.tug"),
        ("site = 3", "pour.site"),
        ("cure = { limits = { wind = '-3 mph' } }", "pour.cure.limits.wind"),
    ],
)
def test_a_fault_is_told_with_its_place(typed: str, where: str) -> None:
    job, problems = parse_job(f"{BEFORE}[pour]\n{typed}\n")
    assert job is None
    assert [p.where.split(", ")[-1] for p in problems] == [where], problems
