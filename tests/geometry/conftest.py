"""Properties tried on the same examples every time, with no deadline for a busy machine."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("steady", deadline=None, derandomize=True, max_examples=60)
settings.load_profile("steady")
