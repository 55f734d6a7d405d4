"""What is told of the bed between cap and stone: bonded or on a slip sheet. The sources do not agree, and both are shown."""

from __future__ import annotations

from crownwright.cap.tell.worked import Worked
from crownwright.cap.words import say
from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.working import PRACTICE, Cite, Figure, Term

SLIPS = Cite("michigan_2015", "R1003.9.1: bond break between cap and masonry")
ANCHORS = Cite("masonry_magazine_1993_08", "p. 10: caps anchored to the chimney")
_WORDS = {
    "slip sheet": (
        ANCHORS,
        "Lay a sheet over the whole bed, lapped 6 in. (152 mm) at joints and turned down nowhere over the face. "
        "The cap is held by its "
        "weight and by lapping the stone; one source anchors caps instead: see what the local code says.",
    ),
    "bonded": (
        SLIPS,
        "Clean the bed to sound stone, damp but with no water standing, and brush a bonding agent in ahead of the pour. A bonded "
        "cap shares the stone's movement and may crack with it; one code asks for a bond break here: see what the local code "
        "says.",
    ),
}


def findings(worked: Worked) -> tuple[Finding, ...]:
    """The choice made, against the source that asks for the other."""
    base = worked.choices.base
    cite, action = _WORDS[base]
    return (
        Finding("cap.base", "what lies between cap and stone", cite, f"base: {base}", Verdict.CANNOT_TELL, action),
        *_key(worked),
    )


def _key(worked: Worked) -> tuple[Finding, ...]:
    """A hollowed-out top course keys the cap against sliding; with none, nothing but lap and friction does."""
    deep = worked.choices.hollow_depth
    if deep <= 0:
        return ()
    action = f"Hollow the top course {say(deep)} deep, {say(worked.choices.hollow_inset)} in from the face; it keys the cap."
    return (Finding("cap.key", "cap keyed into the top course", PRACTICE, "hollowed-out top course", Verdict.OK, action),)


def figures(worked: Worked) -> tuple[Figure, ...]:
    """Area of the bed: slip sheet to buy, or bonding agent to brush."""
    label = "slip sheet over the stone" if worked.choices.base == "slip sheet" else "bed to brush with bonding agent"
    terms = (Term("solid", "plan of the concrete", worked.parts.solid, "m2"),)
    return (Figure("cap.bed", label, worked.parts.bed, "m2", "stone's outline less the joints' holes; laps not counted", terms),)
