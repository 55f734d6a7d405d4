"""One finding where two rooms say the same: the cap's own comparison and the code set's, both sources named."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType

from crownwright.quantity.findings import Finding, Verdict

GRAVITY = (Verdict.SHORT, Verdict.CANNOT_TELL, Verdict.WAIVED, Verdict.OK)
"""Verdicts, the gravest first."""
SAME: Mapping[str, str] = MappingProxyType(
    {
        "cap.overhang": "code.overhang",
        "cap.proud": "code.liner_proud",
        "cap.fall": "code.slope",
        "cap.sheds": "code.sheds",
        "cap.cover": "code.hump_cover",
        "cap.steel.cover": "code.steel_cover",
    }
)
"""Findings of the cap that compare what one of the code set compares, by how their keys begin; the rest is the side or flue."""


def settled(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return findings with each pair that says the same told once, where the second of them stood.

    The graver verdict leads, else the code set's; the other hangs under it as a part, with its own source. Where both have the
    same source and limits, the lesser is dropped.

    >>> from crownwright.quantity.findings import compare
    >>> from crownwright.quantity.working import PRACTICE, Cite
    >>> mine = compare("cap.cover", "cover", PRACTICE, "hump", 0.05, at_least=0.08, unit="m")
    >>> code = compare("code.hump_cover", "cover", Cite("astm_c1283"), "hump", 0.05, at_least=0.04, unit="m")
    >>> [(one.key, one.verdict.value, [part.key for part in one.parts]) for one in settled((mine, code))]
    [('cap.cover', 'short', ['code.hump_cover'])]
    """
    findings = tuple(findings)
    there = {finding.key for finding in findings}
    twins = {twin: finding for finding in findings if (twin := twin_of(finding.key)) in there}
    gone = {finding.key for finding in twins.values()}
    return tuple(
        _one(finding, twins[finding.key]) if finding.key in twins else finding for finding in findings if finding.key not in gone
    )


def twin_of(key: str) -> str | None:
    """Return the key of the code set's finding that compares the same, None where there is none.

    >>> twin_of("cap.overhang.AB"), twin_of("cap.overhang_most.AB")
    ('code.overhang.AB', None)
    """
    for mine, code in SAME.items():
        if key == mine or key.startswith(f"{mine}."):
            return code + key.removeprefix(mine)
    return None


def gravest(findings: Iterable[Finding]) -> Verdict:
    """Return the gravest verdict of some findings; ok where there are none."""
    return min((finding.verdict for finding in findings), key=GRAVITY.index, default=Verdict.OK)


def _one(code: Finding, mine: Finding) -> Finding:
    head, other = (mine, code) if GRAVITY.index(mine.verdict) < GRAVITY.index(code.verdict) else (code, mine)
    rest = tuple(part for part in (*head.parts, *other.parts) if not _same(part, other) and not _same(part, head))
    told = _same(head, other) or other.cite.document in {part.cite.document for part in rest}
    said = () if told else (replace(other, parts=()),)
    return replace(head, blocks=head.blocks or other.blocks, parts=(*said, *rest))


def _same(one: Finding, other: Finding) -> bool:
    """Whether two findings are of one source and one limit."""
    return (one.cite.document, one.at_least, one.at_most) == (other.cite.document, other.at_least, other.at_most)
