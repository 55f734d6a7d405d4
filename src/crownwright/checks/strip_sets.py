"""Sets of a form's parts or fasteners as whole numbers, a bit each: a search asks for them many thousands of times.

``a & b`` is what two sets share, ``a | b`` both together, ``a & ~b`` what is left of the first.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator


class Names:
    """Names, each with a bit of its own, the first with the lowest.

    >>> names = Names(("stone", "wall", "soffit"))
    >>> names.of(("soffit", "stone")), names.told(5)
    (5, ('stone', 'soffit'))
    """

    def __init__(self, names: Iterable[str]) -> None:
        self._names = tuple(names)
        self._bit = {name: 1 << k for k, name in enumerate(self._names)}

    def bit(self, name: str) -> int:
        """Return the set of one name; KeyError for a name that is not among them."""
        return self._bit[name]

    def of(self, names: Iterable[str]) -> int:
        """Return the set of some names."""
        bits = 0
        for name in names:
            bits |= self._bit[name]
        return bits

    def told(self, bits: int) -> tuple[str, ...]:
        """Return the names of a set, in their order."""
        return tuple(self._names[one.bit_length() - 1] for one in each(bits))


def each(bits: int) -> Iterator[int]:
    """Yield the members of a set, each as a set of one, the lowest first.

    >>> list(each(0b1101))
    [1, 4, 8]
    """
    while bits:
        lowest = bits & -bits
        yield lowest
        bits ^= lowest
