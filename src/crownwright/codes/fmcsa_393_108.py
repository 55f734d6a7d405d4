"""49 CFR 393.108: working load limit of synthetic webbing that carries no mark. The weakest part of an assembly governs."""

from __future__ import annotations

from crownwright.quantity.units import INCH, LBF
from crownwright.sources.tables import pick, rows


def webbing_limit(width: float) -> float:
    """Working load limit of unmarked webbing, N, by ``width`` in m (1 3/4, 2, 3 or 4 in.): 1,000 lb an inch.

    >>> round(webbing_limit(2 * INCH) / LBF)
    2000
    """
    table = {row["width_in"]: float(row["limit_lb"]) * LBF for row in rows(__package__, "fmcsa_393_108.csv")}
    return pick(table, f"{width / INCH:.4g}", "webbing width, in.,")
