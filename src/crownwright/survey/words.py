"""What is said to the mason, in his words: suspects, the next readings, and what the tapes were compared with."""

from __future__ import annotations

from collections.abc import Callable
from math import isfinite

from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.lengths import print_length
from crownwright.quantity.working import Cite
from crownwright.survey.ask import SURE, Asked, say_pair
from crownwright.survey.least_squares import Array
from crownwright.survey.model import Closure, NextReading, Suspect
from crownwright.survey.readings import Drop, Length, OnSide, Readings
from crownwright.survey.slip_kinds import scale_of
from crownwright.survey.tapes import TapedTop

_CLOSES = Cite("ghilani_2010", "ch. 16, chi-square test of the adjustment")
_BAARDA = Cite("baarda_1968", "reliability")
_BAYES = Cite("lindley_1956", standing="from memory")
_FEW_DROPS = 9
"""Drops under which more are asked for (a judgement: what they save is told with them)."""
_NARROWS = "narrows the concrete's volume, so fewer bags for the same risk"


def metric(readings: Readings) -> bool:
    """Whether most tapes were typed in metric."""
    scales = [scale_of(t.reads.metres, t.reads.typed) == "metric" for t in readings.tapes if isfinite(t.reads.metres)]
    return sum(scales) > len(scales) / 2


def say(metres: float, in_metric: bool, finest: int = 8) -> str:
    """A length as this mason says it.

    >>> say(0.9525, False), say(0.9525, True)
    ('37 1/2 in.', '953 mm')
    """
    return print_length(metres, "mm") if in_metric else print_length(metres, "in.", finest)


def hiding(mm: bool) -> str:
    """The slip that the next readings must show, in marks of the mason's tape."""
    return "a slip of some centimetres" if mm else "a one-inch slip"


def next_tapes(top: TapedTop, suspected: bool, asked: tuple[Asked, ...], mm: bool) -> tuple[NextReading, ...]:
    """Word the tapes that are still wanted, in the names of what was read already where it is the same tape; ``mm`` as below."""
    hides = hiding(mm)
    taken: dict[tuple[int, int], int] = {}
    for k, (a, b) in enumerate(zip(top.tapes.start.tolist(), top.tapes.end.tolist(), strict=True)):
        taken.setdefault((min(a, b), max(a, b)), k)
    out = []
    for item in asked:
        start, end = say_pair(item.pair, top.layout.names.points)
        shown = _join([short(said) for said in item.shows])
        if suspected:
            gains = f"helps to tell which reading is off: {shown}" if shown else "helps to tell which reading is off"
        else:
            gains = f"{hides} in {shown or 'a tape'} could still hide; this would show it"
        out.append(NextReading("tape", _ask(top, taken.get(item.pair), start, end), gains, start, end))
    return tuple(out)


def _ask(top: TapedTop, again: int | None, start: str, end: str) -> str:
    if again is None:
        return f"Tape {start} to {end}"
    said = short(top.tapes.said[again])
    return f"Read {said} again" if again < top.tapes.tapes else f"Measure the {said} again"


def short(said: str) -> str:
    """A reading without the word tape."""
    return said.removeprefix("tape ")


def _join(words: list[str]) -> str:
    return words[0] if len(words) == 1 else ", ".join(words[:-1]) + " or " + words[-1] if words else ""


def next_others(readings: Readings, sides: dict[str, int], best: Callable[[int], Array]) -> tuple[NextReading, ...]:
    """Offsets and drops that were to be looked for and are not there yet; ``best`` gives the places of so many drops more."""
    out = []
    mm = metric(readings)
    for side in sides:
        if not any(o.side == side and o.proudest for o in readings.offsets):
            ask = f"Along {side}, find the stone that stands out furthest and read how far"
            out.append(NextReading("offset", ask, "bounds the whole side: nothing stands further out", *_ends(side, sides)))
    if not any(d.extreme == "highest" for d in readings.drops):
        out.append(NextReading("drop", "Find the highest hump of the top and read its drop", "bounds the cover over the stone"))
    low = {d.place.side for d in readings.drops if _is_lowest(d) and isinstance(d.place, OnSide)}
    for side in sides:
        if side not in low:
            ask = f"Along {side}, find the lowest sound edge and read its drop"
            out.append(NextReading("drop", ask, "sets how low the underside of the cap must reach", *_ends(side, sides)))
    missing = len([n for n in out if n.kind == "drop"])
    wanted = max(_FEW_DROPS - len(readings.drops) - missing, 0)
    first = next(iter(sides))
    for x, y in best(wanted).tolist():
        along, inward = (Length(v, say(v, mm, 1)) for v in (max(x, 0.0), max(y, 0.0)))
        ask = f"Read the drop {along.typed} along {first} and {inward.typed} in from it"
        out.append(NextReading("drop", ask, _NARROWS, place=OnSide(first, along, inward)))
    return tuple(out)


def _is_lowest(drop: Drop) -> bool:
    return drop.extreme == "lowest edge"


def _ends(side: str, sides: dict[str, int]) -> tuple[str, str]:
    names = list(sides)
    following = names[(sides[side] + 1) % len(names)]
    # the corner that two sides share is the end of one name and the beginning of the next
    for cut in range(1, len(side)):
        if following.startswith(side[cut:]):
            return side[:cut], side[cut:]
    return "", ""


def tape_findings(closure: Closure, suspects: tuple[Suspect, ...], doubt: float, mm: bool) -> tuple[Finding, ...]:
    """What the tapes were compared with, in plain words; ``doubt`` see `ask.doubt`, ``mm`` to speak in millimetres."""
    return (_closes(closure, suspects, mm), *(_slip(s, mm) for s in suspects), _findable(doubt, closure, mm))


def _closes(closure: Closure, suspects: tuple[Suspect, ...], mm: bool) -> Finding:
    subject = f"the tapes close within {say(closure.worst, mm, 16)}"
    if closure.freedom == 0:
        subject, verdict, action = "nothing checks the tapes", Verdict.CANNOT_TELL, "Take the next readings"
    elif suspects:
        verdict, action = Verdict.SHORT, "Read again what is named below before climbing down"
    else:
        verdict = Verdict.OK if closure.closes else Verdict.SHORT
        action = "" if closure.closes else "No one tape stands out: take the next readings"
    rule = "the tapes fit each other as well as careful tapes do"
    provided = closure.statistic if closure.freedom else None
    return Finding("survey.closes", rule, _CLOSES, subject, verdict, action, at_most=closure.limit or None, provided=provided)


def _slip(suspect: Suspect, mm: bool) -> Finding:
    name = suspect.name[0].upper() + suspect.name[1:]
    reads, likely, closes = say(suspect.reads, mm), say(suspect.likely, mm), say(suspect.closes, mm, 16)
    kind = "" if suspect.kind == "does not fit" else f": {_SLIP_WORDS.get(suspect.kind, suspect.kind)}?"
    subject = f"{name} reads {reads}; {likely} closes within {closes}{kind}"
    action = f"Read {short(suspect.name)} again"
    if not suspect.named and suspect.rivals:
        action += f"; it may be {_join([short(r) for r in suspect.rivals])} instead"
    elif suspect.named:
        action += "; until then the plan stands without it"
    return Finding(
        f"survey.slip.{suspect.index}", "every tape fits the others", _BAARDA, subject, Verdict.SHORT, action,
        at_least=suspect.likely, at_most=suspect.likely, provided=suspect.reads, unit="m",
    )  # fmt: skip


_SLIP_WORDS = {
    "one inch": "a one-inch slip",
    "half an inch": "a half-inch misread",
    "one foot": "a one-foot slip",
    "swapped digits": "digits swapped",
    "ten centimetres": "a ten-centimetre slip",
}


def _findable(doubt: float, closure: Closure, mm: bool) -> Finding:
    rule = f"no slip of {'some centimetres' if mm else 'an inch'} hides in a tape, and none is laid to the wrong tape"
    verdict = Verdict.CANNOT_TELL if closure.freedom == 0 else Verdict.OK if doubt <= SURE else Verdict.SHORT
    action = "Take the next readings while still up there" if doubt > SURE else ""
    subject = "chance that one does"
    return Finding("survey.findable", rule, _BAYES, subject, verdict, action, at_most=SURE, provided=doubt, unit="share")
