"""Hours from the plan: task by task, each with its spread, what all share, and where the quantity comes from.

The rates are judgement (no source is known); finished jobs move them, see `crownwright.price.learning`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cache
from math import log1p, sqrt

from crownwright.concrete.batches import Site, plan_batches
from crownwright.price.pricebook import Prices
from crownwright.price.work import Plan
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import FOOT, HOUR
from crownwright.quantity.working import PRACTICE, Figure, Term
from crownwright.sources.tables import rows

VISITS = 3
"""Bed and form; pour; strip and seal. Common practice, no source."""
WARM = 20.0
"""degC of the mix for the clock of the pour, until the day's weather is known."""


@dataclass(frozen=True, slots=True)
class Task:
    """People-hours of one grade at one task: ``hours`` mean and standard error of its own; ``sources`` it is counted from."""

    key: str
    what: str
    grade: str
    hours: Uncertain
    formula: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Hours:
    """All tasks of so many ``visits``, and ``shared``: what multiplies all of a job's hours alike, log-normal of mean 1, by its
    relative spread.
    """

    tasks: tuple[Task, ...]
    shared: float
    visits: int = VISITS

    @property
    def total(self) -> Uncertain:
        """People-hours of all tasks with their spread: tasks on their own, then what they share."""
        mean = sum(task.hours.mean for task in self.tasks)
        own = sum(task.hours.sd**2 for task in self.tasks)
        return Uncertain(mean, sqrt(own * (1 + self.shared**2) + (mean * self.shared) ** 2))

    def of(self, grade: str) -> float:
        """People-hours of one grade."""
        return sum(task.hours.mean for task in self.tasks if task.grade == grade)

    def figure(self) -> Figure:
        """Return the hours as a figure, with what they are made of."""
        inputs = tuple(Term("", f"{task.what} ({task.grade}), h", task.hours.mean) for task in self.tasks)
        total = self.total
        formula = "sum over tasks of people x (set-up + rate x quantity) x factors"
        return Figure("price.hours", "people-hours", total.mean * HOUR, "s", formula, inputs, PRACTICE, spread=total.sd * HOUR)


Counts = dict[str, tuple[float, str]]
"""What tasks are counted by: the quantity, and the key of the figure it comes from."""


@dataclass(frozen=True, slots=True)
class HoursChoices:
    """``visits`` planned; ``site`` for the batch clock; ``factor`` and ``spread`` that own finished jobs say hours are of the
    forecast (None: nothing learned yet).
    """

    visits: int = VISITS
    site: Site = field(default_factory=Site)
    factor: float = 1.0
    spread: float | None = None


def hours_of(
    plan: Plan,
    prices: Prices,
    choices: HoursChoices | None = None,
    extra: Iterable[Task] = (),
    *,
    counts: Counts | None = None,
    with_cap: bool = True,
) -> Hours:
    """Return the hours a plan takes; ``extra`` are tasks of repair work below the cap, in the same terms; ``counts`` what further
    tasks of the table are counted by (the old cap). ``with_cap`` false: only these, the visits and the drive.
    """
    choices = choices or HoursChoices()
    counts = (_counts(plan, choices) if with_cap else {"visits": (float(choices.visits), "visits")}) | (counts or {})
    aloft = height_factor(plan, prices)
    made = [*_tasks(counts, aloft, choices.factor), *_drive(prices, choices), *extra]
    shared = float(prices.rule("spread of the job", Decimal("0.15")))
    return Hours(tuple(made), choices.spread if choices.spread is not None else shared, choices.visits)


def cap_tasks(plan: Plan) -> tuple[Task, ...]:
    """Return the tasks of the cap alone, at the rates before height, own experience and driving come on them."""
    counts = _counts(plan, HoursChoices())
    return tuple(_tasks({per: count for per, count in counts.items() if per != "visits"}, 1.0, 1.0))


def _tasks(counts: Counts, aloft: float, factor: float) -> Iterable[Task]:
    for row in _table():
        count, source = counts.get(row.per, (0.0, ""))
        if count <= 0:
            continue
        people, set_up, rate = row.people, row.set_up, row.rate
        times = (aloft if row.aloft else 1.0) * factor
        each = set_up * count if row.per == "visits" else set_up + rate * count
        mean = people * each * times
        formula = f"{people} x ({set_up:g} + {rate:g} x {count:.4g} {row.per}) x {times:.3g}"
        if row.per == "visits":
            formula = f"{people} x {set_up:g} x {count:g} visits x {times:.3g}"
        yield Task(row.task, row.what, row.grade, Uncertain(mean, mean * row.sd), formula, (source,))


@dataclass(frozen=True, slots=True)
class _Rate:
    """A row of the table of tasks: hours of one person to ``set_up`` and at the ``rate`` of one of what it is counted ``per``,
    times ``people``; whether it takes longer ``aloft``; ``sd`` relative.
    """

    task: str
    what: str
    grade: str
    per: str
    set_up: float
    rate: float
    people: int
    aloft: bool
    sd: float


@cache
def _table() -> tuple[_Rate, ...]:
    return tuple(
        _Rate(
            row["task"], row["what"], row["grade"], row["per"], float(row["set_up"]), float(row["rate"]), int(row["people"]),
            row["aloft"] == "yes", float(row["sd"]),
        )
        for row in rows(__package__, "tasks.csv")
    )  # fmt: skip


def _drive(prices: Prices, choices: HoursChoices) -> Iterable[Task]:
    """Everybody's time on the road: the mason's at a mason's hour, the others' at a helper's."""
    one_way, helpers = float(prices.rule("drive")), choices.site.people - 1
    for grade, people in (("mason", 1), ("helper", helpers)):
        if one_way > 0 and people > 0:
            mean = 2 * one_way * choices.visits * people
            formula = f"2 x {one_way:g} h x {choices.visits} visits x {people}"
            yield Task("drive", "driving", grade, Uncertain(mean, 0.2 * mean), formula, ("rule drive",))


def height_factor(plan: Plan, prices: Prices) -> float:
    """Return how much longer work takes aloft, by the eave's height over 10 ft and the book's rule for it."""
    eave = plan.job.surroundings.eave_height
    each = float(prices.rule("height, each ft of eave over 10"))
    return 1.0 + (each * max(eave / FOOT - 10.0, 0.0) if eave is not None else 0.0)


def _counts(plan: Plan, choices: HoursChoices) -> Counts:
    """Quantities that tasks are counted by, with the figure each comes from."""
    found: Counts = {"visits": (choices.visits, "visits")}
    if plan.form is not None:
        form = plan.form
        found |= {
            "pieces": (len(form.pieces), "form.pieces"),
            "screws": (sum(line.count for line in form.screw_list), "form.screws"),
            "straps": (form.strap.count, "form.straps"),
            "soffit metres": (sum(side.inside for side in form.sides), "form.sides"),
            "bead metres": (form.bead_length, "form.bead"),
        }
    if plan.cap is not None:
        found |= {
            "steel pieces": (len(plan.cap.steel), "cap.steel"),
            "joint metres": (next((f.value for f in plan.figures if f.key == "cap.joint.length"), 0.0), "cap.joint.length"),
            "square metres": (plan.cap.length * plan.cap.width, "cap.length x cap.width"),
        }
    if plan.concrete is not None:
        pour = plan.concrete
        batches = plan_batches(pour.lifts, pour.count, pour.bag, pour.mix, WARM, choices.site)
        found["pour hours"] = ((batches.done - choices.site.start) / HOUR, "concrete.pour_time")
    return found


def log_spread(relative: float) -> float:
    """Return the standard deviation of the logarithm of a log-normal with this relative spread."""
    return sqrt(log1p(relative**2))
