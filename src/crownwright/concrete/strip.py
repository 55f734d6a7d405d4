"""When to strip: the strength that stripping asks of the overhang, with a margin, and never a share of 28 days.

Beside it stand the trade's floor of three days, the guides' own answers, and what is behind "80 per cent in three days".
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil

from crownwright.cap.model import CapDesign
from crownwright.codes import aci_306r_2010, aci_347, bs_8110_1997
from crownwright.codes.aci_318_plain import reduction
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import DAY, G0, HOUR, INCH, LBF, PSI
from crownwright.quantity.working import PRACTICE, Cite, Figure, Term

PLAIN = Cite("aci_318_2019", "14.5.2.1, by analogy", "read")
PULL = Cite("judgement", "a bar worked by hand at the edge, and a margin of two", "derived")
SURE = 0.95
HORIZON = 28 * DAY


@dataclass(frozen=True, slots=True)
class Overhang:
    """``reach`` from the stone to the edge, m; ``thick`` at the edge, m; the drip's ``groove`` depth (0 for none) and its
    distance ``setback`` from the stone, m; ``density`` kg/m3.
    """

    reach: float
    thick: float
    groove: float = 0.75 * INCH
    setback: float = 1.5 * INCH
    density: float = 2320.0


def overhang_of(cap: CapDesign) -> Overhang:
    """Return the overhang where it reaches farthest, of a designed cap."""
    reach = max((side.most for side in cap.sides), default=0.0)
    groove, setback = (cap.drip.size, min(cap.drip.setback)) if cap.drip else (0.0, 0.0)
    return Overhang(reach, cap.edge_thickness, groove, setback, cap.choices.density)


@dataclass(frozen=True, slots=True)
class Stripping:
    """What taking the form off does, and when never to.

    A ``pull`` (N) at the edge over ``width`` (m), times ``margin``; 100 lbf is a man's pull, for a form made to come apart
    without prying. ``frost`` when it may freeze after; never before ``floor``, s.
    """

    pull: float = 100 * LBF
    width: float = 2 * INCH
    margin: float = 2.0
    frost: bool = True
    floor: float = 3 * DAY


@dataclass(frozen=True, slots=True)
class StripRule:
    """``stress`` Pa in the worse section, ``section`` by name; ``needed`` strength Pa and what ``governs`` it.

    ``earliest`` s when that is reached for sure (None: not within 28 days); ``strip`` s, the later of it and the floor. The
    figures hold what the guides say beside it.
    """

    stress: float
    section: str
    needed: float
    governs: str
    earliest: float | None
    strip: float | None
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]


def overhang_stress(overhang: Overhang, stripping: Stripping) -> tuple[float, str]:
    """Greatest bending stress, Pa, from own weight and the pull, at the stone or at the groove; and which of the two.

    The pull spreads at 45 degrees each way from where it acts. ValueError for a groove as deep as the edge.

    >>> stress, where = overhang_stress(Overhang(4 * INCH, 3.5 * INCH), Stripping())
    >>> round(stress / PSI), where
    (29, 'the groove')
    """
    if overhang.groove >= overhang.thick:
        raise ValueError(f"the groove, {overhang.groove:g} m, is as deep as the edge is thick, {overhang.thick:g} m")
    sections = {"the stone": (overhang.reach, overhang.thick)}
    if overhang.groove > 0 and overhang.setback < overhang.reach:
        sections["the groove"] = (overhang.reach - overhang.setback, overhang.thick - overhang.groove)
    found = {name: _stress(arm, depth, overhang, stripping) for name, (arm, depth) in sections.items()}
    worst = max(found, key=lambda name: found[name])
    return found[worst], worst


def strength_needed(stress: float, margin: float, *, frost: bool = True) -> tuple[float, str]:
    """Strength, Pa, before the form goes, and what governs it: bending, edges that knocks would break, or a first frost.

    Bending as plain concrete: margin x stress = 0.60 x min(5 sqrt(f'c), 0.85 f'c) psi (ACI 318-19 14.5.2.1, an analogy).

    >>> for pull_stress in (58 * PSI, 20 * PSI):
    ...     needed, why = strength_needed(pull_stress, 2.0)
    ...     print(round(needed / PSI), why)
    1495 bending of the overhang
    500 a first frost
    """
    psi = margin * stress / PSI / reduction("2019")
    asks = {
        "bending of the overhang": max((psi / 5.0) ** 2, psi / 0.85) * PSI,
        "edges that knocks would break": bs_8110_1997.FACES,
        "a first frost": aci_306r_2010.ONE_FREEZE if frost else 0.0,
    }
    governs = max(asks, key=lambda name: asks[name])
    return asks[governs], governs


def strip_rule(
    overhang: Overhang,
    strength_at: Callable[[float], Uncertain],
    stripping: Stripping | None = None,
    *,
    high_early: bool = False,
) -> StripRule:
    """Return when the form may go. ``strength_at`` gives strength (Pa, with its spread) at an age (s), not falling with age.

    The strength must be there with nineteen chances in twenty. The floor of three days holds whatever the strength.
    """
    way = stripping or Stripping()
    stress, section = overhang_stress(overhang, way)
    needed, governs = strength_needed(stress, way.margin, frost=way.frost)
    earliest = age_at(needed, strength_at)
    strip = None if earliest is None else max(earliest, way.floor)
    at_floor = strength_at(way.floor).quantile(1 - SURE)
    findings = (_strength_finding(needed, at_floor, way), _cold(strip, high_early))
    figures = _figures(overhang, way, stress, section, needed, governs, earliest, strip) + _beside(stress, strength_at)
    return StripRule(stress, section, needed, governs, earliest, strip, findings, figures)


def age_at(needed: float, strength_at: Callable[[float], Uncertain], sure: float = SURE) -> float | None:
    """Earliest whole hour at which a strength (Pa) is reached with a given chance, s; None when 28 days do not bring it."""
    if strength_at(HORIZON).quantile(1 - sure) < needed:
        return None
    few, many = 0, ceil(HORIZON / HOUR)
    while many - few > 1:
        middle = (few + many) // 2
        few, many = (few, middle) if strength_at(middle * HOUR).quantile(1 - sure) >= needed else (middle, many)
    return many * HOUR


def _stress(arm: float, depth: float, overhang: Overhang, way: Stripping) -> float:
    spread = way.width + 2 * arm
    weight = overhang.density * G0 * overhang.thick * arm**2 / 2  # N m a metre of edge
    return (weight + way.pull * arm / spread) * 6 / depth**2


def _strength_finding(needed: float, at_floor: float, way: Stripping) -> Finding:
    return compare(
        "concrete.strip.strength",
        "strength for stripping, with its margin",
        PLAIN,
        f"overhang at {way.floor / DAY:g} days, nineteen chances in twenty",
        at_floor,
        at_least=needed,
        unit="Pa",
        action="Leave the form on until the strength is there; keep it warm and damp.",
        slack=1.0,
    )


def _cold(strip: float | None, high_early: bool) -> Finding:
    least = aci_306r_2010.protection(mix="high early" if high_early else "normal")
    cite = Cite("aci_306r_2010", "Table 5.1, exposed, not loaded")
    action = "In cold weather leave form and blankets on that long."
    rule = "days in the form in cold weather"
    return compare("concrete.strip.cold", rule, cite, "age at stripping", strip, at_least=least, unit="s", action=action)


def _beside(stress: float, strength_at: Callable[[float], Uncertain]) -> tuple[Figure, ...]:
    """What guides say of forms like these. They know nothing of a four-inch overhang, and they disagree."""
    flat = bs_8110_1997.soffit_strength(stress)
    at = age_at(flat, strength_at)
    rows = [
        ("sides", "form sides by a guide's hours above 50 F", "walls, columns, beam sides"),
        ("soffit", "a slab's soffit by the same guide, hours above 50 F", aci_347.OVERHANG),
    ]
    cite = Cite("aci_347", "3.7.2.3, where the engineer gives nothing else")
    hours = tuple(
        Figure(
            f"concrete.strip.beside.{k}",
            label,
            aci_347.warm_time_needed(part),
            "s",
            "table, by the part of the form",
            (Term("part", "row of the table", part, "1", cite),),
            cite,
        )
        for k, label, part in rows
    )
    if at is None:
        return hours
    term = (Term("f", "10 MPa, or twice the stress", flat, "Pa"),)
    flat_cite = Cite("bs_8110_1997", "6.2.6.3.2", "from memory")
    label = "when a soffit's flat 10 MPa is there for sure"
    return (
        *hours,
        Figure("concrete.strip.beside.flat", label, at, "s", "strength at an age, 5 % end, against f", term, flat_cite),
    )


def _figures(
    overhang: Overhang,
    way: Stripping,
    stress: float,
    section: str,
    needed: float,
    governs: str,
    earliest: float | None,
    strip: float | None,
) -> tuple[Figure, ...]:
    shape = (
        Term("L", "overhang", overhang.reach, "m"),
        Term("t", "edge", overhang.thick, "m"),
        Term("g", "groove", overhang.groove, "m"),
        Term("s", "stone to groove", overhang.setback, "m"),
        Term("P", "pull of a bar", way.pull, "N", PULL),
        Term("b", "width of the bar", way.width, "m", PULL),
    )
    bend = "6 (ρ g t a²/2 + P a / (b + 2a)) / d²; a = L, d = t at the stone; a = L - s, d = t - g at the groove"
    need = (Term("σ", f"stress at {section}", stress, "Pa"), Term("k", "margin", way.margin, "1", PULL))
    floor = (Term("d", "least time in the form, as chosen; three days by custom", way.floor, "s", PRACTICE),)
    figures = [
        Figure("concrete.strip.stress", f"stress in the overhang, at {section}", stress, "Pa", bend, shape),
        Figure("concrete.strip.needed", f"strength before stripping: {governs}", needed, "Pa",
               "from k σ = 0.60 min(5 √f, 0.85 f) psi; at least 2 MPa, and 500 psi where it may freeze", need, PLAIN),
        Figure("concrete.strip.floor", "least time in the form", way.floor, "s", "d", floor, PRACTICE),
    ]  # fmt: skip
    ages = (("earliest", "when the strength is there for sure", earliest), ("strip", "when to strip", strip))
    figures += [
        Figure(f"concrete.strip.{key}", label, age, "s", "strength at an age, its 5 % end, against what is needed", need, PLAIN)
        for key, label, age in ages
        if age is not None
    ]
    return tuple(figures)
