"""The doorstep survey: a wide band that holds what a full survey later finds."""

from __future__ import annotations

import numpy as np
import pytest

from crownwright.geometry.polygon import contains
from crownwright.quantity.findings import Verdict
from crownwright.quantity.units import INCH
from crownwright.survey import adjust
from crownwright.survey.readings import Flue, Length, Lumpiness, MasonryKind, QuickReadings


def inches(x: float) -> Length:
    return Length(x * INCH, f"{x:g} in")


def quick(masonry: MasonryKind = "rubble stone", lumpiness: Lumpiness = "ordinary") -> QuickReadings:
    flues = (
        Flue("F1", "rectangular", (inches(13), inches(13)), inches(8)),
        Flue("F2", "round", (inches(9.5),), inches(12), serves="stove"),
    )
    return QuickReadings(inches(50), inches(36), flues, masonry, lumpiness)


def test_it_gives_a_whole_survey() -> None:
    survey, problems = adjust(quick())
    assert problems == ()
    assert survey is not None
    assert survey.quick
    assert [f.name for f in survey.flues] == ["F1", "F2"]
    assert survey.flues[1].serves == "stove"
    assert len(survey.surface.lowest_edge) == 4
    assert survey.findings[0].verdict is Verdict.CANNOT_TELL
    assert np.isfinite(survey.covariance).all()


def test_the_guard_is_the_box_and_a_little() -> None:
    survey, _ = adjust(quick())
    assert survey is not None
    size = np.ptp(survey.outline.guard, axis=0) / INCH
    assert size[0] == pytest.approx(51.3, abs=1.0)
    assert size[1] == pytest.approx(37.3, abs=1.0)
    assert contains(survey.outline.guard, survey.outline.face).all()
    for flue in survey.flues:
        assert contains(survey.outline.face, flue.ring).all()


def test_lumpier_is_wider_and_brick_is_narrower() -> None:
    def spread(readings: QuickReadings) -> tuple[float, float]:
        survey, _ = adjust(readings)
        assert survey is not None
        xy = np.array([[0.2, 0.2], [0.4, 0.7], [1.0, 0.3]])
        return float(survey.surface.heights(xy)[1].mean()), survey.outline.area.sd

    smooth, ordinary, wild = (spread(quick(lumpiness=lumpiness)) for lumpiness in ("smooth", "ordinary", "wild"))
    assert smooth[0] < ordinary[0] < wild[0]
    assert spread(quick("brick"))[0] < smooth[0]


def test_the_hump_is_where_heights_count_from() -> None:
    survey, _ = adjust(quick())
    assert survey is not None
    assert survey.surface.highest.mean == pytest.approx(0.0, abs=0.6 * INCH)
    # eight inches above the stone round it, which lies under the hump
    assert 5 * INCH < survey.flues[0].top.mean < 8 * INCH
    assert survey.flues[0].top.sd >= INCH


def test_a_top_narrower_than_any_chimney_is_a_problem_however_lumpy() -> None:
    stones: tuple[MasonryKind, ...] = ("rubble stone", "squared stone", "brick")
    flue = Flue("F1", "round", (inches(4),), inches(8))
    for masonry in stones:
        refused, problems = adjust(QuickReadings(inches(40), inches(2), (), masonry, "wild"))
        assert refused is None
        assert [p.where for p in problems] == ["width"]
        least, none = adjust(QuickReadings(inches(8), inches(8), (flue,), masonry, "wild"))
        assert none == ()
        assert least is not None
