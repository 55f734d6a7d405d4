"""How high the flues must stand above the roof and above anything near it."""

from __future__ import annotations

from dataclasses import replace
from math import tan

from crownwright.checks.rules import answer, compare_rule
from crownwright.codes.cap_rules import RuleSet
from crownwright.codes.england_ad_j import outlet_height
from crownwright.codes.irc_2018 import height_above_roof
from crownwright.quantity.findings import Finding, Verdict, compare
from crownwright.quantity.working import Cite, Figure, Term
from crownwright.survey.model import PlacedFlue
from crownwright.survey.readings import Surroundings

RAISE = "Raise the stack or extend the flue; where that cannot be, refer it."
READ = "Read on the roof: how far below the string it meets the chimney uphill, its pitch, and how far off the ridge is."


def check_height_above_roof(flues: tuple[PlacedFlue, ...], around: Surroundings, rules: RuleSet) -> tuple[Finding, ...]:
    """Return the findings on height: above the roof at the chimney, above the roof within reach, above things near.

    Measured to the top of the lowest flue; levels above the string in m. What was not read gives cannot tell, with what to
    read. Where the set goes by a diagram (England) that is used instead of the two heights and the reach.
    """
    top = min((flue.top.mean for flue in flues), default=None)
    if rules.asks("height_diagram"):
        return tuple(_told(one) for one in _by_diagram(top, around, rules))
    return tuple(
        _told(one) for one in (*_at_roof(top, around, rules), *_near_roof(top, around, rules), *_near_things(top, around, rules))
    )


def figures_height(around: Surroundings, rules: RuleSet) -> tuple[Figure, ...]:
    """Return the height needed above the uphill roof line, with its working; () where roof or ridge was not read."""
    if around.roof_pitch is None or around.ridge_away is None:
        return ()
    roof = (
        Term("p", "roof pitch", around.roof_pitch, "rad"),
        Term("d", "nearest chimney face to the ridge, horizontally", around.ridge_away, "m"),
    )
    key, label = "checks.height.needed", "flue above the uphill roof line, at least"
    if rules.asks("height_diagram"):
        need = outlet_height(around.roof_pitch, around.ridge_away)
        how = "d <= 0.6: d tan(p) + 0.6; else min(max(1.0, 2.3 tan(p)), d tan(p))"
        return (Figure(key, label, need, "m", how, roof, rules.all("height_diagram")[0].cite),)
    at_roof, near, reach = (_bound(rules, name) for name in ("height_at_roof", "height_above_near", "height_reach"))
    need = height_above_roof(around.roof_pitch, around.ridge_away, above_roof=at_roof, above_near=near, reach=reach)
    limits = (
        Term("a", "least above the roof at the chimney", at_roof, "m"),
        Term("b", "least above anything within reach", near, "m"),
        Term("r", "reach", reach, "m"),
    )
    return (Figure(key, label, need, "m", "max(a, b + tan(p) min(d, r))", (*limits, *roof), _cite(rules, "height_at_roof")),)


def _contact(around: Surroundings) -> float | None:
    """Level of the highest point where the chimney passes through the roof, above the string, m; None where not read."""
    if around.roof_below_string is None:
        return None
    low = around.roof_below_string_low
    return -around.roof_below_string if low is None else -min(around.roof_below_string, low)


def _highest_roof(around: Surroundings, reach: float) -> float | None:
    """Level of the highest roof within reach of the nearest face, above the string, m; past the ridge the roof falls away."""
    roof = _contact(around)
    if roof is None or around.roof_pitch is None or around.ridge_away is None:
        return None
    return roof + tan(around.roof_pitch) * min(around.ridge_away, reach)


def _above(top: float | None, level: float | None) -> float | None:
    return None if top is None or level is None else top - level


def _at_roof(top: float | None, around: Surroundings, rules: RuleSet) -> tuple[Finding, ...]:
    stands, what = _above(top, _contact(around)), "lowest flue top above the roof at the chimney"
    return tuple(compare_rule(rule, "code.height.roof", what, stands, RAISE) for rule in rules.all("height_at_roof"))


def _near_roof(top: float | None, around: Surroundings, rules: RuleSet) -> tuple[Finding, ...]:
    stands = _above(top, _highest_roof(around, _bound(rules, "height_reach")))
    what = "lowest flue top above the highest roof within reach"
    return tuple(compare_rule(rule, "code.height.ridge", what, stands, RAISE) for rule in rules.all("height_above_near"))


def _near_things(top: float | None, around: Surroundings, rules: RuleSet) -> tuple[Finding, ...]:
    close = [thing for thing in around.higher if thing.away <= _bound(rules, "height_reach")]
    return tuple(
        compare_rule(rule, "code.height.near", f"lowest flue top above {thing.what}", _above(top, thing.above_string), RAISE)
        for thing in close
        for rule in rules.all("height_above_near")
    )


def _by_diagram(top: float | None, around: Surroundings, rules: RuleSet) -> tuple[Finding, ...]:
    rule = rules.all("height_diagram")[0]
    stands, what = _above(top, _contact(around)), "lowest flue top above the roof at the chimney"
    if around.roof_pitch is None or around.ridge_away is None or stands is None:
        return (answer(rule, "code.height.roof", what, None, READ),)
    need = outlet_height(around.roof_pitch, around.ridge_away)
    return (compare("code.height.roof", rule.says, rule.cite, what, stands, at_least=need, unit="m", action=RAISE),)


def _told(finding: Finding) -> Finding:
    return replace(finding, action=READ) if finding.verdict is Verdict.CANNOT_TELL else finding


def _bound(rules: RuleSet, name: str) -> float:
    return rules.limits(name)[0] or 0.0


def _cite(rules: RuleSet, name: str) -> Cite:
    found = rules.all(name)
    return found[0].cite if found else Cite("derived", standing="derived")
