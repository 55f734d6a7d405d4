"""Haurwitz (1945), Insolation in relation to cloudiness and cloud density, J. Meteorology 2: sunshine on the level, no clouds."""

from __future__ import annotations

import numpy as np

from crownwright.quantity.arrays import Numbers, same_kind


def clear_sky(zenith: Numbers) -> Numbers:
    """Sun and sky on the level under a clear sky, W/m2: 1098 cos z exp(-0.059 / cos z), nothing with the sun down.

    ``zenith`` apparent, degrees. Reads low high up: 477 against 580 W/m2 measured at 2317 m on one winter noon.

    >>> round(clear_sky(60.0), 4)
    487.8941
    """
    cosine = np.cos(np.radians(np.asarray(zenith, float)))
    up = cosine > 0
    value = np.where(up, 1098 * cosine * np.exp(-0.059 / np.where(up, cosine, 1.0)), 0.0)
    return same_kind(zenith, value)
