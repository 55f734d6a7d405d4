"""What pricing needs of a plan. A plan has all of it; pricing stands below the plan and does not know how one is made."""

from __future__ import annotations

from typing import Protocol

from crownwright.cap.model import CapDesign
from crownwright.concrete.model import ConcretePlan
from crownwright.form.model import FormDesign
from crownwright.quantity.findings import Finding
from crownwright.quantity.problems import Problem
from crownwright.quantity.working import Figure
from crownwright.survey.model import Survey
from crownwright.survey.readings import Surroundings


class JobSaid(Protocol):
    """What is told of the job."""

    @property
    def title(self) -> str:
        """Title on papers."""
        ...

    @property
    def customer(self) -> str:
        """Customer's name."""
        ...

    @property
    def place(self) -> str:
        """Where it is."""
        ...

    @property
    def surroundings(self) -> Surroundings:
        """What was read around the chimney."""
        ...


class Plan(Protocol):
    """A plan as pricing sees it; parts that could not be planned are None."""

    @property
    def job(self) -> JobSaid:
        """The job it was made from."""
        ...

    @property
    def version(self) -> str:
        """Version of the program."""
        ...

    @property
    def survey(self) -> Survey | None:
        """The survey."""
        ...

    @property
    def cap(self) -> CapDesign | None:
        """The cap."""
        ...

    @property
    def form(self) -> FormDesign | None:
        """The form."""
        ...

    @property
    def concrete(self) -> ConcretePlan | None:
        """The pour."""
        ...

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Every finding."""
        ...

    @property
    def figures(self) -> tuple[Figure, ...]:
        """Every figure."""
        ...

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Every problem."""
        ...
