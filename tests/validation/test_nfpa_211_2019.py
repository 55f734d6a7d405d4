"""NFPA 211 (2019), Chimneys, Fireplaces, Vents, and Solid Fuel-Burning Appliances, read second-hand."""

from __future__ import annotations

from crownwright.codes.cap_rules import rule, rule_set
from crownwright.quantity.units import INCH


def test_liner_above_the_wash(theirs):
    theirs(
        "liner above the wash", 2, rule("nfpa_211_2019", "liner_proud").at_least / INCH, unit="in.", tol=1e-9, place="7.2.13.3"
    )


def test_exactly_four_inches_meets_every_us_source(theirs):
    least, most = rule_set("us-model").limits("liner_proud")
    local = rule("local_us", "liner_proud").at_least
    assert least < local <= most
    theirs(
        "the one height that meets all of them",
        4,
        local / INCH,
        unit="in.",
        tol=1e-9,
        place="with C1283 and Norton OH",
        grade="derived",
    )
