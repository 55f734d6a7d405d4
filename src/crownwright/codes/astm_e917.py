"""ASTM E917 / NIST Handbook 135: present value of costs in years to come, without inflation (real rate)."""

from __future__ import annotations


def single_present_value(rate: float, years: float) -> float:
    """Present value of 1 paid after ``years``: SPV = 1 / (1 + d)^n.

    ``rate`` d a year, over -1. NIST Handbook 135, sec. 3 (from memory).

    >>> round(single_present_value(0.03, 10), 3)
    0.744
    """
    return float((1 + rate) ** -years)


def uniform_present_value(rate: float, years: int) -> float:
    """Present value of 1 paid at the end of each of ``years``: UPV = ((1 + d)^n - 1) / (d (1 + d)^n); n at d = 0.

    >>> round(uniform_present_value(0.03, 10), 2)
    8.53
    """
    if rate == 0:
        return float(years)
    return float(((1 + rate) ** years - 1) / (rate * (1 + rate) ** years))


def capital_recovery(rate: float, years: int) -> float:
    """What each of ``years`` bears of 1 spent now: UCR = 1 / UPV.

    >>> round(capital_recovery(0.08, 10), 4)
    0.149
    """
    return 1 / uniform_present_value(rate, years)
