"""Brick Industry Association, Technical Notes 46 (2017), Maintenance of Brick Masonry: repointing and efflorescence."""

from __future__ import annotations

from crownwright.quantity.units import HOUR

REST_LEAST, REST_MOST = 1.0 * HOUR, 1.5 * HOUR
"""How long damp repointing mortar stands before the rest of its water goes in (prehydration), s."""
TYPES = ("N", "O", "K")
"""Types of mortar for repointing, mixed drier than mortar to lay with."""
