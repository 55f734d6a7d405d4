"""What a finding compares, in words: the bounds and what there is, all three said alike so that they can be held side by side."""

from __future__ import annotations

from crownwright.quantity.display import LONG, System, show, show_slope
from crownwright.quantity.findings import Finding
from crownwright.quantity.lengths import print_length


def amounts(finding: Finding, system: System) -> tuple[str, str, str]:
    r"""Return (at least, at most, provided) as text, "" for what is not there; lengths all in inches or all in feet.

    >>> from crownwright.quantity.findings import Verdict
    >>> from crownwright.quantity.working import Cite
    >>> lines = Finding("a", "ladder from lines", Cite("x"), "ladder", Verdict.OK, "", 3.048, None, 9.144, "m")
    >>> amounts(lines, "us"), amounts(lines, "metric")
    (('10\' 0"', '', '30\' 0"'), ('3.05 m', '', '9.14 m'))
    """
    values = finding.at_least, finding.at_most, finding.provided
    long = [abs(value) >= LONG for value in values if value is not None]
    mixed = finding.unit == "m" and any(long) and not all(long)

    def said(value: float | None) -> str:
        if value is None:
            return ""
        if mixed:
            return print_length(value, "feet", 2) if system == "us" else f"{value:.2f} m"
        if finding.unit == "rad" and "fall" in finding.rule:
            return show_slope(value, system)
        return show(value, finding.unit, system)

    low, high, has = map(said, values)
    return low, high, has
