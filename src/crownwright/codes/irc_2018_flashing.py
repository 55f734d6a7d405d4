"""International Residential Code 2018, chapter 9: flashing where a roof meets a wall. Limits only."""

from __future__ import annotations

from crownwright.quantity.units import INCH

THINNEST = 0.019 * INCH
"""Least thickness of metal flashing, m: R903.2.1 (No. 26 galvanized sheet), read in a quotation of the 2000 edition."""
STEP_HIGH = 4 * INCH
"""Least height of step flashing up the wall, m: R905.2.8.3 (from memory)."""
STEP_WIDE = 4 * INCH
"""Least width of step flashing on the roof, m: R905.2.8.3 (from memory)."""
