"""Check the readings of a job alone: do the tapes close, which one is off, what is still to be read. For while he is still up."""

from __future__ import annotations

from dataclasses import dataclass

from crownwright.plan.job import Job
from crownwright.quantity.problems import Problem
from crownwright.service.closing import closes, closing_words, next_words
from crownwright.service.jobfile import with_lines
from crownwright.survey.adjust import adjust
from crownwright.survey.model import Survey


@dataclass(frozen=True, slots=True)
class Checked:
    """The readings of a job, checked: what they say in words, what is still wanted, and what is wrong with them."""

    survey: Survey | None
    says: tuple[str, ...]
    wanted: tuple[str, ...]
    problems: tuple[Problem, ...]

    @property
    def closes(self) -> bool:
        """Whether the readings can be used as they are."""
        return self.survey is not None and closes(self.survey) and not any(problem.stops for problem in self.problems)


def check_readings(job: Job, text: str = "") -> Checked:
    """Check a job's readings; ``text`` of its job file puts a line to each problem."""
    survey, problems = adjust(job.readings)
    problems = with_lines(problems, text)
    if survey is None:
        return Checked(None, (), (), problems)
    return Checked(survey, closing_words(survey, job.units), tuple(map(next_words, survey.next_readings)), problems)
