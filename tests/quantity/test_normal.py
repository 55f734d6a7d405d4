"""The normal distribution against an independent library."""

from __future__ import annotations

import numpy as np
from scipy.special import ndtr

from crownwright.quantity.normal import normal_chance


def test_against_an_independent_program() -> None:
    """A few units in the last place, but for the far tail where the square of x costs digits: 1e-13 relative there."""
    x = np.concatenate([np.linspace(-37, 9, 2001), [-np.inf, np.inf]])
    np.testing.assert_allclose(normal_chance(x), ndtr(x), rtol=1e-12, atol=0)


def test_shape_is_kept() -> None:
    assert normal_chance(np.zeros((2, 3))).shape == (2, 3)
    assert np.isnan(normal_chance(np.nan))
