"""Search for an order in which a form comes off its concrete, and where there is none, name the fewest fasteners to move.

Parts come off one by one or, where a fastener cannot be drawn, together as they are; straight off or, where that is not free,
first clear by their own length and then away (a drip moulding drops out of its groove before it goes sideways). Taking anything
off never hinders the rest: it only opens room. So whatever comes off next, nothing is lost, and the first dead end proves that
there is no order at all. For one part and one move the smallest group that must go along is found by closing over two needs:
who is joined to it by a fastener that cannot be drawn, and who stands in its way.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations, islice

from crownwright.checks.strip_model import FAR, STONE, Fastener, FormModel, Leg, Part, Prism, Step, StripOrder
from crownwright.checks.strip_motion import line_meets, runs_into

Move = tuple[Leg, ...]
Moves = Callable[[Part], Iterator[Move]]
TRIALS, CANDIDATES = 200, 200_000
"""Most rounds, and most sets looked at in one round, in the search for the fewest fasteners to move."""


def strip_order(form: FormModel) -> StripOrder:
    """Return how the form comes off after the pour, or the fasteners to move, or what is locked.

    Raises ValueError for a name used twice or a fastener that joins an unknown part.
    """
    _check_names(form)
    search = _Search(form)
    end = search.take_apart(search.start, frozenset())
    undrivable = search.undrivable(end)
    if not end.left:
        return StripOrder(end.steps, undrivable=undrivable)
    hidden = search.stuck(end.left, end.drawn, frozenset())
    locked = search.take_apart(end, frozenset(hidden)).left
    move, fewest = search.fewest_to_move(end, hidden, locked)
    return StripOrder(end.steps, search.in_order(end.left), move, fewest, search.in_order(locked), undrivable)


@dataclass(frozen=True, slots=True)
class _End:
    """How far taking apart has come: the steps, the parts left, the fasteners drawn on the way."""

    steps: tuple[Step, ...]
    left: frozenset[str]
    drawn: frozenset[str]


class _Search:
    """The questions asked over and over, each answered once. Holds caches only; a form is not changed by being searched."""

    def __init__(self, form: FormModel) -> None:
        self.form = form
        self.solid = (*form.concrete, *form.stone)
        self.parts = {part.name: part for part in form.parts}
        self.start = _End((), frozenset(self.parts), frozenset())
        self._covers: dict[str, frozenset[str]] = {}
        self._blockers: dict[tuple[str, Move], frozenset[str]] = {}
        self._allowed: dict[tuple[str, Move], bool] = {}
        self._moves: dict[tuple[Moves, str], tuple[Move, ...]] = {}

    def in_order(self, names: Iterable[str]) -> tuple[str, ...]:
        """Return names in the order the form lists its parts."""
        wanted = set(names)
        return tuple(name for name in self.parts if name in wanted)

    def take_apart(self, start: _End, freed: frozenset[str]) -> _End:
        """Go on from ``start`` and take off what comes off, with the fasteners in ``freed`` taken as reachable."""
        left, drawn, steps = start.left, start.drawn, list(start.steps)
        while left and (step := self._next(left, drawn, freed)) is not None:
            steps.append(step)
            left, drawn = left - set(step.parts), drawn | set(step.draw)
        return _End(tuple(steps), left, drawn)

    def stuck(self, left: frozenset[str], drawn: frozenset[str], freed: frozenset[str]) -> tuple[str, ...]:
        """Return the fasteners that still hold something that is left and cannot be reached."""
        free = drawn | freed
        holding = (one for one in self.form.fasteners if one.name not in free and left & set(one.joins))
        return tuple(one.name for one in holding if not self._drawable(one, left))

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
        never = (one for one in self.form.fasteners if one.name not in end.drawn)
        return tuple(one.name for one in never if self._covered(one))

    def _covered(self, fastener: Fastener) -> bool:
        """Whether a part it joins, or the stone where it joins that, is over its head."""
        if STONE in fastener.joins and _meets(fastener, self.form.stone):
            return True
        return any(_meets(fastener, self.parts[name].prisms) for name in fastener.joins if name != STONE)

    def _next(self, left: frozenset[str], drawn: frozenset[str], freed: frozenset[str]) -> Step | None:
        """Return the step that takes the fewest parts off, or None at a dead end."""
        stuck = set(self.stuck(left, drawn, freed))
        for moves in (_straight, _clear_and_away):
            best: tuple[set[str], Move] | None = None
            for group, move in self._groups(moves, left, stuck):
                if best is None or len(group) < len(best[0]):
                    best = group, move
                if len(group) == 1:
                    break
            if best is not None:
                return self._step(*best, left, drawn)
        return None

    def _groups(self, moves: Moves, left: frozenset[str], stuck: set[str]) -> Iterator[tuple[set[str], Move]]:
        for name in self.in_order(left):
            for move in self._free_moves(moves, name):
                group = self._closed(name, move, left, stuck)
                if group:
                    yield group, move

    def _free_moves(self, moves: Moves, name: str) -> tuple[Move, ...]:
        """Return the moves of a part that neither concrete nor stone forbids; that never changes, so it is worked out once."""
        at = (moves, name)
        if at not in self._moves:
            self._moves[at] = tuple(move for move in moves(self.parts[name]) if self._may(name, move))
        return self._moves[at]

    def _closed(self, name: str, move: Move, left: frozenset[str], stuck: set[str]) -> set[str] | None:
        """Return the smallest group that must go along with a part in this move; None if one of it cannot go."""
        group, todo = set[str](), [name]
        while todo:
            one = todo.pop()
            if one in group:
                continue
            if one == STONE or not self._may(one, move):
                return None
            group.add(one)
            todo += self._tied(one, left, stuck)
            todo += (self._blocking(one, move) & left) - group
        return group

    def _may(self, name: str, move: Move) -> bool:
        """Whether a part may go this way at all and nothing solid forbids it."""
        at = (name, move)
        if at not in self._allowed:
            ways = all(self.parts[name].may_go(leg.way) for leg in move)
            self._allowed[at] = ways and not _runs_into_any(self.parts[name], move, self.solid)
        return self._allowed[at]

    def _tied(self, name: str, left: frozenset[str], stuck: set[str]) -> list[str]:
        ties = (one for one in self.form.fasteners if one.name in stuck and name in one.joins)
        return [other for one in ties for other in one.joins if other in left or other == STONE]

    def _step(self, group: set[str], move: Move, left: frozenset[str], drawn: frozenset[str]) -> Step:
        """Fasteners wholly inside the group stay in; those that join it to the rest are drawn."""
        rest = (left - group) | {STONE}
        ties = (one for one in self.form.fasteners if one.name not in drawn)
        draw = tuple(one.name for one in ties if group & set(one.joins) and rest & set(one.joins))
        return Step(draw, self.in_order(group), move)

    def _drawable(self, fastener: Fastener, left: frozenset[str]) -> bool:
        """Whether hand and driver reach its head past concrete, stone and the parts still there."""
        covers = self._covering(fastener)
        return STONE not in covers and not covers & left

    def _covering(self, fastener: Fastener) -> frozenset[str]:
        """Return the parts in the way of its head, and `STONE` where concrete or stone is."""
        if fastener.name not in self._covers:
            over = {name for name, part in self.parts.items() if _meets(fastener, part.prisms)}
            self._covers[fastener.name] = frozenset(over | {STONE} if _meets(fastener, self.solid) else over)
        return self._covers[fastener.name]

    def _blocking(self, name: str, move: Move) -> frozenset[str]:
        """Return the parts that stand in a part's way in this move."""
        at = (name, move)
        if at not in self._blockers:
            others = ((other, part) for other, part in self.parts.items() if other != name)
            mine = self.parts[name]
            self._blockers[at] = frozenset(other for other, part in others if _runs_into_any(mine, move, part.prisms))
        return self._blockers[at]


def _meets(fastener: Fastener, prisms: tuple[Prism, ...]) -> bool:
    return any(line_meets(*line, prism) for prism in prisms for line in fastener.reach)


def _runs_into_any(part: Part, move: Move, fixed: tuple[Prism, ...]) -> bool:
    return any(runs_into(mine, move, theirs) for mine in part.prisms for theirs in fixed)


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
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            raise ValueError(f"{what} named twice: {', '.join(twice)}")
    for one in form.fasteners:
        unknown = [name for name in one.joins if name not in {*parts, STONE}]
        if unknown:
            raise ValueError(f"fastener {one.name!r} joins unknown part {unknown[0]!r}; parts are: {', '.join(parts)}")
