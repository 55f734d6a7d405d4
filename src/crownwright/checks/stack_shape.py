"""The stack's proportions and what stands between its flues: slenderness, bracing, wythes, a cricket, earthquake country."""

from __future__ import annotations

from math import tan

import numpy as np
from shapely import Polygon

from crownwright.checks.rules import compare_rules
from crownwright.checks.tell import figure, open_question
from crownwright.codes import england_ad_a
from crownwright.codes.cap_rules import Rule, RuleSet, rule_set
from crownwright.codes.irc_2018 import SEISMIC_ENGINEERED, SEISMIC_REINFORCED, cricket_height, vertical_bars
from crownwright.quantity.findings import Finding, Verdict, compare
from crownwright.quantity.working import DERIVED, Cite, Figure
from crownwright.survey.model import PlacedFlue
from crownwright.survey.readings import Surroundings

SEISMIC = Cite("irc_2018", "R1003.3, R1003.4")
CRICKET = Cite("irc_2018", "Table R1003.20", "from memory")
READ = "Read the stack's least width where it leaves the roof, and how far below the string the roof meets it."


def check_slenderness(flues: tuple[PlacedFlue, ...], around: Surroundings, rules: RuleSet) -> tuple[Finding, ...]:
    """Return the findings on height over least width: the job's own rule, or the English 4.5 as a yardstick; and on bracing."""
    height, width = _height(flues, around), around.stack_least_width
    ratio = None if height is None or not width else height / width
    own = rules.all("slenderness") or rule_set("england").all("slenderness")
    act = READ if ratio is None else "Too slender to stand on its weight alone: brace it or have an engineer prove it."
    first = tuple(_upper(rule, "stack.slenderness", "height above the roof over least width", ratio, act) for rule in own)
    brace = compare_rules(rules, "brace_free_height", "height above the roof without a brace", height, act)
    side = compare_rules(rules, "brace_free_side", "least side of a stack without a brace", width, act)
    return (*first, *(brace if rules.all("brace_free_height") else ()), *(side if rules.all("brace_free_side") else ()))


def check_wythes(flues: tuple[PlacedFlue, ...], rules: RuleSet) -> tuple[Finding, ...]:
    """Return a finding for every two flues near each other: masonry between them, for flues of different appliances.

    The gap holds masonry and any air space; two flues of one appliance may touch, so the appliance must be known to be sure.
    """
    found: list[Finding] = []
    act = (
        "Flues of different appliances want solid masonry between them: look into the top; mortar or rubble fill is not a wythe."
    )
    for k, one in enumerate(flues):
        for other in flues[k + 1 :]:
            if one.serves and one.serves == other.serves:
                continue
            gap = float(Polygon(np.asarray(one.ring)).distance(Polygon(np.asarray(other.ring))))
            found += compare_rules(
                rules, "wythe_between_flues", f"between {one.name} and {other.name}", gap, act, f"{one.name}-{other.name}"
            )
    return tuple(found)


def check_cricket(around: Surroundings, rules: RuleSet) -> tuple[Finding, ...]:
    """Return whether the chimney is so wide along the ridge that water wants turning round it."""
    width = around.width_along_ridge
    act = "Refer a cricket to the roofer; its height is in the figures." if width else "Read the stack's width along the ridge."
    meets_ridge = around.ridge_away is not None and around.ridge_away <= 0
    rules_there = () if meets_ridge else rules.all("cricket_width")
    return tuple(_upper(rule, "stack.cricket", "chimney width along the ridge, no cricket", width, act) for rule in rules_there)


def figures_stack_shape(flues: tuple[PlacedFlue, ...], around: Surroundings) -> tuple[Figure, ...]:
    """Return the greatest height by the 4.5 rule and the cricket's height, as far as the roof was read."""
    found: list[Figure] = []
    if around.stack_least_width is not None:
        most = england_ad_a.greatest_height(around.stack_least_width)
        width = ("W", "least width", around.stack_least_width, "m")
        label, cite = "height above the roof by the rule of four and a half widths", Cite("ad_a", "chimneys, sizes")
        holds = "masonry denser than 1,500 kg/m3"
        found.append(figure("checks.stack.rule_height", label, most, "m", "4.5 W", cite, width, holds=holds))
    found += _height_figure(flues, around)
    if around.width_along_ridge is not None and around.roof_pitch is not None:
        high = cricket_height(around.width_along_ridge, around.roof_pitch)
        inputs = (
            ("W", "width along the ridge", around.width_along_ridge, "m"),
            ("t", "rise over run", tan(around.roof_pitch), "1"),
        )
        found.append(figure("checks.stack.cricket", "height of a cricket", high, "m", "W t/2", CRICKET, *inputs))
    return tuple(found)


def _height_figure(flues: tuple[PlacedFlue, ...], around: Surroundings) -> tuple[Figure, ...]:
    height = _height(flues, around)
    if height is None:
        return ()
    top = max(flue.top.mean for flue in flues)
    inputs = (
        ("t", "highest flue top above the string", top, "m"),
        ("d", "highest roof contact below the string", height - top, "m"),
    )
    return (figure("checks.stack.height", "highest flue top above the roof", height, "m", "t + d", DERIVED, *inputs),)


def check_seismic(category: str | None, width: float | None) -> tuple[Finding, ...]:
    """Return what the seismic design category asks of the chimney; ``width`` of the stack, m."""
    rule = "earthquake reinforcement and anchorage"
    if category is None:
        return (
            open_question("stack.seismic", rule, SEISMIC, "seismic design category not told", "Ask the building department."),
        )
    if category in SEISMIC_ENGINEERED:
        act = "Have an engineer design the chimney before anything is built on it."
        return (open_question("stack.seismic", rule, SEISMIC, f"category {category}: engineered", act),)
    if category in SEISMIC_REINFORCED:
        bars = (
            f"{vertical_bars(width)} No. 4 bars" if width is not None else "four No. 4 bars to 40 in., two more for each 40 in."
        )
        act = f"Look for {bars}, 1/4 in. ties at 18 in. and straps at each floor and roof; where they are missing, refer it."
        return (open_question("stack.seismic", rule, SEISMIC, f"category {category}", act),)
    note = "Nothing asked by the residential code; one city asks for it in category C too."
    return (Finding("stack.seismic", rule, SEISMIC, f"category {category}", Verdict.OK, note),)


def _height(flues: tuple[PlacedFlue, ...], around: Surroundings) -> float | None:
    """Highest flue top above the highest roof contact, m: a stack is as slender as its tallest pot."""
    if around.roof_below_string is None or not flues:
        return None
    return max(flue.top.mean for flue in flues) + min(
        around.roof_below_string, around.roof_below_string_low or around.roof_below_string
    )


def _upper(rule: Rule, key: str, subject: str, provided: float | None, action: str) -> Finding:
    return compare(key, rule.says, rule.cite, subject, provided, at_most=rule.at_most, unit=rule.unit, action=action)
