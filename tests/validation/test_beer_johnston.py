"""Vector Mechanics for Engineers: Statics, chapter 8 (belt friction)."""

from __future__ import annotations

from math import pi

from crownwright.codes.capstan import angle_needed, friction_found, tension_ratio

TURN = 2 * pi


def test_problem_8_104_hawser(theirs):
    mu = friction_found(5000, 80, 2 * TURN)
    theirs("80 lb holds 5,000 lb by two turns: friction", 0.329, mu, tol=0.0005, place="8.104")
    theirs("turns to hold 20,000 lb", 2.67, angle_needed(20000, 80, mu) / TURN, tol=0.005, place="8.104")


def test_sample_8_7_hawser(theirs):
    mu = friction_found(7500, 150, 2 * TURN)
    theirs("150 N holds 7,500 N by two turns: friction", 0.311, mu, tol=0.0005, place="sample 8.7", grade="from memory")
    exact = 0.150 * tension_ratio(mu, 3 * TURN)
    theirs("three turns, exact", 53.03, exact, unit="kN", tol=0.005, place="sample 8.7", grade="derived")
    rounded = 0.150 * tension_ratio(0.311, 3 * TURN)
    theirs(
        "three turns, with the book's rounded friction",
        52.7,
        rounded,
        unit="kN",
        tol=0.05,
        place="sample 8.7",
        grade="from memory",
    )


def test_turns_for_a_ratio_of_eighty(theirs):
    ours = angle_needed(4000, 50, 0.30) / TURN
    theirs("4,000 against 50 at friction 0.30, turns", 2.325, ours, tol=0.0005, place="belt friction", grade="derived")


def test_ratios(theirs):
    theirs("half a turn at 0.3", 2.566, tension_ratio(0.3, pi), tol=0.0005, place="belt friction", grade="derived")
    theirs("two turns at 0.3", 43.4, tension_ratio(0.3, 4 * pi), tol=0.05, place="belt friction")
