"""Civil Engineering Formulas, eq. 6.37 (wood screws in withdrawal)."""

from __future__ import annotations

from crownwright.codes.nds_2018_fasteners import screw_withdrawal
from crownwright.quantity.units import INCH, LBF


def test_number_10_in_wood_of_gravity_0_45(theirs):
    ours = screw_withdrawal(0.45, 0.190 * INCH) / (LBF / INCH)
    theirs("withdrawal of a No. 10, G 0.45", 109, ours, unit="lb/in.", tol=1.0, place="eq. 6.37")  # they cut 109.65 off
