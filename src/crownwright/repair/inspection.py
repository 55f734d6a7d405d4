"""What was looked at and how, and the inspection level that makes: never more than was done."""

from __future__ import annotations

from crownwright.codes.nfpa_211_levels import CITE, WHEN, Level, level
from crownwright.quantity.findings import Finding, Verdict, compare
from crownwright.quantity.working import Figure, Term
from crownwright.repair.record import Look, RepairRecord

_ORDER = ("from the ground", "close to", "by hand", "by camera", "opened up", "not there")
INSIDE = ("by camera", "opened up")
"""Ways of looking that tell of a flue below its top."""


def best_looks(looked: tuple[Look, ...]) -> dict[str, str]:
    """Return each part with the closest way in which it was looked at."""
    best: dict[str, str] = {}
    for look in looked:
        if _ORDER.index(look.how) >= _ORDER.index(best.get(look.part, "from the ground")):
            best[look.part] = look.how
    return best


def level_of(record: RepairRecord) -> Level:
    """Return the level that was reached, by what was looked at."""
    return level(best_looks(record.looked))


def level_says(record: RepairRecord) -> str:
    """Return what may be printed of the inspection, in a sentence."""
    reached, looks = level_of(record), best_looks(record.looked)
    seen = ", ".join(f"{part} {how}" for part, how in looks.items() if how != "not there")
    if not looks:
        return "What was looked at is not told; no inspection level is claimed."
    if reached.reached == 0:
        return f"Looked at: {seen}. That makes no whole inspection level; none is claimed."
    wants = f" Level {reached.reached + 1} would take in also: {', '.join(reached.wants)}." if reached.wants else ""
    return f"Looked at: {seen}. That is what level {reached.reached} takes in.{wants}"


def check_level(record: RepairRecord) -> tuple[Finding, ...]:
    """Return the level reached against what somebody wants printed, and whether a flue was looked into at all."""
    reached, looks = level_of(record), best_looks(record.looked)
    found = []
    if record.claimed is not None:
        wants = ", ".join(reached.wants)
        action = f"Print no level {record.claimed}: it would also take in {wants}. It is asked for at {_when(record)}."
        found.append(
            compare(
                "repair.level",
                "inspection level claimed",
                CITE,
                "what was looked at",
                float(reached.reached),
                at_least=float(record.claimed),
                action=action,
            )
        )
    if looks.get("flue inside") not in INSIDE:
        action = (
            "Have the flues looked into by camera before a cap is cast round them: a liner cracked below its top does not show."
        )
        subject = (
            f"flues below their tops, looked at {looks['flue inside']}" if "flue inside" in looks else "flues below their tops"
        )
        found.append(Finding("repair.flue_inside", "liner sound and clear", CITE, subject, Verdict.CANNOT_TELL, action))
    return tuple(found)


def figure_level(record: RepairRecord) -> Figure:
    """Return the level reached as a figure: its inputs are the parts and how each was looked at."""
    terms = tuple(Term("", part, how) for part, how in best_looks(record.looked).items())
    formula = "the highest level all of whose parts were looked at as it asks"
    return Figure("repair.level_reached", "inspection level reached", float(level_of(record).reached), "1", formula, terms, CITE)


def _when(record: RepairRecord) -> str:
    return WHEN.get(record.claimed or 0, "no time")
