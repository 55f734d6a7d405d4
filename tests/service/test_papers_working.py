"""Every number printed on a paper is that of a figure that opens, of a finding, or of a thing's own name; none stands bare.

Each number with its unit is looked for among the values, spreads and inputs of the figures, in that unit and to the digits
printed, and among the sides of the findings. What is left over fails, with the words it stands in.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from datetime import UTC, datetime
from functools import cache
from math import ceil, degrees, tan
from pathlib import Path

import pytest

from crownwright.plan.days import DaysPlan
from crownwright.plan.model import Plan
from crownwright.quantity.units import FOOT, GALLON, INCH, LB, LBF, PSI, QUART
from crownwright.service.days_to_pour import days_to_pour
from crownwright.service.jobfile import read_job
from crownwright.service.plan_a_job import plan_a_job
from crownwright.service.weather_for import read_weather
from crownwright.sheets.everything import papers_of
from crownwright.sheets.papers.days import day_papers

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
NAMES = sorted(file.stem for file in EXAMPLES.glob("*.toml") if "title" in tomllib.loads(file.read_text("utf-8")))
SIZES = {
    "m": {'"': INCH, "in.": INCH, "ft": FOOT, "'": FOOT, "mm": 0.001, "m": 1.0, "": 0.001},
    "m2": {"sq ft": FOOT**2, "sq in.": INCH**2, "m2": 1.0, "m²": 1.0},
    "m3": {"cu ft": FOOT**3, "qt": QUART, "gal": GALLON, "L": 0.001, "m3": 1.0, "cu in.": INCH**3},
    "kg": {"lb": LB, "kg": 1.0},
    "Pa": {"psi": PSI, "psf": PSI / 144, "MPa": 1e6, "kPa": 1e3, "Pa": 1.0},
    "N": {"lbf": LBF, "N": 1.0, "lb": LBF, "kN": 1e3},
    "s": {"h": 3600.0, "min": 60.0, "d": 86400.0, "days": 86400.0, "s": 1.0},
    "1": {"": 1.0, "%": 0.01},
    "share": {"%": 0.01},
    "m/s": {"mph": 0.44704, "m/s": 1.0, "km/h": 1 / 3.6},
    "kg/m3": {"lb/cu ft": LB / FOOT**3, "kg/m3": 1.0},
    "kg/(m2 s)": {"lb/sq ft h": LB / FOOT**2 / 3600, "kg/m2 h": 1 / 3600},
}
"""Units that a value may be printed in, by its SI unit."""
OWN_WAY = ("°F", "°C", "°", "in. per ft", "mm per m")
UNITS = sorted({unit for sizes in SIZES.values() for unit in sizes if unit} | set(OWN_WAY), key=len, reverse=True)
NUMBER = r"\d[\d,]*(?:\.\d+)?"
TOKEN = re.compile(rf"(?<![\w.])({NUMBER})?(?: ?(\d+)/(\d+))?\s?({'|'.join(map(re.escape, UNITS))})?(?![\w/])")
FEET = re.compile(r"(\d+)' (\d+)(?: (\d+)/(\d+))?\"")
SPAN = re.compile(r"(?:(\d+) d )?(\d+) h(?: (\d+) min)?(?!\w)")
CLOCK = re.compile(r"\d\d?:\d\d|(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun)[a-z]*,? \d+(?: [A-Z][a-z]+)?")
CALLED = re.compile(
    r"(?:\d+x\d+|quarter-round [\d/ ]+)(?:, [\d.]+ (?:ft|m))?|No\. \d+|\b[A-Z]+\d+[a-d]?\b|R-\d+|R \d+"
    r"|(?:ACI|EN|ASTM|class) [\w.-]+|\d+ CFR [\d.]+|batches \d+ to \d+|\d{4}-\d\d-\d\d"
    r"|28-day strength|22 mixes measured|“?about 80 % in three days”?|Where 80 % does stand"
)
"""What carries a number in its name: a board, a screw, a flue, a document, the saying, an ordinal."""
SKIP = {
    "svg",
    "foot",
    "cautions",
    "wide",
    "high",
    "key",
    "keys",
    "source",
    "job",
    "read",  # raw readings, as typed
    "room",
    "widths",
    "unit-says",
    "also",
    "rule",
    "says",
}


@cache
def planned(name: str) -> Plan:
    job, problems = read_job(EXAMPLES / f"{name}.toml")
    assert job is not None, problems
    return plan_a_job(job).plan


@cache
def the_days() -> DaysPlan:
    plan = planned("stone-two-flues")
    data = (EXAMPLES / "weather" / "ten-days.toml").read_bytes()
    hours, problems = read_weather(data, "ten-days.toml", plan.job, "America/New_York", datetime(2026, 5, 11, tzinfo=UTC))
    assert hours is not None, problems
    return days_to_pour(plan, hours, seed=None).days


def values(figures, findings) -> set[tuple[float, str]]:
    """Every value with its SI unit that a paper may print."""
    found = set()
    for figure in figures:
        found.add((figure.value, figure.unit))
        found |= {(figure.spread, figure.unit)} if figure.spread else set()
        found |= {(term.value, term.unit) for term in figure.inputs if not isinstance(term.value, str)}
    for finding in within(findings):
        found |= {(v, finding.unit) for v in (finding.at_least, finding.at_most, finding.provided) if v is not None}
    return found


def within(findings) -> Iterator:
    for finding in findings:
        yield finding
        yield from within(finding.parts)


def words(content, key="") -> Iterator[str]:
    if isinstance(content, str):
        yield content
    elif isinstance(content, dict):
        for name, part in content.items():
            if name not in SKIP:
                yield from words(part, name)
    elif isinstance(content, list | tuple):
        for part in content:
            yield from words(part, key)


def bare(says: str, known: set[tuple[float, str]], told: set[str]) -> list[str]:
    """The numbers of a text that are no figure's."""
    if says in told or any(says.strip(". ") == one.strip(". ") for one in told):
        return []
    for one in sorted(told, key=len, reverse=True):
        says = says.replace(one, " ")
    text = CALLED.sub(" ", CLOCK.sub(" ", says))
    lost = []
    for feet, inches, over, under in FEET.findall(text):
        long = (int(feet) * 12 + int(inches) + (int(over) / int(under) if over else 0.0)) * INCH
        if not any(unit == "m" and abs(value - long) < INCH * (1 / 15.9 if over else 0.51) for value, unit in known):
            lost.append(f"{feet}' {inches}")
    text = FEET.sub(" ", text)
    for match in SPAN.finditer(text):
        long = sum(int(part or 0) * size for part, size in zip(match.groups(), (86400, 3600, 60), strict=True))
        if not any(unit == "s" and abs(value - long) <= 1800.0 * bool(match[1]) + 30.5 for value, unit in known):
            lost.append(match.group())
    text = SPAN.sub(" ", text)
    for match in TOKEN.finditer(text):
        whole, over, under, unit = match.groups()
        if whole is None and over is None:
            continue
        number = float((whole or "0").replace(",", "")) + (int(over) / int(under) if over else 0.0)
        step = 1 / int(under) if over else 10.0 ** -len(whole.partition(".")[2])
        after = text[: match.start()].rstrip().endswith("±")  # its unit is told before the sign
        units = [one for sizes in SIZES.values() for one in sizes] if after and not unit else [unit or ""]
        if not any(fits(number, step, one, abs(value), si) for value, si in known for one in units):
            lost.append(match.group().strip())
    return lost


def fits(number: float, step: float, unit: str, value: float, si: str) -> bool:
    """Whether a value printed in that unit reads so: rounded, or rounded up as things are bought."""
    if unit in OWN_WAY:
        least = 1 / 16 if unit == "in. per ft" else step
        return any(abs(one - number) <= 0.51 * max(step, least) for one in own_way(unit, value, si))
    size = SIZES.get(si, {}).get(unit)
    if size is None:
        return False
    shown = value / size
    coarse = 1 / 16 if si == "m" and unit in ('"', "in.") else step
    return abs(shown - number) <= 0.51 * max(step, coarse) or (si == "m" and unit in ("ft", "m") and number == pytest.approx(
        ceil(shown / step - 1e-6) * step))  # fmt: skip


def own_way(unit: str, value: float, si: str) -> tuple[float, ...]:
    """A temperature (or a difference of two) and an angle, in the units that are no mere multiple."""
    if si in ("degC", "K") and unit in ("°F", "°C"):
        return (value * 1.8 + 32, value * 1.8) if unit == "°F" else (value,)
    if si == "rad" and abs(value) < 1.5:
        return ({"°": degrees(value), "in. per ft": 12 * tan(value), "mm per m": 1000 * tan(value)}.get(unit, 1e9),)
    return ()


def names_of(plan: Plan) -> set[str]:
    """Names of things bought, and text that a finding or a problem has said: each of these has its own source."""
    said = {
        text for one in within(plan.findings) for text in (one.rule, one.subject, one.action) if any(c.isdigit() for c in text)
    }
    said |= {f"{text[:1].upper()}{text[1:]}" for text in said} | {text.rstrip(".") for text in said}
    said |= {f"{text.rstrip('.')}" for p in plan.problems for text in (p.what, p.remedy)}
    said |= {one.action for one in within(plan.findings) if one.action}
    if plan.concrete is not None:
        said |= {plan.concrete.bag.name} | ({plan.concrete.mortar_bag.name} if plan.concrete.mortar_bag else set())
    return said


@pytest.mark.parametrize("name", NAMES)
def test_no_number_on_the_papers_of_a_plan_stands_bare(name):
    plan = planned(name)
    known, told = values(plan.figures, plan.findings), names_of(plan)
    lost = {
        (paper.name, says): found
        for paper in papers_of(plan, ())
        if paper.name not in ("calculations", "repair")  # of the repair see its own tests
        for says in words(paper.content)
        if (found := bare(says, known, told))
    }
    assert lost == {}


def test_no_number_on_the_cards_of_the_days_stands_bare():
    days = the_days()
    plan = days.plan
    known = values((*plan.figures, *days.figures), (*plan.findings, *days.findings))
    told = names_of(plan) | {
        t for one in within(days.findings) for t in (one.rule, one.subject, one.action, one.action.rstrip(".")) if t
    }
    lost = {
        (paper.name, says): found
        for paper in day_papers(days)
        if paper.name != "day-calculations"
        for says in words(paper.content)
        if (found := bare(says, known, told))
    }
    assert lost == {}


@pytest.mark.parametrize(
    ("says", "lost"),
    [
        ("12 bags, 3 1/2 in. thick", []),
        ("13 bags", ["13"]),
        ("3 5/8 in. thick", ["3 5/8 in."]),
        ("3.5 ft", ["3.5 ft"]),
        ("50 % of it", []),
        ("at 63 °F", []),
        ("at 64 °F", ["64 °F"]),
    ],
)
def test_a_bare_number_is_found(says, lost):
    assert bare(says, {(12.0, "1"), (3.5 * INCH, "m"), (0.5, "1"), (17.2, "degC")}, set()) == lost
