"""What a finding compares, in words: the bounds and what there is, all three said alike so that they can be held side by side."""

from __future__ import annotations

from crownwright.quantity.display import LEAST_SIXTEENTH, LONG, System, in_64ths, show, show_slope
from crownwright.quantity.findings import Finding
from crownwright.quantity.lengths import print_length


def amounts(finding: Finding, system: System) -> tuple[str, str, str]:
    r"""Return (at least, at most, provided) as text, "" for what is not there; lengths all in inches or all in feet; one too
    small for the marks of a tape in 64ths, beside one that is not.

    >>> from crownwright.quantity.findings import Verdict
    >>> from crownwright.quantity.working import Cite
    >>> lines = Finding("a", "ladder from lines", Cite("x"), "ladder", Verdict.OK, "", 3.048, None, 9.144, "m")
    >>> amounts(lines, "us"), amounts(lines, "metric")
    (('10\' 0"', '', '30\' 0"'), ('3.05 m', '', '9.14 m'))
    >>> sag = Finding("a", "sag", Cite("x"), "board", Verdict.OK, "", None, 0.0015875, 0.000116, "m")
    >>> amounts(sag, "us"), amounts(sag, "metric")
    (('', '1/16 in.', 'less than 1/64 in.'), ('', '2 mm', '0.116 mm'))
    """
    values = finding.at_least, finding.at_most, finding.provided
    long = [abs(value) >= LONG for value in values if value is not None]
    marks = any(abs(value) >= LEAST_SIXTEENTH for value in values if value is not None)
    mixed = finding.unit == "m" and any(long) and not all(long)

    def said(value: float | None) -> str:
        if value is None:
            return ""
        if mixed:
            return print_length(value, "feet", 2) if system == "us" else f"{value:.2f} m"
        if system == "us" and finding.unit == "m" and marks and 0 < value < LEAST_SIXTEENTH:
            return in_64ths(value)
        if finding.unit == "rad" and "fall" in finding.rule:
            return show_slope(value, system)
        return show(value, finding.unit, system)

    low, high, has = map(said, values)
    return low, high, has
