"""Compare one provided value with what the job's rules ask, and show beside it who asks for something else."""

from __future__ import annotations

from dataclasses import replace

from crownwright.codes.cap_rules import RULES, Rule, RuleSet, conflicts, rule_set
from crownwright.quantity.findings import Finding, Verdict, Waiver, compare

PRACTICE_SET = "practice"


def compare_rule(rule: Rule, key: str, subject: str, provided: float | None, action: str) -> Finding:
    """Return the finding for one measured rule; ``provided`` in the rule's SI unit, None where it is not known."""
    least, most = rule.at_least, rule.at_most
    return compare(key, _words(rule), rule.cite, subject, provided, at_least=least, at_most=most, unit=rule.unit, action=action)


def compare_rules(
    rules: RuleSet, name: str, subject: str, provided: float | None, action: str, at: str = ""
) -> tuple[Finding, ...]:
    """Return a finding for every rule of that name the job's set has; where it is silent, one for the practice of the trade.

    ``at`` names the place (side, flue) and ends the finding's key. Sources outside the set that come to another verdict hang
    under the first finding as its parts, so that a conflict shows where it matters.
    """
    bound = rules.all(name) or rule_set(PRACTICE_SET).all(name)
    keys = _keys(_key(name, at), bound)
    own = tuple(compare_rule(rule, key, subject, provided, action) for key, rule in zip(keys, bound, strict=True))
    return (replace(own[0], parts=_others(bound, name, own[0], own)), *own[1:]) if own else ()


def answer_rules(
    rules: RuleSet, name: str, subject: str, there: bool | None, action: str, at: str = "", waiver: Waiver | None = None
) -> tuple[Finding, ...]:
    """Return a finding for every yes-or-no rule of that name in the job's set: is the thing there? None: cannot tell.

    A ``waiver`` with a name and a reason turns a short verdict into a waived one; the finding stays.
    """
    asked = tuple(rule for rule in rules.all(name) if rule.asks is not None)
    keys = _keys(_key(name, at), asked)
    return tuple(answer(rule, key, subject, there, action, waiver) for key, rule in zip(keys, asked, strict=True))


def answer(rule: Rule, key: str, subject: str, there: bool | None, action: str, waiver: Waiver | None = None) -> Finding:
    """Return the finding for one yes-or-no rule."""
    if there is None:
        verdict = Verdict.CANNOT_TELL
    elif there == rule.asks:
        verdict = Verdict.OK
    else:
        verdict = Verdict.WAIVED if waiver is not None and waiver.by.strip() and waiver.reason.strip() else Verdict.SHORT
    kept = waiver if verdict is Verdict.WAIVED else None
    return Finding(key, _words(rule), rule.cite, subject, verdict, action, waiver=kept)


def unsure(finding: Finding, at_best: float, action: str) -> Finding:
    """Turn short into cannot tell where the best estimate meets the rule and only the spread of the survey does not."""
    best = compare("", "", finding.cite, "", at_best, at_least=finding.at_least, at_most=finding.at_most)
    if finding.verdict is Verdict.SHORT and best.verdict is Verdict.OK:
        return replace(finding, verdict=Verdict.CANNOT_TELL, action=action)
    return finding


def _others(bound: tuple[Rule, ...], name: str, first: Finding, own: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Return what sources outside the job's set make of the same value, where their verdict differs."""
    if first.provided is None:
        return ()
    verdict = Verdict.SHORT if any(one.verdict is Verdict.SHORT for one in own) else Verdict.OK
    note = "For comparison: not in this job's set."
    outside = ((which, rule) for which, rule in conflicts(name) if rule not in bound and rule.asks is None)
    seen = (compare_rule(rule, f"{first.key}.{which}", first.subject, first.provided, note) for which, rule in outside)
    return tuple(one for one in seen if one.verdict is not verdict)


def _key(name: str, at: str) -> str:
    return f"code.{name}.{at}" if at else f"code.{name}"


def _keys(key: str, bound: tuple[Rule, ...]) -> list[str]:
    """A key for each rule of one name: the first has the plain key, the others say whose they are."""
    named = [key, *(f"{key}.{rule.cite.document}" for rule in bound[1:])]
    return [one if named.index(one) == k else f"{one}.{k + 1}" for k, one in enumerate(named[: len(bound)])]


def _words(rule: Rule) -> str:
    return f"{RULES[rule.name]}: {rule.says}"
