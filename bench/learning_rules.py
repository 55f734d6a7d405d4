"""Rules of learning beside each other: what each costs a mason who is just as the defaults have him, and gives one who is not.

Run ``python -m bench.learning_rules`` (``--save docs/bench/learning-rules.md`` to keep the tables). Seeded. Every forecast is
made from the jobs before it; the loss is the squared error of jobs 11 to 40, over that of the default forecasts.

Rules, all on y = ln(actual / forecast): the mixture of `price.belief` with several chances of the defaults beforehand; always
learning (that chance nought); a test first (T. A. Bancroft, Annals of Mathematical Statistics 15 (1944), 190, from memory): the
mean of own jobs where it lies more than so many standard errors from the defaults, else the defaults; and positive-part
shrinkage (W. James and C. Stein, Proc. 4th Berkeley Symposium 1 (1961), 361, from memory), in one dimension.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable
from dataclasses import dataclass
from math import log
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.special import expit

from bench.seasons import FROM, JOBS, SEED
from crownwright.price.belief import PRIORS, USUAL, Belief, posterior, usual_chance, usual_posterior, usual_way

Array = NDArray[np.float64]
OFF = (0.0, 0.1, 0.2, 0.3, 0.5, 0.75, 1.0, 1.5, 2.0)
"""How far the mason is off the defaults, in standard deviations of one job."""


@dataclass(frozen=True)
class Seen:
    """What a rule sees of the jobs so far: the forecast's factor by his own way and by the defaults' way, the chance of the
    defaults by evidence alone (even odds before), how many standard errors his mean is ``off``, and that ``mean``.
    """

    own: Array
    usual: Array
    even: Array
    off: Array
    mean: Array


Rule = Callable[[Seen], Array]


def mixture(before: float) -> Rule:
    """The mixture, with this chance of the defaults beforehand."""

    def factor(seen: Seen) -> Array:
        q = expit(np.log(seen.even) - np.log1p(-seen.even) + log(before / (1 - before)))
        return np.asarray(q * seen.usual + (1 - q) * seen.own, float)

    return factor


RULES: dict[str, Rule] = {
    "always learn": lambda seen: seen.own,
    "mixture, 1/5 beforehand": mixture(0.2),
    f"mixture, {USUAL:.0%} beforehand (used)": mixture(USUAL),
    "mixture, 1/2 beforehand": mixture(0.5),
    "mixture, 2/3 beforehand": mixture(2 / 3),
    "test at 1.64 standard errors": lambda seen: np.where(seen.off > 1.64, seen.own, 1.0),
    "test at 2": lambda seen: np.where(seen.off > 2.0, seen.own, 1.0),
    "test at 2.58": lambda seen: np.where(seen.off > 2.58, seen.own, 1.0),
    "positive-part shrinkage": lambda seen: np.exp(np.maximum(1 - 1 / np.maximum(seen.off, 1e-9) ** 2, 0.0) * seen.mean),
}


def seen_of(prior: Belief, y: Array) -> Seen:
    """What the jobs so far show; y (seasons, jobs)."""
    w, keep = np.ones_like(y), np.ones(y.shape, bool)
    mine, usual = posterior(prior, y, w, keep), usual_posterior(prior, y, w, keep)
    k, m, _, s2 = mine
    q = usual_chance(prior, mine, usual)
    even = expit(np.log(q) - np.log1p(-q) - log(USUAL / (1 - USUAL)))
    mean = y.mean(1) - usual_way(prior)
    return Seen(
        np.exp(m + s2 * (1 + 1 / k) / 2), np.exp(usual_way(prior) + usual[1] / 2), even,
        np.abs(mean) / np.sqrt(usual[1] / y.shape[1]), mean,
    )  # fmt: skip


def losses(what: str, off: float, seasons: int) -> dict[str, tuple[float, float, float]]:
    """For each rule: squared error over the defaults' own, bias over jobs 11 to 40, bias of job 11; one mason, many seasons."""
    prior = PRIORS[what]
    rng = np.random.default_rng([SEED, what == "hours"])  # the same draws for every distance: only the distance differs
    size = rng.uniform(6.0, 20.0, (seasons, JOBS))
    y = usual_way(prior) + off * prior.sd + prior.sd * rng.standard_normal((seasons, JOBS))
    actual = size * np.exp(y)
    default = float(((size - actual)[:, FROM:] ** 2).sum())
    lost = {name: np.zeros(JOBS) for name in RULES}
    bias = {name: np.zeros(JOBS) for name in RULES}
    for j in range(FROM, JOBS):
        seen = seen_of(prior, y[:, :j])
        for name, rule in RULES.items():
            error = size[:, j] * rule(seen) - actual[:, j]
            lost[name][j], bias[name][j] = (error**2).sum(), error.sum()
    took = actual[:, FROM:].sum()
    return {
        name: (lost[name].sum() / default, bias[name].sum() / took, bias[name][FROM] / actual[:, FROM].sum()) for name in RULES
    }


def break_even(points: list[float]) -> float:
    """How far off the defaults a mason must be, in standard deviations, for a rule to be worth it: where the loss crosses 1."""
    for (a, x), (b, z) in zip(zip(OFF, points, strict=True), list(zip(OFF, points, strict=True))[1:], strict=False):
        if x > 1 >= z:
            return a + (b - a) * (x - 1) / (x - z)
    return 0.0


def table(what: str, seasons: int) -> list[str]:
    """One table in Markdown."""
    sd = PRIORS[what].sd
    found = [losses(what, off, seasons) for off in OFF]
    best = [min(1.0, one["always learn"][0]) for one in found]
    heads = " | ".join("as the defaults" if not off else f"{off * sd:.1%} off" for off in OFF)
    lines = [
        f"## {what.capitalize()}, one job spreading {sd:.0%}", "",
        f"| rule | {heads} | pays from | most regret | worst bias | of job 11 |", "|---|" + "---|" * (len(OFF) + 4),
    ]  # fmt: skip
    for name in RULES:
        points = [one[name][0] for one in found]
        regret = max(point / least - 1 for point, least in zip(points, best, strict=True))
        biases = [max((one[name][i] for one in found), key=abs) for i in (1, 2)]
        cells = " | ".join(f"{point:.3f}" for point in points)
        lines.append(
            f"| {name} | {cells} | {break_even(points) * sd:.1%} off | {regret:.1%} | {biases[0]:+.2%} | {biases[1]:+.2%} |"
        )
    return [*lines, ""]


SAYS = """# Rules of learning beside each other

{seasons:,} seasons of {jobs} jobs of one mason for each distance from the defaults; squared error of jobs 11 to {jobs}, over that
of the default forecasts: below 1 learning is better. Made by
`python -m bench.learning_rules --save docs/bench/learning-rules.md`.

**No rule that learns can be as good as the defaults for a mason who is exactly at them.** There the default forecast is the mean
of what a job takes, and nothing has a smaller expected squared error than the mean; a rule that departs from it now and then, by
the chance of his jobs, must lose. What can be chosen is how little it loses there, and how soon it pays. So "worse" is told in
three ways: the loss at the defaults themselves (the worst case), the distance from them at which learning begins to pay, and, in
[seasons](seasons.md), the loss over masons drawn from what is believed of them.

A test first, or more trust in the defaults, costs less at the defaults and more just beside them. "Most regret" is the greatest
excess over the better of two who know more: one who knows that the mason is off enough to learn always, one who knows that he is
not. "Worst bias" is that of the distance where it is greatest; the limit set is 3 % over all jobs from the eleventh. The mixture
with one chance in three beforehand is used: about the least regret of all, the limit kept, and unlike a test or shrinkage it
gives the whole spread of the next job, from which the bags for a stated risk are counted.

"""


def main() -> None:
    """Run and print, or keep."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seasons", type=int, default=4000)
    parser.add_argument("--save", type=Path)
    args = parser.parse_args()
    text = SAYS.format(seasons=args.seasons, jobs=JOBS) + "\n".join(
        line for what in ("bags", "hours") for line in table(what, args.seasons)
    )
    print(text)
    if args.save:
        args.save.write_text(text, "utf-8")


if __name__ == "__main__":
    main()
