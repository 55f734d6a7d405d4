"""A file of local rules, kept once for a town and laid over any job: the same lines as a job's own rules."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path as File
from typing import Literal

from pydantic import ValidationError

from crownwright.codes.cap_rules import Rule
from crownwright.plan.job import Job
from crownwright.quantity.problems import Problem
from crownwright.service.jobfile.entry import Table
from crownwright.service.jobfile.faults import Fault, faults_of, told
from crownwright.service.jobfile.model import RuleLine, key, needed
from crownwright.service.jobfile.names import local_rules
from crownwright.service.jobfile.places import key_lines
from crownwright.service.jobfile.reading import bare_unit, read_text
from crownwright.service.jobfile.syntax import parse_toml

Outcome = tuple[tuple[Rule, ...], tuple[Problem, ...]]


class RulesFile(Table):
    """The rules of one place."""

    units: Literal["us", "metric"] = key("for lengths typed without a unit")
    bare_numbers: Literal["in", "ft", "mm", "cm", "m"] = key("unit of a length typed without one")
    rules: list[RuleLine] = needed("the rules, each with its document", min_length=1, max_length=60)


def read_rules(path: File) -> Outcome:
    """Read a file of local rules from disk; whatever is wrong comes back as problems, all at once, and no rules then."""
    text, problems = read_text(path)
    return ((), problems) if text is None else parse_rules(text, path.name)


def parse_rules(text: str, name: str = "rules file") -> Outcome:
    """Read local rules from the text of their file.

    >>> rules, _ = parse_rules('rules = [{ rule = "drip", says = "a drip", document = "bylaw 3", asks = true }]')
    >>> rules[0].cite.clause
    'bylaw 3'
    """
    toml = parse_toml(text.replace("\r\n", "\n"), name)
    faults: list[Fault] = []
    try:
        RulesFile.model_validate(toml.values, context={"bare": bare_unit(toml.values)})
    except ValidationError as error:
        faults = faults_of(error, toml.values, RulesFile)
    rules, wrong = local_rules(toml.values, bare_unit(toml.values))
    problems = (*toml.problems, *told([*faults, *wrong], key_lines(toml.text), name))
    return ((), problems) if problems else (rules, ())


def with_rules(job: Job, rules: tuple[Rule, ...]) -> Job:
    """Lay a file's rules under the job's own: where both speak of a thing, the job's own line holds."""
    own = {rule.name for rule in job.rules} | {name.partition(".")[0] for name, _ in job.overrides}
    return replace(job, rules=(*(rule for rule in rules if rule.name not in own), *job.rules))
