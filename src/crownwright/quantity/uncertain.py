"""A value with its standard error."""

from __future__ import annotations

from dataclasses import dataclass
from statistics import NormalDist


@dataclass(frozen=True, slots=True)
class Uncertain:
    """A mean and its standard error, in the same unit (named where the value is made)."""

    mean: float
    sd: float = 0.0

    def quantile(self, chance: float) -> float:
        """Return the value that is not exceeded with ``chance`` (0..1), taking the spread as normal.

        >>> round(Uncertain(10.0, 2.0).quantile(0.975), 2)
        13.92
        """
        return NormalDist(self.mean, self.sd).inv_cdf(chance) if self.sd > 0 else self.mean
