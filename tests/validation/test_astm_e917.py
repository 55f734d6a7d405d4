"""ASTM E917 / NIST Handbook 135, present value factors.

Factors as the handbook's tables print them at 3 %, and as engineering economy tables print them at 8 % (P/F, P/A, A/P), all from
memory; tolerance half of the last digit printed.
"""

from __future__ import annotations

import pytest

from crownwright.codes.astm_e917 import capital_recovery, single_present_value, uniform_present_value


@pytest.mark.parametrize(
    ("what", "ours", "printed", "tol"),
    [
        ("single present value, 3 %, 10 years", single_present_value(0.03, 10), 0.744, 0.0005),
        ("single present value, 3 %, 25 years", single_present_value(0.03, 25), 0.478, 0.0005),
        ("uniform present value, 3 %, 10 years", uniform_present_value(0.03, 10), 8.53, 0.005),
        ("uniform present value, 3 %, 25 years", uniform_present_value(0.03, 25), 17.41, 0.005),
        ("P/F, 8 %, 10 years", single_present_value(0.08, 10), 0.4632, 0.00005),
        ("P/A, 8 %, 10 years", uniform_present_value(0.08, 10), 6.7101, 0.00005),
        ("A/P, 8 %, 10 years", capital_recovery(0.08, 10), 0.1490, 0.00005),
        ("A/P, 8 %, 20 years", capital_recovery(0.08, 20), 0.1019, 0.00005),
    ],
)
def test_factors(theirs, what, ours, printed, tol):
    theirs(what, printed, ours, tol=tol, place="tables of factors", grade="from memory")
