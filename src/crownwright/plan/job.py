"""One job: who and where, the readings, and what the mason decided. The same model stands behind the job file and
the API.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from crownwright.cap.choices import CapChoices
from crownwright.checks.choices import CheckChoices
from crownwright.codes.cap_rules import RULES, Rule, RuleSet, rule_set
from crownwright.concrete.choices import ConcreteChoices
from crownwright.form.choices import FormChoices
from crownwright.plan.day_choices import DayChoices
from crownwright.plan.the_day import TheDay
from crownwright.price.choices import QuoteChoices
from crownwright.repair.record import RepairRecord
from crownwright.survey.readings import QuickReadings, Readings, Surroundings

Units = Literal["us", "metric"]


@dataclass(frozen=True, slots=True)
class Job:
    """``title`` of the job; ``place`` and ``customer`` as they should stand on papers; ``code_set`` names the rules
    it is compared with; ``units`` for typing and showing. ``overrides`` replaces single limits of the code set (key
    -> SI value) by what the local authority asks; ``rules`` are its rules in full, laid over the set's.
    """

    title: str
    readings: Readings | QuickReadings
    units: Units = "us"
    customer: str = ""
    place: str = ""
    mason: str = ""
    read_on: str = ""
    notes: str = ""
    code_set: str = "us-model"
    overrides: tuple[tuple[str, float], ...] = ()
    rules: tuple[Rule, ...] = ()
    surroundings: Surroundings = field(default_factory=Surroundings)
    cap: CapChoices = field(default_factory=CapChoices)
    form: FormChoices = field(default_factory=FormChoices)
    concrete: ConcreteChoices = field(default_factory=ConcreteChoices)
    checks: CheckChoices = field(default_factory=CheckChoices)
    pour: DayChoices = field(default_factory=DayChoices)
    day: TheDay = field(default_factory=TheDay)
    quote: QuoteChoices = field(default_factory=QuoteChoices)
    repair: RepairRecord | None = None

    def rule_set(self) -> RuleSet:
        """Return the rules that bind this job: its code set with what the local authority asks laid over it.

        Raises KeyError for a code set that does not exist, naming those that do.
        """
        own = (rule for rule in self.rules if rule.name in RULES)  # those of what is found belong to the repair
        return rule_set(self.code_set, dict(self.overrides)).with_local(*own)
