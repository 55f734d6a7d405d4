"""Batches, the clock and the carrying: what goes into the mixer when, how old the lower lift is when the wash covers it."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from crownwright.codes.set_times import open_time
from crownwright.concrete.bags import WATER_DENSITY, Bag
from crownwright.concrete.count import BagCount
from crownwright.concrete.lifts import Lift
from crownwright.concrete.mix import Mix
from crownwright.concrete.weight import wet_density
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.units import GALLON, LB
from crownwright.quantity.working import PRACTICE, Cite, Figure, Term

OPEN_CITE = Cite("open_time_rule", "log of time between its points; halved every 20 F above 20 degC")


@dataclass(frozen=True, slots=True)
class Site:
    """How the work is done; every default is common practice, no source.

    ``mixer`` whole bags it takes; ``mixing`` s for one batch, loading to empty; ``people`` in the crew, one of whom mixes;
    ``bucket`` m3 when full and ``fill`` how full it is carried; ``pail`` kg empty; ``trip`` s for one bucket up and down;
    ``pause`` s between the lifts, for the steel; ``start`` s after midnight.
    """

    mixer: int = 2
    mixing: float = 360.0
    people: int = 2
    bucket: float = 5 * GALLON
    fill: float = 2 / 3
    pail: float = 2 * LB
    trip: float = 150.0
    pause: float = 600.0
    start: float = 9 * 3600.0


@dataclass(frozen=True, slots=True)
class Batch:
    """``bags`` of a lift with ``water`` m3 and ``portland`` kg; ``buckets`` it fills; water meets cement at ``wet``, it is
    ``mixed`` and all ``placed`` (s after midnight).
    """

    number: int
    lift: str
    bags: int
    water: float
    portland: float
    buckets: int
    wet: float
    mixed: float
    placed: float


@dataclass(frozen=True, slots=True)
class BatchPlan:
    """Every batch in order; ``reserve`` bags left unopened unless wanted; ``done`` s after midnight; ``oldest`` age (s) of the
    lower lift anywhere when the upper covers it, and the ``open`` time (s) it may have; trips, and the weight of one bucket.
    """

    batches: tuple[Batch, ...]
    reserve: int
    done: float
    oldest: float
    open: float
    trips: int
    bucket_weight: float
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]


def plan_batches(lifts: tuple[Lift, Lift], count: BagCount, bag: Bag, mix: Mix, temperature: float, site: Site) -> BatchPlan:
    """Return the batches and the clock; ``temperature`` of the fresh concrete, degC.

    What the pour is expected to take is planned, whole bags; the rest of the count stays in reserve. ValueError for an
    impossible site.
    """
    _possible(site)
    expected = min(ceil(count.needed.mean - 1e-9), count.bags)
    lower = min(lifts[0].planned, expected)
    density = wet_density(bag, mix.water, mix.portland, mix.yields)
    runs = [(lifts[0], n) for n in _even(lower, site.mixer)] + [(lifts[1], n) for n in _even(expected - lower, site.mixer)]
    batches = tuple(_clock(runs, mix, site))
    oldest = oldest_cover(batches, lifts[0].name)
    may = open_time(temperature)
    trips = sum(batch.buckets for batch in batches)
    weight = site.bucket * site.fill * density + site.pail
    done = max((b.placed for b in batches), default=site.start)
    finding = _cold_joint(oldest, may)
    figures = _figures(batches, site, temperature, oldest, may, trips, weight, density)
    return BatchPlan(batches, count.bags - expected, done, oldest, may, trips, weight, (finding,), figures)


def oldest_cover(batches: tuple[Batch, ...], lower: str) -> float:
    """Greatest age (s, from water on cement) of the lower lift where the upper lift covers it; 0 without an upper lift.

    Both lifts go round the cap the same way, so a place a share of the way round the lower is covered a share of the way
    through the upper. The worst place of a batch is its last, which is covered latest.
    """
    first = [b for b in batches if b.lift == lower]
    second = [b for b in batches if b.lift != lower]
    if not first or not second:
        return 0.0
    return max(_covered(second, _share(first, i)) - b.wet for i, b in enumerate(first))


def _share(batches: list[Batch], index: int) -> float:
    """Share of the way round that a lift has come with this batch placed."""
    return sum(b.bags for b in batches[: index + 1]) / sum(b.bags for b in batches)


def _covered(batches: list[Batch], share: float) -> float:
    """When the upper lift has come a share of the way round, s; a batch is placed evenly from mixed to placed."""
    done, whole = 0.0, sum(b.bags for b in batches)
    for batch in batches:
        part = batch.bags / whole
        if share <= done + part + 1e-12:
            return batch.mixed + (share - done) / part * (batch.placed - batch.mixed)
        done += part
    return batches[-1].placed


def _even(bags: int, mixer: int) -> list[int]:
    """Split whole bags into as few batches as the mixer allows, as alike as they can be.

    >>> _even(7, 3), _even(0, 3)
    ([3, 2, 2], [])
    """
    if bags <= 0:
        return []
    batches = ceil(bags / mixer)
    small, more = divmod(bags, batches)
    return [small + 1] * more + [small] * (batches - more)


def _clock(runs: list[tuple[Lift, int]], mix: Mix, site: Site) -> list[Batch]:
    """Walk the batches through mixer and carriers: nothing is tipped before the batch ahead has been carried up."""
    batches: list[Batch] = []
    mixer_free, carried = site.start, site.start
    for number, (lift, bags) in enumerate(runs, 1):
        if batches and batches[-1].lift != lift.name:
            mixer_free, carried = max(mixer_free, carried + site.pause - site.mixing), carried + site.pause
        wet = max(mixer_free, carried - site.mixing)  # no sooner than it can be tipped: it would only grow old in the drum
        mixed = wet + site.mixing
        buckets = ceil(bags * mix.yields / (site.bucket * site.fill) - 1e-9)
        placed = max(mixed, carried) + buckets * site.trip / max(site.people - 1, 1)
        batches.append(Batch(number, lift.name, bags, bags * lift.water, bags * mix.portland, buckets, wet, mixed, placed))
        carried = placed
        mixer_free = mixed if site.people > 1 else placed  # a man alone does not mix while he carries
    return batches


def _cold_joint(oldest: float, may: float) -> Finding:
    action = "Mix smaller batches, put another man on, pour in the cool, or key and brush the lower lift and call it a joint."
    rule, subject = "lower lift still open when the wash covers it", "the oldest place of the lower lift"
    return compare("concrete.cold_joint", rule, OPEN_CITE, subject, oldest, at_most=may, unit="s", action=action)


def _possible(site: Site) -> None:
    limits = {"mixer": site.mixer, "people": site.people, "bucket": site.bucket, "fill": site.fill, "trip": site.trip}
    for name, value in limits.items():
        if not value > 0:
            raise ValueError(f"{name} must be above 0, is {value:g}")
    if site.fill > 1:
        raise ValueError(f"a bucket cannot be more than full, fill is {site.fill:g}")


def _figures(
    batches: tuple[Batch, ...], site: Site, at: float, oldest: float, may: float, trips: int, weight: float, density: float
) -> tuple[Figure, ...]:
    carry = (
        Term("v", "bucket, full", site.bucket, "m3", PRACTICE),
        Term("f", "how full it is carried", site.fill, "1", PRACTICE),
        Term("ρ", "fresh density", density, "kg/m3"),
        Term("p", "empty pail", site.pail, "kg", PRACTICE),
    )
    clock = (
        Term("tm", "one batch, loading to empty", site.mixing, "s", PRACTICE),
        Term("tt", "one bucket up and down", site.trip, "s", PRACTICE),
        Term("n", "people", site.people, "1"),
    )
    water = sum(b.water for b in batches) * WATER_DENSITY
    took = max((b.placed for b in batches), default=site.start) - site.start
    lifts = dict.fromkeys(b.lift for b in batches)
    bags = (Term("", f"bags, {lift}", float(sum(b.bags for b in batches if b.lift == lift))) for lift in lifts)
    into = (Term("m", "whole bags the mixer takes", float(site.mixer), "1", PRACTICE), *bags)
    concrete = Term("T", "temperature of the fresh concrete", at, "degC")
    return (
        Figure("concrete.batches", "batches", len(batches), "1", "bags of each lift / m, rounded up", into, PRACTICE),
        Figure("concrete.batch_water", "water for all batches", water, "kg", "sum over batches of bags x water a bag", into),
        Figure("concrete.bucket", "weight of one bucket", weight, "kg", "v f ρ + p", carry),
        Figure("concrete.trips", "buckets to carry up", trips, "1", "sum over batches of volume / (v f), rounded up", carry[:2]),
        Figure(
            "concrete.pour_time", "time for the pour", took, "s", "batch after batch, carried before the next is tipped", clock
        ),
        Figure("concrete.lift_age", "age of the lower lift when covered", oldest, "s", "greatest over the cap", clock),
        Figure("concrete.open_time", "time it stays open", may, "s", "4 h at 20 degC, by the rule", (concrete,), OPEN_CITE),
    )
