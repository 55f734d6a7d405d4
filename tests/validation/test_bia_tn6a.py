"""Brick Industry Association, Technical Notes 6A (August 2008), Colorless Coatings for Brick Masonry, summary of recommendations.

Only breathable coatings, permeability to water vapour 0.98 or more by ASTM E96. The repellent is compared with it: 0.98 will do,
0.97 falls short.
"""

from __future__ import annotations

from crownwright.quantity.findings import Verdict
from crownwright.quantity.uncertain import Uncertain
from crownwright.repair.choices import RepellentChoices
from crownwright.repair.repellent import PERMEABILITY, plan_repellent


def test_breathable(theirs):
    theirs("permeability, at least", 0.98, PERMEABILITY, tol=0, place="summary of recommendations")


def test_a_label_is_compared_with_it():
    verdicts = {
        label: plan_repellent(Uncertain(3.0), 1.0, "brick", RepellentChoices(permeability=label)).findings[0].verdict
        for label in (0.97, 0.98)
    }
    assert verdicts == {0.97: Verdict.SHORT, 0.98: Verdict.OK}
