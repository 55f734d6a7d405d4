"""What a plan takes, in four numbers a mason asks for first, as it stands and with what is being tried."""

from __future__ import annotations

from dataclasses import dataclass

from crownwright.checks.nest import rules_among
from crownwright.plan.model import Plan
from crownwright.quantity.display import show
from crownwright.quantity.findings import Verdict
from crownwright.service.desk.try_changes import Trial


@dataclass(frozen=True, slots=True)
class Takes:
    """One number: its ``name``, what it is ``now``, what it was ``before`` where it moves, by how much (``by``), the key of its
    working, and whether it moved for the ``worse``.
    """

    name: str
    now: str
    before: str = ""
    by: str = ""
    key: str = ""
    worse: bool = False


def takes_of(trial: Trial) -> tuple[Takes, ...]:
    """Bags, weight and findings that fall short; nothing where there is no plan."""
    tried = trial.tried.planned
    if tried is None:
        return ()
    kept = trial.kept.planned.plan if trial.kept.planned is not None else None
    before = kept if trial.changed else None
    return tuple(takes for takes in (_bags(tried.plan, before), _weight(tried.plan, before), _short(tried.plan, before)) if takes)


def _bags(plan: Plan, before: Plan | None) -> Takes | None:
    if plan.concrete is None:
        return None
    now, name = plan.concrete.count.bags, plan.concrete.bag.name
    was = before.concrete.count.bags if before is not None and before.concrete is not None else now
    other = before.concrete.bag.name if before is not None and before.concrete is not None else name
    if (was, other) == (now, name):
        return Takes("Bags", f"{now} of {name}", key="concrete.bags")
    by = _more(now - was, "bag") if other == name else ""
    return Takes("Bags", f"{now} of {name}", f"{was} of {other}", by, "concrete.bags", other == name and now > was)


def _weight(plan: Plan, before: Plan | None) -> Takes | None:
    if plan.concrete is None:
        return None
    units, now = plan.job.units, plan.concrete.weight.mean
    was = before.concrete.weight.mean if before is not None and before.concrete is not None else now
    shown, shown_before = show(now, "kg", units, 0), show(was, "kg", units, 0)
    if shown == shown_before:
        return Takes("On the chimney, wet", shown, key="concrete.weight")
    by = f"{show(abs(now - was), 'kg', units, 0)} {'more' if now > was else 'less'}"
    return Takes("On the chimney, wet", shown, shown_before, by, "concrete.weight", now > was)


def _short(plan: Plan, before: Plan | None) -> Takes:
    now = _falls_short(plan)
    was = _falls_short(before) if before is not None else now
    if now == was:
        return Takes("Falls short", str(now))
    return Takes("Falls short", str(now), str(was), _more(now - was, ""), "", now > was)


def _falls_short(plan: Plan) -> int:
    """Rules that something falls short of, each once however many places of the job it is."""
    return rules_among(plan.findings, Verdict.SHORT)


def _more(difference: int, thing: str) -> str:
    many = f" {thing}{'' if abs(difference) == 1 else 's'}" if thing else ""
    return f"{abs(difference)}{many} {'more' if difference > 0 else 'fewer'}"
