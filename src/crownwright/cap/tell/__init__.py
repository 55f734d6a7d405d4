"""What the design tells: a finding for everything that could not be had, and every number with its working."""

from __future__ import annotations

from crownwright.cap.tell import base, drip, fit, flues, joint, section, shed, steel, volume
from crownwright.cap.tell.worked import Worked
from crownwright.quantity.findings import Finding
from crownwright.quantity.working import Figure

__all__ = ["Worked", "tell"]

_PARTS = (fit, section, shed, flues, joint, drip, base, steel, volume)


def tell(worked: Worked) -> tuple[tuple[Finding, ...], tuple[Figure, ...]]:
    """Findings and figures of the whole cap, in the order of the job."""
    findings = tuple(finding for part in _PARTS for finding in part.findings(worked))
    figures = tuple(figure for part in _PARTS for figure in part.figures(worked))
    return findings, figures
