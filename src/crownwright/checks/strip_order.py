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
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations, islice

from crownwright.checks.strip_hold import Holding
from crownwright.checks.strip_model import FAR, STONE, FormModel, Leg, Part, Step, StripOrder
from crownwright.checks.strip_motion import Solids

Move = tuple[Leg, ...]
Moves = Callable[[Part], Iterator[Move]]
IN_HAND = 0.02
"""Most wood that is taken off in one piece only so that none of it falls, m3: about 10 kg (a judgement)."""
AS_LITTLE = 1.5
"""Wood that falls up to this many times the least is taken for as little: the form's own order then decides."""
TRIALS, CANDIDATES = 200, 200_000
"""Most rounds, and most sets looked at in one round, in the search for the fewest fasteners to move."""


def strip_order(form: FormModel) -> StripOrder:
    """Return how the form comes off after the pour, or the fasteners to move, or what is locked.

    Raises ValueError for a name used twice or a fastener that joins an unknown part.
    """
    _check_names(form)
    search = _Search(form)
    end = search.take_apart(search.start, frozenset(), gently=True)
    undrivable = search.undrivable(end)
    loose = search.in_order(search.start.propped)
    if not end.left:
        return StripOrder(end.steps, undrivable=undrivable, loose=loose)
    hidden = search.stuck(end.left, end.drawn, frozenset())
    locked = search.take_apart(end, frozenset(hidden)).left
    move, fewest = search.fewest_to_move(end, hidden, locked)
    return StripOrder(end.steps, search.in_order(end.left), move, fewest, search.in_order(locked), undrivable, loose)


@dataclass(frozen=True, slots=True)
class _End:
    """How far taking apart has come: the steps, the parts left, the fasteners drawn, the parts that are propped by then."""

    steps: tuple[Step, ...]
    left: frozenset[str]
    drawn: frozenset[str]
    propped: frozenset[str] = frozenset()


class _Search:
    """The questions asked over and over, each answered once. Holds caches only; a form is not changed by being searched."""

    def __init__(self, form: FormModel) -> None:
        self.form = form
        self.parts = {part.name: part for part in form.parts}
        solid = [(STONE, prism) for prism in (*form.concrete, *form.stone)]
        self._solids = Solids([*((part.name, prism) for part in form.parts for prism in part.prisms), *solid])
        self._holding = Holding(form, self._solids)
        whole = frozenset(self.parts)
        self.start = _End((), whole, frozenset(), self._holding.unheld(whole, frozenset(), frozenset()))
        self._covers = {one.name: self._solids.over(one) for one in form.fasteners}
        self._coverable = [one for one in form.fasteners if self._covers[one.name]]
        self._ties = {name: [one for one in form.fasteners if name in one.joins] for name in self.parts}
        self._ways: dict[tuple[str, Move], frozenset[str]] = {}
        self._found: dict[tuple[Moves, str], list[tuple[Move, frozenset[str]]]] = {}
        self._untried: dict[tuple[Moves, str], Iterator[Move]] = {}

    def in_order(self, names: Iterable[str]) -> tuple[str, ...]:
        """Return names in the order the form lists its parts."""
        wanted = set(names)
        return tuple(name for name in self.parts if name in wanted)

    def take_apart(self, start: _End, freed: frozenset[str], *, gently: bool = False) -> _End:
        """Go on from ``start`` and take off what comes off, with the fasteners in ``freed`` taken as reachable.

        What comes off in the end is the same ``gently`` or not; gently, so that the least falls on the way.
        """
        end = start
        while end.left and (step := self._next(end, freed, gently=gently)) is not None:
            end = _End((*end.steps, step), end.left - set(step.parts), end.drawn | set(step.draw), end.propped | set(step.falls))
        return end

    def stuck(self, left: frozenset[str], drawn: frozenset[str], freed: frozenset[str]) -> tuple[str, ...]:
        """Return the fasteners that still hold something that is left and cannot be reached."""
        there, free = left | {STONE}, drawn | freed
        hidden = (one for one in self._coverable if not self._covers[one.name].isdisjoint(there))
        return tuple(one.name for one in hidden if one.name not in free and not left.isdisjoint(one.joins))

    def fewest_to_move(self, end: _End, hidden: tuple[str, ...], locked: frozenset[str]) -> tuple[tuple[str, ...], bool]:
        """Return the fewest of the ``hidden`` fasteners that, freed, leave only what is locked; and whether fewest is proved.

        A set that fails shows a need: whatever it leaves out, one of that must be moved. The fewest that meet all needs found so
        far is a lower bound; when it does the job it is the answer.
        """

        def enough(freed: Iterable[str]) -> bool:
            return self.take_apart(end, frozenset(freed)).left <= locked

        needs: list[frozenset[str]] = []
        for _ in range(TRIALS):
            some = _fewest_meeting(hidden, needs)
            if some is None:
                break
            if enough(some):
                return some, True
            needs.append(frozenset(hidden) - _grown(hidden, some, enough))
        return _thinned(hidden, enough), False

    def undrivable(self, end: _End) -> tuple[str, ...]:
        """Return fasteners that could not even be driven: not drawn on the way, and covered by a part they join or by stone."""
        stone = Solids((STONE, prism) for prism in self.form.stone)
        never = (one for one in self.form.fasteners if one.name not in end.drawn)
        return tuple(
            one.name
            for one in never
            if self._covers[one.name] & (set(one.joins) - {STONE}) or (STONE in one.joins and stone.over(one))
        )

    def _next(self, end: _End, freed: frozenset[str], *, gently: bool) -> Step | None:
        """Return the next step, or None at a dead end: what drops the least, one part alone before the fewest together."""
        stuck = set(self.stuck(end.left, end.drawn, freed))
        for moves in (_straight, _clear_and_away):
            steps: list[Step] = []
            for group, move in self._candidates(moves, end, stuck, gently=gently):
                step = self._step(group, move, end)
                if not gently or not step.falls:
                    return step
                steps.append(step)
            if steps:
                drops = [self._holding.volume(step.falls) for step in steps]
                return next(step for step, drop in zip(steps, drops, strict=True) if drop <= AS_LITTLE * min(drops))
        return None

    def _candidates(self, moves: Moves, end: _End, stuck: set[str], *, gently: bool) -> Iterator[tuple[set[str], Move]]:
        """Yield what can come off next: single parts, each then with what would fall, then groups, the smallest first."""
        alone = self._alone(moves, end.left, stuck)
        singles = alone if gently else islice(alone, 1)
        kept = []
        for group, move in singles:
            kept.append((group, move))
            yield group, move
        for group, _ in kept:
            yield from self._with_what_falls(moves, next(iter(group)), end, stuck)
        if not kept:
            yield from sorted(self._groups(moves, end.left, stuck), key=lambda found: len(found[0]))

    def _with_what_falls(self, moves: Moves, name: str, end: _End, stuck: set[str]) -> Iterator[tuple[set[str], Move]]:
        """Yield a part together with what would fall without it and is fastened to it: left so, it comes along in the hand."""
        falls = self._step({name}, (), end).falls
        whole = self._fastened({name}, set(falls), end.drawn)
        if whole == {name} or self._holding.volume(whole) > IN_HAND:
            return
        for move, _ in self._options(moves, name):
            if self._closed(whole, move, end.left, stuck) == whole:
                yield whole, move  # what falls hangs on what is taken, not on the way it goes
                return

    def _fastened(self, group: set[str], others: set[str], drawn: frozenset[str]) -> set[str]:
        """Add to a group what of some others is fastened to it, directly or through one another."""
        ties = [one.joins for one in self.form.fasteners if one.name not in drawn and STONE not in one.joins]
        whole, before = set(group), 0
        while len(whole) > before:
            before = len(whole)
            for joins in ties:
                if not whole.isdisjoint(joins):
                    whole |= others.intersection(joins)
        return whole

    def _alone(self, moves: Moves, left: frozenset[str], stuck: set[str]) -> Iterator[tuple[set[str], Move]]:
        for name in self.in_order(left):
            if any(one.name in stuck for one in self._ties[name]):
                continue
            for move, blocking in self._options(moves, name):
                if blocking.isdisjoint(left):
                    yield {name}, move
                    break

    def _groups(self, moves: Moves, left: frozenset[str], stuck: set[str]) -> Iterator[tuple[set[str], Move]]:
        for name in self.in_order(left):
            for move, _ in self._options(moves, name):
                group = self._closed((name,), move, left, stuck)
                if group:
                    yield group, move

    def _closed(self, names: Iterable[str], move: Move, left: frozenset[str], stuck: set[str]) -> set[str] | None:
        """Return the smallest group that must go along with some parts in this move; None if one of it cannot go."""
        group, todo = set[str](), list(names)
        while todo:
            one = todo.pop()
            if one in group:
                continue
            if one == STONE or not all(self.parts[one].may_go(leg.way) for leg in move):
                return None
            blocking = self._in_the_way(one, move)
            if STONE in blocking:
                return None
            group.add(one)
            ties = (tie for tie in self._ties[one] if tie.name in stuck)
            todo += [other for tie in ties for other in tie.joins if other in left or other == STONE]
            todo += (blocking & left) - group
        return group

    def _step(self, group: set[str], move: Move, end: _End) -> Step:
        """Fasteners wholly inside the group stay in; those that join it to the rest are drawn."""
        left = end.left - group
        rest = left | {STONE}
        ties = dict.fromkeys(one for name in self.in_order(group) for one in self._ties[name])
        draw = tuple(one.name for one in ties if one.name not in end.drawn and not rest.isdisjoint(one.joins))
        falls = self._holding.unheld(left, end.drawn | set(draw), end.propped)
        return Step(draw, self.in_order(group), move, self.in_order(falls))

    def _options(self, moves: Moves, name: str) -> Iterator[tuple[Move, frozenset[str]]]:
        """Yield the moves that neither concrete nor stone forbids, with the parts in the way; each is tried once, when wanted."""
        at = (moves, name)
        found = self._found.setdefault(at, [])
        untried = self._untried.setdefault(at, moves(self.parts[name]))
        yield from tuple(found)
        for move in untried:
            blocking = self._in_the_way(name, move)
            if STONE not in blocking:
                found.append((move, blocking))
                yield move, blocking

    def _in_the_way(self, name: str, move: Move) -> frozenset[str]:
        """Return the parts, and `STONE` for concrete or stone, that a part runs into in this move."""
        at = (name, move)
        if at not in self._ways:
            self._ways[at] = self._solids.in_the_way(self.parts[name], move)
        return self._ways[at]


def _straight(part: Part) -> Iterator[Move]:
    for way in part.directions:
        yield (Leg(way, FAR),)


def _clear_and_away(part: Part) -> Iterator[Move]:
    """First clear of what it sits in by the part's own length that way, then off square to it."""
    for first in part.directions:
        for second in part.directions:
            if abs(sum(a * b for a, b in zip(first, second, strict=True))) < 0.9:
                yield Leg(first, part.reach_along(first)), Leg(second, FAR)


def _fewest_meeting(names: tuple[str, ...], needs: list[frozenset[str]]) -> tuple[str, ...] | None:
    """Return the fewest names of which at least one is in every need; None where that takes too long to find."""
    sets = (some for size in range(len(names) + 1) for some in combinations(names, size))
    return next((some for some in islice(sets, CANDIDATES) if all(need.intersection(some) for need in needs)), None)


def _grown(names: tuple[str, ...], some: tuple[str, ...], enough: Callable[[Iterable[str]], bool]) -> frozenset[str]:
    """Add to a set that is not enough whatever still leaves it not enough, so that what it shows to be needed is small."""
    grown = set(some)
    for name in names:
        if name not in grown and not enough(grown | {name}):
            grown.add(name)
    return frozenset(grown)


def _thinned(names: tuple[str, ...], enough: Callable[[Iterable[str]], bool]) -> tuple[str, ...]:
    """Leave out one after another while what remains is still enough."""
    kept = list(names)
    for name in names:
        fewer = [one for one in kept if one != name]
        if enough(fewer):
            kept = fewer
    return tuple(kept)


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
