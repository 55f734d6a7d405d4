"""What a page module says of itself, so that every page can list the sheets of a job."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet of a job: the end of its address (`/job/{job}/cap` is "cap"), its name, and what it is for in a few words."""

    path: str
    name: str
    says: str

    def address(self, job: str) -> str:
        """Where it is for a job."""
        return f"/job/{job}/{self.path}" if self.path else f"/job/{job}"
