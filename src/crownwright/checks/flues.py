"""Flue size against the fireplace it serves, and the free area of rain cap and spark arrestor."""

from __future__ import annotations

from math import pi

from crownwright.checks.choices import Appliance
from crownwright.checks.rules import compare_rule
from crownwright.checks.tell import figure
from crownwright.codes.astm_c315 import liners
from crownwright.codes.cap_rules import RuleSet
from crownwright.codes.irc_2018 import FlueShape, flue_ratio
from crownwright.codes.usda_fb_1889 import flue_ratio as old_ratio
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.units import FOOT
from crownwright.quantity.working import Cite, Figure
from crownwright.survey.model import PlacedFlue

RATIO = Cite("irc_2018", "R1003.15.1", "from memory")
BULLETIN = Cite("farmers_bulletin_1889", "p. 33")
LINERS = Cite("astm_c315", "sizes", "from memory")
MEASURED = Cite("entered", standing="entered")
NEAR = 0.02
"""A measured outside size within this of a nominal one, m, is taken for it when the inside was not read."""


def net_area(flue: PlacedFlue) -> tuple[float, Cite] | None:
    """Return the inside area of a flue, m2, and how it is known: measured inside, or the liner of that outside size."""
    if flue.inside is not None:
        return _area(flue.shape, flue.inside), MEASURED
    for liner in liners().values():
        if liner.shape == flue.shape and abs(liner.long - max(flue.size)) + abs(liner.short - min(flue.size)) <= NEAR:
            return liner.inside_area, LINERS
    return None


def figures_flue(flue: PlacedFlue, appliance: Appliance) -> tuple[Figure, ...]:
    """Return the flue's area, the opening's, and their ratio; () where either is not known."""
    known = net_area(flue)
    if known is None or appliance.opening is None:
        return ()
    area, cite = known
    wide, high = appliance.opening
    inputs = (("A", "flue inside", area, "m2"), ("w", "opening width", wide, "m"), ("h", "opening height", high, "m"))
    at = f"checks.flue.{flue.name}"
    measured = "inside" if flue.inside else "outside, its wall by the table of liners"
    sizes = zip(("a", "b"), flue.inside or flue.size, strict=False)  # a round one has one size alone
    size = tuple((symbol, f"{measured}, one way", value, "m") for symbol, value in sizes)
    return (
        figure(f"{at}.area", f"flue {flue.name}, inside area", area, "m2", "inside length x width", cite, *size),
        figure(
            f"{at}.ratio",
            f"opening over flue {flue.name}",
            wide * high / area,
            "1",
            "w h/A",
            Cite("derived", standing="derived"),
            *inputs,
        ),
    )


def check_flue_size(flue: PlacedFlue, appliance: Appliance) -> tuple[Finding, ...]:
    """Return the flue's share of a fireplace opening against the residential code, with the old bulletin's rule beside it."""
    if appliance.kind != "open fireplace":
        return ()
    known, opening = net_area(flue), appliance.opening
    share = None if known is None or opening is None else known[0] / (opening[0] * opening[1])
    act = (
        "Measure the flue inside and the opening." if share is None else "Expect smoke: refer the sizing before the cap goes on."
    )
    aspect = max(flue.size) / min(flue.size)
    subject = f"flue {flue.name} over its fireplace opening"
    found = [
        compare(
            f"flue.size.{flue.name}",
            "flue area over opening",
            RATIO,
            subject,
            share,
            at_least=flue_ratio(_shape(flue), aspect),
            action=act,
        )
    ]
    if appliance.hearth_to_top is not None:
        old = old_ratio(appliance.hearth_to_top)
        found.append(
            compare(
                f"flue.size.{flue.name}.bulletin",
                f"flue area over opening, {appliance.hearth_to_top / FOOT:.0f} ft ({appliance.hearth_to_top:.1f} m)",
                BULLETIN,
                subject,
                share,
                at_least=old,
                action=act,
            )
        )
    return tuple(found)


def check_openings(
    flues: tuple[PlacedFlue, ...], rules: RuleSet, rain_cap: float | None, arrestor: float | None
) -> tuple[Finding, ...]:
    """Return the findings on a rain cap's clear height (m) and an arrestor's free area (m2); () where none is planned."""
    raise_ = "Raise the rain cap: its clear height should be the flue's side or diameter."
    larger = "Take a larger screen; it must stop a 1/2 in. ball and pass a 3/8 in. one, and come off for cleaning."
    found: list[Finding] = []
    for flue in flues:
        open_area = None if rain_cap is None else rain_cap * _perimeter(flue)
        found += _free_area(flue, rules, "rain_cap_area", "rain cap", open_area, raise_)
        found += _free_area(flue, rules, "free_area", "arrestor", arrestor, larger)
    return tuple(found)


def _free_area(flue: PlacedFlue, rules: RuleSet, name: str, what: str, free: float | None, action: str) -> tuple[Finding, ...]:
    if free is None:
        return ()
    known = net_area(flue)
    share = None if known is None else free / known[0]
    key, subject = f"flue.{name}.{flue.name}", f"{what} over {flue.name}"
    return tuple(compare_rule(one, key, subject, share, action) for one in rules.all(name))


def _area(shape: str, inside: tuple[float, float]) -> float:
    return pi / 4 * inside[0] ** 2 if shape == "round" else inside[0] * inside[1]


def _perimeter(flue: PlacedFlue) -> float:
    inside = flue.inside or flue.size
    return pi * inside[0] if flue.shape == "round" else 2 * (inside[0] + inside[1])


def _shape(flue: PlacedFlue) -> FlueShape:
    if flue.shape == "round":
        return "round"
    return "square" if max(flue.size) / min(flue.size) < 1.05 else "rectangular"
