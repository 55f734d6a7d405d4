"""What the weather asks of the concrete in a cap, and what a plain bag cannot give."""

from __future__ import annotations

from crownwright.codes.aci_211_1_1991 import Size, air_content
from crownwright.codes.aci_318_exposure import AIR_TOLERANCE, CAP_EXPOSURE, Edition, Exposure, air, limits, tables
from crownwright.codes.astm_c387 import least_strength
from crownwright.concrete.mix import Mix
from crownwright.quantity.findings import Finding, Verdict, compare
from crownwright.quantity.working import Cite

BAG_AGGREGATE: Size = "1/2"
"""Largest stone in a bag, in.: common practice, no source; labels say 3/8 to 1/2."""
RICHER = "Add portland (see the mix card), keep the water at the label's least, or buy a bag made for freezing weather."
AIR_ACTION = (
    "Buy an air-entrained bag, or add an air-entraining admixture as its label says and keep to the water; a plain bag holds "
    "only entrapped air, which does not protect concrete that freezes wet."
)


def exposure_findings(
    mix: Mix, *, air_entrained: bool = False, exposure: Exposure = CAP_EXPOSURE, edition: Edition = "2019"
) -> tuple[Finding, ...]:
    """Return what the exposure class asks for beside what the mix gives: water/cement, strength, air.

    A cap is F2 by our reading: outdoors, level, often saturated. ``air_entrained`` says what the bag's label says; its air is
    then still unmeasured, so that finding cannot tell. The lower floor of the building code for non-structural concrete stands
    beside the class, because it is what the law asks for where it is adopted.
    """
    return (
        _water_cement(mix, exposure, edition),
        _label_strength(exposure, edition),
        _label_strength(exposure, "ibc"),
        _air(exposure, air_entrained),
    )


def _water_cement(mix: Mix, exposure: Exposure, edition: Edition) -> Finding:
    """The ratio with the guess at the bag's cement at its unlucky end: what the survey calls sure."""
    limit = limits(exposure, edition)
    unlucky = mix.water_cement.mean + 1.645 * mix.water_cement.sd
    rule = f"water/cement ratio, class {exposure}"
    return compare(
        "concrete.exposure.water_cement",
        rule,
        limit.cite,
        "the mix as planned, one chance in twenty of being worse",
        unlucky,
        at_most=limit.water_cement,
        action=RICHER,
    )


def _label_strength(exposure: Exposure, edition: Edition) -> Finding:
    limit = limits(exposure, edition)
    what = "non-structural concrete" if edition == "ibc" else f"class {exposure}"
    return compare(
        f"concrete.exposure.strength.{edition}",
        f"28-day strength, {what}",
        limit.cite,
        "the least a normal-strength bag must reach (ASTM C387, from memory)",
        least_strength("normal"),
        at_least=limit.strength,
        unit="Pa",
        action="Buy a bag whose label gives the strength, or richen this one and hold the water down.",
        slack=1.0,
    )


def _air(exposure: Exposure, air_entrained: bool) -> Finding:
    wanted = air(exposure, BAG_AGGREGATE)
    cite: Cite = tables()["air"].cite
    rule = f"entrained air, class {exposure}"
    if wanted is None:
        return Finding("concrete.exposure.air", rule, cite, "the class asks for no air", Verdict.OK)
    least = wanted - AIR_TOLERANCE
    if air_entrained:
        subject = "an air-entrained bag: the label claims it, nobody has measured"
        keep = "Keep to the label's water and mixing time; too long a mix drives air out."
        return compare("concrete.exposure.air", rule, cite, subject, None, at_least=least, unit="share", action=keep)
    plain = air_content(BAG_AGGREGATE, "entrapped")
    return compare(
        "concrete.exposure.air",
        rule,
        cite,
        "a plain bag, which has entrapped air only",
        plain,
        at_least=least,
        unit="share",
        action=AIR_ACTION,
    )
