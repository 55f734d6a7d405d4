"""The whole survey: its parts fit each other, every number has its working, and it says what is still to be read."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from crownwright.quantity.findings import Verdict
from crownwright.quantity.units import INCH
from crownwright.sources.bibliography import spell
from crownwright.survey import adjust
from crownwright.survey.readings import ByTies, Drop, Flue, Length, OnSide, Readings, Tape


def inches(x: float) -> Length:
    return Length(x * INCH, f"{x:g} in")


def test_a_usual_job(whole, quad) -> None:
    survey, problems = adjust(whole)
    assert problems == ()
    assert survey is not None
    assert survey.readings is whole
    assert survey.names == ("A", "B", "C", "D")
    assert survey.corners / INCH == pytest.approx(np.array(list(quad.corners.values())), abs=0.02)
    assert survey.corners[0].tolist() == [0.0, 0.0]
    assert survey.corners[1, 1] == 0.0
    assert len(survey.parameters) == len(survey.estimate) == len(survey.covariance) == 5 + 5
    assert (np.linalg.eigvalsh(survey.covariance) > 0).all()
    assert survey.closure.closes
    assert survey.suspects == ()
    (flue,) = survey.flues
    assert flue.turn == pytest.approx(0.02, abs=0.02)
    assert np.array(flue.size) / INCH == pytest.approx([13.0, 8.5], abs=0.02)
    assert flue.top.mean == pytest.approx(10 * INCH)
    assert survey.surface.highest.mean == pytest.approx(-1.0 * INCH, abs=0.15 * INCH)
    assert [u.mean / INCH for u in survey.surface.lowest_edge] == pytest.approx([-3.0, -3.25, -3.5, -3.75], abs=0.25)


def test_the_same_readings_give_the_same_survey(whole) -> None:
    one, other = adjust(whole)[0], adjust(whole)[0]
    assert one is not None
    assert other is not None
    assert one.estimate.tolist() == other.estimate.tolist()
    assert one.figures == other.figures
    assert one.surface.lowest_edge == other.surface.lowest_edge


def test_every_number_has_its_working(whole) -> None:
    survey, _ = adjust(whole)
    assert survey is not None
    keys = [f.key for f in survey.figures]
    assert len(set(keys)) == len(keys)
    for wanted in ("survey.closes", "survey.side.AB", "survey.corner.A", "survey.area", "survey.proudest.DA", "survey.stone.mean",
                   "survey.stone.highest", "survey.stone.lowest.CD", "survey.flue.F1.top", "survey.flue.F1.placed"):  # fmt: skip
        assert wanted in keys
    for figure in survey.figures:
        assert np.isfinite(figure.value)
        assert figure.formula
        assert spell(figure.cite)
        for term in figure.inputs:
            assert term.cite is None or spell(term.cite)
    for finding in survey.findings:
        assert spell(finding.cite)
        assert finding.verdict is Verdict.OK or finding.action
    side = next(f for f in survey.figures if f.key == "survey.side.AB")
    assert side.value == pytest.approx(48 * INCH, abs=0.02 * INCH)
    assert side.spread is not None
    assert 0.02 * INCH < side.spread < 0.2 * INCH


def test_what_was_not_looked_for_is_asked_for(quad) -> None:
    survey, _ = adjust(quad.readings())
    assert survey is not None
    asked = [n.ask for n in survey.next_readings]
    assert sum("stands out furthest" in a for a in asked) == 4
    assert sum("lowest sound edge" in a for a in asked) == 4
    assert sum("highest hump" in a for a in asked) == 1
    # nine in all, five of them looked for: each of the others with its place on the top
    places = [n.place for n in survey.next_readings if n.place is not None]
    assert len(places) == 4
    assert all(isinstance(p, OnSide) and p.side == "AB" and 0 < p.inward.metres < 37 * INCH for p in places)
    assert len({(p.along.metres, p.inward.metres) for p in places if isinstance(p, OnSide)}) == 4
    kinds = [n.kind for n in survey.next_readings]
    assert kinds == sorted(kinds, key=["tape", "offset", "drop"].index)
    assert kinds.count("tape") <= 6
    assert next(n for n in survey.next_readings if n.kind == "offset").start == "A"


def test_nothing_more_is_asked_of_the_stone_once_it_was_looked_for(whole) -> None:
    survey, _ = adjust(whole)
    assert survey is not None
    assert all(n.kind == "tape" for n in survey.next_readings)


def test_a_metric_job_is_spoken_to_in_millimetres(quad) -> None:
    tapes = tuple(replace(t, reads=Length(round(t.reads.metres, 3), f"{t.reads.metres * 1000:.0f} mm")) for t in quad.all_tapes())
    slipped = (*tapes[:2], replace(tapes[2], reads=Length(tapes[2].reads.metres + 0.1, "1017 mm")), *tapes[3:])
    survey, _ = adjust(quad.readings((*slipped, *tapes)))
    assert survey is not None
    (suspect,) = [s for s in survey.suspects if s.named]
    assert (suspect.index, suspect.kind) == (2, "ten centimetres")
    words = next(f.subject for f in survey.findings if f.key == "survey.slip.2")
    assert "mm" in words
    assert "ten-centimetre slip" in words
    assert " in." not in words


def test_words_of_a_slip(quad) -> None:
    tapes = quad.all_tapes()
    slipped = (replace(tapes[2], reads=Length(tapes[2].reads.metres + INCH)), *tapes[:2], *tapes[3:], *tapes)
    survey, _ = adjust(quad.readings(slipped))
    assert survey is not None
    finding = next(f for f in survey.findings if f.key == "survey.slip.0")
    assert finding.subject == "Tape AD reads 37 1/8 in.; 36 1/8 in. closes within 0 in.: a one-inch slip?"
    assert finding.action == "Read AD again; until then the plan stands without it"
    assert finding.verdict is Verdict.SHORT


def test_own_spread_of_a_reading_counts(quad) -> None:
    """A tape taken with care weighs more: the side it measures keeps nearer to it."""
    tapes = list(quad.all_tapes())
    off = Length(tapes[0].reads.metres + 0.25 * INCH, "48 1/4 in")
    plain, _ = adjust(quad.readings((replace(tapes[0], reads=off), *tapes[1:])))
    careful, _ = adjust(quad.readings((replace(tapes[0], reads=replace(off, sd=0.01 * INCH)), *tapes[1:])))
    assert plain is not None
    assert careful is not None
    assert abs(careful.checked[0].residual) < 0.2 * abs(plain.checked[0].residual)
    assert careful.checked[0].sd == 0.01 * INCH


def test_places_by_two_tapes(whole, quad) -> None:
    """The same drop placed by side and by two ties gives the same stone."""

    def tie(corner: str, x: float, y: float) -> Length:
        return inches(float(np.hypot(*(quad.at(corner) - [x, y]))))

    by_side = Drop(OnSide("AB", inches(40.0), inches(28.0)), inches(2.0))
    by_ties = Drop(ByTies("B", tie("B", 40, 28), "C", tie("C", 40, 28)), inches(2.0))
    surveys = [adjust(replace(whole, drops=(*whole.drops, d)))[0] for d in (by_side, by_ties)]
    at = np.array([[40.0, 28.0]]) * INCH
    one, other = (s.surface.heights(at)[0][0] for s in surveys if s is not None)
    assert one == pytest.approx(other, abs=0.02 * INCH)


def test_a_round_flue(make_top, shapes) -> None:
    top = make_top(shapes["quad"], rounds={"F1": (20.0, 17.0, 11.75)})
    survey, _ = adjust(top.readings())
    assert survey is not None
    (flue,) = survey.flues
    assert flue.shape == "round"
    assert np.array(flue.centre) / INCH == pytest.approx([20.0, 17.0], abs=0.02)
    assert np.hypot(*(flue.ring - np.array(flue.centre)).T) / INCH == pytest.approx(11.75 / 2, abs=0.01)


def test_inside_size_and_use_are_carried_on(quad) -> None:
    flue = replace(quad.flue_readings()[0], inside=(inches(11.25), inches(6.75)), serves="furnace")
    survey, _ = adjust(replace(quad.readings(), flues=(flue,)))
    assert survey is not None
    assert survey.flues[0].serves == "furnace"
    assert survey.flues[0].inside == (11.25 * INCH, 6.75 * INCH)


def test_an_empty_job_says_what_to_do() -> None:
    survey, problems = adjust(Readings((), "brick"))
    assert survey is None
    assert any(p.where == "corners" for p in problems)
    survey, problems = adjust(Readings(("A", "B", "C", "D"), "brick", (Tape("A", "B", inches(48)),)))
    assert survey is None
    assert any("not enough ties" in p.what for p in problems)
    survey, problems = adjust(Readings(("A", "B", "C"), "brick", (), flues=(Flue("F1", "round", (inches(9),), inches(9)),)))
    assert survey is None
    assert any(p.where == "flue F1" for p in problems)
