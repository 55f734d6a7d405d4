"""The repair's place in the sequence: after the pour is counted, before the checks; it takes from cap and pour what it needs."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from crownwright.cap.model import CapDesign
    from crownwright.concrete.model import ConcretePlan
    from crownwright.plan.job import Job
    from crownwright.plan.model import Plan
    from crownwright.repair.model import RepairPlan
    from crownwright.survey.model import Survey


def repair_for(job: Job, survey: Survey, cap: CapDesign | None = None, pour: ConcretePlan | None = None) -> RepairPlan | None:
    """Return the repair below the cap; None where nothing was entered of one."""
    if job.repair is None:
        return None
    from crownwright.concrete.bags import mortar_bag
    from crownwright.repair.build import plan_repair  # most jobs have none
    from crownwright.repair.mortar import Bag

    bags, per_bag = (None, None) if pour is None else (pour.count.needed, pour.bag.yields)
    sold = mortar_bag(job.concrete.mortar_bag)
    return plan_repair(job.repair, survey, job.surroundings, cap, bags, per_bag, Bag(sold.name, sold.yields), job.rules)


def with_the_rest(plan: Plan) -> Plan:
    """Return the plan with flashing, repellent, the order of work and ways over years, where there is a repair."""
    if plan.repair is None:
        return plan
    from crownwright.plan.whole_repair import whole_repair  # most jobs have none

    return whole_repair(plan)
