"""Steps that wait for each other in a circle: every circle named, all at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence


def circles(after: Mapping[str, Sequence[str]]) -> tuple[tuple[str, ...], ...]:
    """Return a circle for every group of steps that wait for each other, shortest first within its group.

    ``after`` names for each step what must be done before it. A circle is told as the steps to walk round, each waiting for the
    next, the last for the first; a step that waits for itself is a circle of one. Groups are found by Tarjan's depth-first search
    (1972); names that are no steps are passed over.

    >>> circles({"pour": ["form"], "form": ["strip"], "strip": ["pour"], "seal": ["strip"]})
    (('form', 'strip', 'pour'),)
    """
    found = []
    for group in _groups(after):
        own = any(step in after.get(step, ()) for step in group)
        if len(group) > 1 or own:
            found.append(_shortest(after, group))
    return tuple(sorted(found))


def _groups(after: Mapping[str, Sequence[str]]) -> list[list[str]]:
    """Strongly connected groups, without recursion."""
    index: dict[str, int] = {}
    low: dict[str, int] = {}
    stack: list[str] = []
    on_stack: set[str] = set()
    groups: list[list[str]] = []
    for root in after:
        if root in index:
            continue
        work = [(root, iter(after[root]))]
        index[root] = low[root] = len(index)
        stack.append(root)
        on_stack.add(root)
        while work:
            step, waits = work[-1]
            for other in waits:
                if other not in after:
                    continue
                if other not in index:
                    index[other] = low[other] = len(index)
                    stack.append(other)
                    on_stack.add(other)
                    work.append((other, iter(after[other])))
                    break
                if other in on_stack:
                    low[step] = min(low[step], index[other])
            else:
                work.pop()
                if work:
                    low[work[-1][0]] = min(low[work[-1][0]], low[step])
                if low[step] == index[step]:
                    cut = stack.index(step)
                    groups.append(stack[cut:])
                    on_stack.difference_update(stack[cut:])
                    del stack[cut:]
    return groups


def _shortest(after: Mapping[str, Sequence[str]], group: Sequence[str]) -> tuple[str, ...]:
    """The shortest circle inside a group, begun at its first name by the alphabet."""
    inside = set(group)
    best: tuple[str, ...] | None = None
    for start in sorted(group):
        paths: list[tuple[str, ...]] = [(start,)]
        seen = {start}
        while paths and (best is None or len(paths[0]) < len(best)):
            path = paths.pop(0)
            waits = [step for step in after[path[-1]] if step in inside]
            if start in waits:
                best = path
                break
            fresh = [step for step in dict.fromkeys(waits) if step not in seen]
            seen.update(fresh)
            paths += [(*path, step) for step in fresh]
    assert best is not None  # every step of such a group lies on a circle
    first = best.index(min(best))
    return best[first:] + best[:first]
