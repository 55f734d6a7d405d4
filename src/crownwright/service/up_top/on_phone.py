"""The survey's own numbers, for the page to carry: by them the phone tells how the tapes close where the book cannot be asked."""

from __future__ import annotations

from collections.abc import Mapping
from math import hypot
from typing import Any

from crownwright.survey.chances import chi_square_limit, w_limit
from crownwright.survey.check import MOST_DROP, MOST_OUT, TRIANGLE_SLACK
from crownwright.survey.check_flues import MOST_ACROSS, MOST_PROUD
from crownwright.survey.check_lengths import LONGEST
from crownwright.survey.defaults import default_sd, masonry
from crownwright.survey.places import BEYOND
from crownwright.survey.readings import Readings
from crownwright.survey.tapes import SQUARE_SD
from crownwright.survey.verdict import CLOSES

MOST_FREEDOM = 40
"""Readings beyond what is needed up to which the limit of the closing test is carried; a top has some ten."""
WILD = 6.0
"""Standard errors from what masonry of a kind is expected to do at which a reading is asked once more (a judgement): a foot typed
for an inch lies beyond it, the lumpiest stone does not."""


def phone_numbers(readings: Readings) -> Mapping[str, Any]:
    """What `closing.js` and `expected.js` go by, in metres and radians.

    ``sd`` standard errors of readings by kind; ``square`` that of a flue's turn, ``w`` the limit at which it counts no more;
    ``limits`` of the sum of squares by degrees of freedom from 1; ``slack`` of a triangle; ``usual`` [least, most] by the
    name of what is read, outside which it is asked once more; ``beyond`` a side's end a place may be told.
    """
    return {
        "corners": readings.corners,
        "sd": {"tape": default_sd("tape"), "size": default_sd("flue_size")},
        "square": SQUARE_SD,
        "w": w_limit(),
        "limits": [round(chi_square_limit(freedom, CLOSES), 6) for freedom in range(1, MOST_FREEDOM + 1)],
        "slack": TRIANGLE_SLACK,
        "beyond": BEYOND,
        "usual": _usual(readings),
    }


def _usual(readings: Readings) -> dict[str, tuple[float, float]]:
    kind = masonry(readings.masonry)
    mean, sd = kind.drop
    lumps = WILD * hypot(sd, kind.tilt, kind.top_sd)
    out = min(WILD * kind.face_sd, MOST_OUT)
    return {
        "reads": (0.0, LONGEST),
        "outside": (0.0, MOST_ACROSS),
        "above_string": (-MOST_PROUD, MOST_PROUD),
        "along": (-BEYOND, LONGEST),
        "inward": (-BEYOND, LONGEST),
        "out": (-out, out),
        "below": (max(mean - lumps, -MOST_DROP), min(mean + lumps, MOST_DROP)),
    }
