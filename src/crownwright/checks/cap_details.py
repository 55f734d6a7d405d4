"""The cap's details against the job's code set: wash, edge, overhang, drip, joint, base, steel, flue proud."""

from __future__ import annotations

from dataclasses import replace

from crownwright.cap.model import CapDesign, Drip, FlueFit, SideFit, SteelPiece
from crownwright.checks.rules import answer_rules, compare_rules, unsure
from crownwright.codes.cap_rules import RuleSet
from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.units import INCH
from crownwright.quantity.working import DERIVED

WIRE_9_GAUGE = 0.148 * INCH


def check_cap(cap: CapDesign, rules: RuleSet) -> tuple[Finding, ...]:
    """Return the findings on the cap as designed, in the order a mason looks: top, edge, overhang, drip, joint, base, steel."""
    groups = (check_wash, check_edge, check_overhang, check_drip, check_joint, check_base, check_steel, check_proud)
    return tuple(finding for group in groups for finding in group(cap, rules))


def check_wash(cap: CapDesign, rules: RuleSet) -> tuple[Finding, ...]:
    """Return the findings on fall and shedding; compared is the flattest facet of the finished top."""
    steepen = "Steepen the wash: thicken it at the flues or lower the edge; check that the flues still stand proud."
    verdict = Verdict.OK if cap.sheds else Verdict.SHORT
    hollow = "Reshape the wash: a hollow holds water, and water freezes."
    sheds = Finding("code.sheds", "no place on the wash holds water", DERIVED, "wash, facet by facet", verdict, hollow)
    return (*compare_rules(rules, "slope", "flattest facet of the wash", cap.least_slope, steepen), sheds)


def check_edge(cap: CapDesign, rules: RuleSet) -> tuple[Finding, ...]:
    """Return the findings on the outer edge and on the cover over the highest hump."""
    wider, dress = "Use a wider edge board.", "Raise the edge or dress the hump."
    return (
        *compare_rules(rules, "edge_thickness", "outer edge", cap.edge_thickness, wider),
        *compare_rules(rules, "hump_cover", "concrete over the highest hump", cap.cover_least.mean, dress),
    )


def check_overhang(cap: CapDesign, rules: RuleSet) -> tuple[Finding, ...]:
    """Return one finding a side and rule; compared is the overhang still there at the survey's guard, not the best estimate."""
    return tuple(finding for side in cap.sides for finding in _side(side, rules))


def check_drip(cap: CapDesign, rules: RuleSet) -> tuple[Finding, ...]:
    """Return the findings on the drip: there at all, far enough from the wall, lip outside it, concrete above it."""
    there = answer_rules(rules, "drip", "underside of the overhang", cap.drip is not None, "Cast a drip under the edge.")
    return there if cap.drip is None else (*there, *_groove(cap.drip, cap.edge_thickness, rules))


def check_joint(cap: CapDesign, rules: RuleSet) -> tuple[Finding, ...]:
    """Return the findings on each flue's joint; left out on a repair it is waived with a reason, and the finding stays."""
    return tuple(finding for flue in cap.flues for finding in _joint(cap, flue, rules))


def check_base(cap: CapDesign, rules: RuleSet) -> tuple[Finding, ...]:
    """Return the findings on what lies between cap and masonry: some sources ask for a slip, some for an anchor."""
    slip, base = cap.base == "slip sheet", f"base: {cap.base}"
    return (
        *answer_rules(rules, "wall_break", base, slip, "Lay a slip sheet under the cap."),
        *answer_rules(rules, "anchored", base, not slip, "Bond or anchor the cap, or rely on its weight."),
    )


def check_steel(cap: CapDesign, rules: RuleSet) -> tuple[Finding, ...]:
    """Return the findings on steel and its cover. Ladder wire is not the hardware cloth one standard names: that stays open."""
    there = bool(cap.steel)
    wire = "ladder-type joint reinforcement" if there else "no steel"
    lay = "Lay galvanized or stainless ladder wire round the cap."
    cloth = "Add 1/2 in. (13 mm) galvanized hardware cloth at mid-depth, or ask the official whether ladder wire will do."
    return (
        *answer_rules(rules, "reinforced", wire, there, lay),
        *answer_rules(rules, "mesh", wire, None if there else False, cloth),
        *(_cover(cap, rules) if there else ()),
    )


def check_proud(cap: CapDesign, rules: RuleSet) -> tuple[Finding, ...]:
    """Return, for each flue and each rule on it, whether the liner stands proud within the band, extension included."""
    return tuple(
        replace(finding, action=_longer_or_shorter(finding))
        for flue in cap.flues
        for finding in compare_rules(rules, "liner_proud", f"flue {flue.name} above the wash", flue.proud.mean, "", flue.name)
    )


def _longer_or_shorter(finding: Finding) -> str:
    """What to do about a liner outside its band: which way depends on the end it is past."""
    low, has = finding.at_least, finding.provided
    if low is not None and has is not None and has < low:
        return "Too low: extend the flue, or ease the wash."
    return "Too high: cut the liner or thicken the cap; some ask for 4 in. (102 mm) and more."


def _side(side: SideFit, rules: RuleSet) -> tuple[Finding, ...]:
    move = "Move the cap over or make it wider on this side."
    read = "The best estimate is enough, the survey's spread is not: read more offsets on this side, its proudest stone first."
    found = compare_rules(rules, "overhang", f"side {side.name}, at the proudest stone", side.sure, move, side.name)
    return tuple(unsure(finding, side.least, read) for finding in found)


def _groove(drip: Drip, edge_thickness: float, rules: RuleSet) -> tuple[Finding, ...]:
    more = "Move the groove out; where the overhang leaves no room, widen the overhang or take a smaller moulding."
    above = edge_thickness - drip.size
    return (
        *compare_rules(rules, "drip_from_wall", "proudest stone to the groove", min(drip.setback), more),
        *compare_rules(rules, "drip_lip", "concrete outside the groove", drip.lip, more),
        *compare_rules(rules, "drip_cover", "concrete above the groove", above, "Use a wider edge board."),
    )


def _joint(cap: CapDesign, flue: FlueFit, rules: RuleSet) -> tuple[Finding, ...]:
    subject, waiver, there = f"flue {flue.name}", cap.choices.joint_waived, flue.joint_width > 0
    wrap = "Wrap the flue full depth with compressible board or rope before the pour."
    seal = "Rake, rod and seal the joint; it is a maintenance joint, look at it every couple of years."
    return (
        *answer_rules(rules, "joint_break", subject, there, wrap, flue.name, waiver),
        *answer_rules(rules, "joint_sealed", subject, there, seal, flue.name, waiver),
        *(compare_rules(rules, "joint_gap", subject, flue.joint_width, "Use a thicker wrap.", flue.name) if there else ()),
    )


def _cover(cap: CapDesign, rules: RuleSet) -> tuple[Finding, ...]:
    least = min(_least_cover(cap, piece) for piece in cap.steel)
    thicker = "Use a wider edge board, or stainless or hot-dip galvanized wire and keep it at mid-depth."
    return compare_rules(rules, "steel_cover", "wire to the nearest face of the concrete", least, thicker)


def _least_cover(cap: CapDesign, piece: SteelPiece) -> float:
    """Concrete round a wire, m: as designed, or to soffit and edge top where the design does not say."""
    if piece.cover is not None:
        return piece.cover
    return min(piece.level - cap.soffit, cap.edge - piece.level) - WIRE_9_GAUGE / 2
