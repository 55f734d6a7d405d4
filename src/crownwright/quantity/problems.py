"""Bad field data are values: every problem says where it is, what is wrong and what to do about it. All come at once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with what was entered.

    ``where`` is the key in the job file or the name of the reading (``tapes[3].reads``, ``tape DA``); ``what`` is wrong, with the
    value as typed; ``remedy`` is what to do about it (on the roof, if that is where he is). ``stops`` is false where the plan can
    go on without the thing.
    """

    where: str
    what: str
    remedy: str
    stops: bool = True

    def __str__(self) -> str:
        """One line for a terminal: where: what. Remedy; an inch at the end of what is wrong brings its own full stop."""
        return f"{self.where}: {self.what.removesuffix('.')}. {self.remedy}"


class ProblemsError(Exception):
    """Raised only at the edge (command line, pages, API convenience) to carry a whole list of problems out at once."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(map(str, self.problems)))
