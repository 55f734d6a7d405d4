"""P. D. Hoff, A First Course in Bayesian Statistical Methods (2009), midge wing lengths (mm)

Data and prior as quoted in published course notes (mu0 = 1.9, kappa0 = 1, sigma0 = 0.1, nu0 = 1); the posterior mean 1.814 and
variance 0.015 as printed in 5.3, from memory, and worked here by hand:
mean (1 x 1.9 + 16.24) / 10 = 1.814; sum of squares about the mean 0.13502, of means 0.9 x (1.80444 - 1.9)^2 = 0.00822,
prior 0.01: (0.01 + 0.13502 + 0.00822) / 10 = 0.01532.
"""

from __future__ import annotations

from collections.abc import Callable

from crownwright.price.learning import Belief, update

WINGS = [1.64, 1.70, 1.72, 1.74, 1.82, 1.82, 1.82, 1.90, 2.08]


def test_posterior_of_the_midge_wings(theirs: Callable[..., None]) -> None:
    after = update(Belief(1.9, 1.0, 0.1, 1.0), WINGS)
    # Printed to three decimals.
    theirs("posterior mean", 1.814, after.mean, unit="mm", tol=0.0005, place="5.3", grade="from memory")
    theirs("posterior variance", 0.015, after.sd**2, unit="mm2", tol=0.0005, place="5.3", grade="from memory")
    theirs("the same, by hand", 0.01532, after.sd**2, unit="mm2", tol=0.000005, place="arithmetic above", grade="derived")
    theirs("posterior weight", 10.0, after.weight, tol=0.0, place="5.3", grade="from memory")
