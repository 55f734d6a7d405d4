"""M. Clyde et al., An Introduction to Bayesian Thinking, 4.1, TTHM in tap water (parts per billion)

Prior NormalGamma(35, 25, 156.25, 24); 28 values of mean 55.5239 and standard deviation 23.254, as the book's output prints them.
Only these summaries are printed; any 28 values that have them give the same posterior, so two halves at mean +/- a are used.
"""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt

from scipy.special import stdtrit

from crownwright.price.learning import Belief, update


def test_posterior_of_the_tap_water(theirs: Callable[..., None]) -> None:
    n, mean, sd = 28, 55.5239, 23.254
    away = sd * sqrt((n - 1) / n)
    after = update(Belief(35.0, 25.0, 12.5, 24.0), [mean - away] * 14 + [mean + away] * 14)
    place = "4.1.4"
    # Printed to four decimals from unrounded data; the summaries put in are rounded in the fourth and third.
    theirs("posterior mean", 45.8428, after.mean, unit="ppb", tol=0.0001, place=place)
    theirs("posterior scale of the mean", 2.9457, after.sd / sqrt(after.weight), unit="ppb", tol=0.0002, place=place)
    theirs("degrees of freedom", 52.0, after.freedom, tol=0.0, place=place)
    theirs("posterior variance", 459.9, after.sd**2, unit="ppb2", tol=0.05, place=place)
    for chance, printed in ((0.025, 39.93192), (0.975, 51.75374)):
        end = after.mean + float(stdtrit(after.freedom, chance)) * after.sd / sqrt(after.weight)
        theirs(f"95 % interval, at {chance}", printed, end, unit="ppb", tol=0.0005, place=place)
