"""Search for an order in which a form comes off its concrete, and where there is none, name the fewest fasteners to move.

Parts come off one by one or, where a fastener cannot be drawn, together as they are; straight off or, where that is not free,
first clear by their own length and then away (a drip moulding drops out of its groove before it goes sideways). Taking anything
off never hinders the rest: it only opens room. So whatever comes off next, nothing is lost, and the first dead end proves that
there is no order at all. For one part and one move the smallest group that must go along is found by closing over two needs:
who is joined to it by a fastener that cannot be drawn, and who stands in its way.

Of all that could come off next, that is taken which leaves nothing hanging unheld, alone or with what would come down taken
along; where every choice lets something fall, the one that drops the least wood, and the step names it. That is a choice step by
step: an order that drops still less is not ruled out.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import islice

from crownwright.checks.strip_fewest import fewest_that_do
from crownwright.checks.strip_hold import Holding
from crownwright.checks.strip_model import STONE, FormModel, Step, StripOrder
from crownwright.checks.strip_motion import SOLID, Move, Solids
from crownwright.checks.strip_sets import Names, each
from crownwright.checks.strip_ways import Moves, Ways, clear_and_away, straight

IN_HAND = 0.02
"""Most wood that is taken off in one piece only so that none of it falls, m3: about 10 kg (a judgement)."""
AS_LITTLE = 1.5
"""Wood that falls up to this many times the least is taken for as little: the form's own order then decides."""


def strip_order(form: FormModel) -> StripOrder:
    """Return how the form comes off after the pour, or the fasteners to move, or what is locked.

    Raises ValueError for a name used twice or a fastener that joins an unknown part.
    """
    _check_names(form)
    search = _Search(form)
    end = search.take_apart(search.start, 0, gently=True)
    undrivable = search.undrivable(end)
    loose = search.names.told(search.start.propped)
    if not end.left:
        return StripOrder(end.steps, undrivable=undrivable, loose=loose)
    hidden = search.pins.told(search.stuck(end.left, end.drawn))
    locked = search.take_apart(end, search.pins.of(hidden)).left

    def enough(freed: Iterable[str]) -> bool:
        return not search.take_apart(end, search.pins.of(freed)).left & ~locked

    move, fewest = fewest_that_do(hidden, enough)
    return StripOrder(end.steps, search.names.told(end.left), move, fewest, search.names.told(locked), undrivable, loose)


@dataclass(frozen=True, slots=True)
class _End:
    """How far taking apart has come: the steps, the parts left, the fasteners drawn, the parts that are propped by then."""

    steps: tuple[Step, ...]
    left: int
    drawn: int = 0
    propped: int = 0


@dataclass(frozen=True, slots=True)
class _Pin:
    """A fastener as sets: itself, what it joins, what covers its head."""

    one: int
    joins: int
    covers: int


class _Search:
    """The questions asked over and over, each answered once. Holds caches only; a form is not changed by being searched.

    Sets of parts and of fasteners are whole numbers (`strip_sets`), in the order the form lists them.
    """

    def __init__(self, form: FormModel) -> None:
        self.form = form
        self.names, self.pins = Names((STONE, *(part.name for part in form.parts))), Names(one.name for one in form.fasteners)
        self._parts = {self.names.bit(part.name): part for part in form.parts}
        solid = [(SOLID, prism) for prism in (*form.concrete, *form.stone)]
        solids = Solids([*((own, prism) for own, part in self._parts.items() for prism in part.prisms), *solid])
        self._holding, self._ways = Holding(form, solids, self.names, self.pins), Ways(self._parts, solids)
        whole = sum(self._parts)
        self.start = _End((), whole, propped=self._holding.unheld(whole, 0, 0))
        covers = solids.over(form.fasteners)
        self._pins = [
            _Pin(self.pins.bit(one.name), self.names.of(one.joins), over)
            for one, over in zip(form.fasteners, covers, strict=True)
        ]
        self._coverable = [pin for pin in self._pins if pin.covers]
        self._joints = {one: _joints(pin for pin in self._pins if pin.joins & one) for one in self._parts}
        self._tied = {one: sum(pins for _, pins in joints) for one, joints in self._joints.items()}

    def take_apart(self, start: _End, freed: int, *, gently: bool = False) -> _End:
        """Go on from ``start`` and take off what comes off, with the fasteners in ``freed`` taken as reachable.

        What comes off in the end is the same ``gently`` or not; gently, so that the least falls on the way.
        """
        end: _End | None = start
        while end is not None and end.left:
            start, end = end, self._next(end, freed, gently=gently)
        return end or start

    def stuck(self, left: int, free: int) -> int:
        """Return the fasteners that still hold something that is left and cannot be reached; ``free`` ones can."""
        there, found = left | SOLID, 0
        for pin in self._coverable:
            if pin.covers & there and pin.joins & left:
                found |= pin.one
        return found & ~free

    def undrivable(self, end: _End) -> tuple[str, ...]:
        """Return fasteners that could not even be driven: not drawn on the way, and covered by a part they join or by stone."""
        never = [(one, pin) for one, pin in zip(self.form.fasteners, self._pins, strict=True) if not pin.one & end.drawn]
        stone = Solids((SOLID, prism) for prism in self.form.stone).over([one for one, _ in never])
        by = ((one, pin, pin.covers & ~SOLID | under) for (one, pin), under in zip(never, stone, strict=True))
        return tuple(one.name for one, pin, over in by if over & pin.joins)

    def _next(self, end: _End, freed: int, *, gently: bool) -> _End | None:
        """Return how it stands a step on, None at a dead end: what drops the least, one part before several together."""
        stuck = self.stuck(end.left, end.drawn | freed)
        for moves in (straight, clear_and_away):
            found: list[tuple[int, Move, int]] = []
            for group, move in self._candidates(moves, end, stuck, gently=gently):
                falls = self._falls(group, end) if gently else 0
                if not falls:
                    return self._after(end, group, move)
                found.append((group, move, falls))
            if found:
                drops = [self._holding.volume(falls) for _, _, falls in found]
                best = next(k for k, drop in enumerate(drops) if drop <= AS_LITTLE * min(drops))
                return self._after(end, *found[best])
        return None

    def _after(self, end: _End, group: int, move: Move, falls: int = 0) -> _End:
        """Fasteners wholly inside the group stay in; those that join it to the rest are drawn."""
        draw = self._to_draw(group, end)
        step = Step(self._in_turn(group, draw), self.names.told(group), move, self.names.told(falls))
        return _End((*end.steps, step), end.left & ~group, end.drawn | draw, end.propped | falls)

    def _to_draw(self, group: int, end: _End) -> int:
        rest, draw = end.left & ~group | SOLID, 0
        for one in each(group):
            for joins, pins in self._joints[one]:
                if joins & rest:
                    draw |= pins
        return draw & ~end.drawn

    def _in_turn(self, group: int, draw: int) -> tuple[str, ...]:
        """The names of fasteners to draw, part by part."""
        told: list[str] = []
        for one in each(group):
            told += self.pins.told(draw & self._tied[one])
            draw &= ~self._tied[one]
        return tuple(told)

    def _falls(self, group: int, end: _End) -> int:
        """What would come down if a group were taken off now."""
        return self._holding.unheld(end.left & ~group, end.drawn | self._to_draw(group, end), end.propped)

    def _candidates(self, moves: Moves, end: _End, stuck: int, *, gently: bool) -> Iterator[tuple[int, Move]]:
        """Yield what can come off next: single parts, each then with what would fall, then groups, the smallest first."""
        alone = self._alone(moves, end.left, stuck)
        singles = alone if gently else islice(alone, 1)
        kept = []
        for one, move in singles:
            kept.append(one)
            yield one, move
        for one in kept:
            yield from self._with_what_falls(moves, one, end, stuck)
        if not kept:
            yield from sorted(self._groups(moves, end.left, stuck), key=lambda found: found[0].bit_count())

    def _with_what_falls(self, moves: Moves, one: int, end: _End, stuck: int) -> Iterator[tuple[int, Move]]:
        """Yield a part together with what would fall without it and is fastened to it: left so, it comes along in the hand."""
        whole = self._fastened(one, self._falls(one, end), end.drawn)
        if whole == one or self._holding.volume(whole) > IN_HAND:
            return
        for move, _ in self._ways.options(moves, one):
            if self._closed(whole, move, end.left, stuck) == whole:
                yield whole, move  # what falls hangs on what is taken, not on the way it goes
                return

    def _fastened(self, group: int, others: int, drawn: int) -> int:
        """Add to a group what of some others is fastened to it, directly or through one another."""
        whole, todo = group, [group]
        while todo:
            for joins, pins in self._joints[todo.pop()]:
                if pins & ~drawn and not joins & SOLID:
                    more = joins & others & ~whole
                    whole |= more
                    todo += each(more)
        return whole

    def _alone(self, moves: Moves, left: int, stuck: int) -> Iterator[tuple[int, Move]]:
        for one in each(left):
            if not self._tied[one] & stuck:
                free = next((move for move, blocking in self._ways.options(moves, one) if not blocking & left), None)
                if free is not None:
                    yield one, free

    def _groups(self, moves: Moves, left: int, stuck: int) -> Iterator[tuple[int, Move]]:
        for one in each(left):
            for move, _ in self._ways.options(moves, one):
                group = self._closed(one, move, left, stuck)
                if group:
                    yield group, move

    def _closed(self, parts: int, move: Move, left: int, stuck: int) -> int:
        """Return the smallest group that must go along with some parts in this move; none if one of it cannot go."""
        group, todo = 0, parts
        while todo:
            one = todo & -todo
            if one == SOLID or not all(self._parts[one].may_go(leg.way) for leg in move):
                return 0
            along = self._ways.in_the_way(one, move)
            if along & SOLID:
                return 0
            for joins, pins in self._joints[one]:
                if pins & stuck:
                    along |= joins
            group |= one
            todo = (todo | along & (left | SOLID)) & ~group
        return group


def _joints(pins: Iterable[_Pin]) -> list[tuple[int, int]]:
    """Fasteners gathered by what they join: the parts, and the fasteners that join them."""
    found: dict[int, int] = {}
    for pin in pins:
        found[pin.joins] = found.get(pin.joins, 0) | pin.one
    return list(found.items())


def _check_names(form: FormModel) -> None:
    parts, fasteners = [part.name for part in form.parts], [one.name for one in form.fasteners]
    for names, what in ((parts, "part"), (fasteners, "fastener")):
        twice = sorted(name for name, count in Counter(names).items() if count > 1)
        if twice:
            raise ValueError(f"{what} named twice: {', '.join(twice)}")
    for one in form.fasteners:
        unknown = [name for name in one.joins if name not in {*parts, STONE}]
        if unknown:
            raise ValueError(f"fastener {one.name!r} joins unknown part {unknown[0]!r}; parts are: {', '.join(parts)}")
