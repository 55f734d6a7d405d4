"""Local rules about what is found on a chimney: from which measure on a finding is how bad."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from difflib import get_close_matches
from typing import TYPE_CHECKING, Any

from crownwright.quantity.lengths import Bare, Reading
from crownwright.quantity.working import Cite
from crownwright.service.jobfile.entry import described, read_text_length
from crownwright.service.jobfile.faults import Fault
from crownwright.service.jobfile.places import Path

if TYPE_CHECKING:
    from crownwright.codes.cap_rules import Rule

OF_WHAT_IS_FOUND = "repair."
"""What the names of these rules begin with."""


def found_rule(path: Path, name: str, line: Mapping[str, Any], bare: Bare | None) -> Rule | list[Fault]:
    """One line of the rules as a rule, or everything wrong with it."""
    from crownwright.codes.cap_rules import Rule
    from crownwright.repair.thresholds import thresholds

    if name not in thresholds():
        near = get_close_matches(name, thresholds(), n=1)
        remedy = f"Did you mean “{near[0]}”?" if near else "Thresholds of findings: " + ", ".join(thresholds())
        return [Fault((*path, "rule"), f"no rule is called {described(name)}", remedy)]
    faults = [
        Fault((*path, key), f"{name} says from which measure on, and nothing else", "Write at_least alone")
        for key in ("at_most", "asks")
        if key in line
    ]
    if "at_least" not in line:
        return faults or [Fault(path, "the rule asks for nothing", "Write at_least: from which measure on it holds")]
    read = read_text_length(line["at_least"], bare)
    if not isinstance(read, Reading):
        return [*faults, Fault((*path, "at_least"), read.what, read.remedy)]
    if read.metres <= 0:
        faults.append(Fault((*path, "at_least"), "a threshold is more than nothing", "Look at the number and its sign"))
    cite = Cite("local_rule", str(line.get("document", "")), "entered")
    return faults or Rule(name, str(line.get("says", "")), cite, read.metres, None, "m")


def in_order(raw: Mapping[str, Any], rules: Sequence[Rule]) -> Iterator[Fault]:
    """Thresholds with which a worse grade would begin before a slighter one."""
    found = [rule for rule in rules if rule.name.startswith(OF_WHAT_IS_FOUND)]
    if not found:
        return
    from crownwright.repair.thresholds import out_of_order

    lines = [line.get("rule") if isinstance(line, Mapping) else None for line in raw.get("rules", ())]
    for name, what in out_of_order(found):
        yield Fault(("rules", lines.index(name), "at_least"), what, "Move the other threshold too, or look at the number")
