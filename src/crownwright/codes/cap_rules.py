"""What each code set asks of a chimney cap, as data: one TOML file a set in `cap_sets`, one lookup, conflicts side by side.

A set may adopt others (the model codes adopt ASTM C1283): its own rule goes first, then theirs. Where a set is silent there is
no rule, and that is an answer too. Sets: see `rule_sets`. Rule names: see `RULES`.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from math import radians
from types import MappingProxyType
from typing import Any

from crownwright.quantity.units import FOOT, INCH
from crownwright.quantity.working import Cite
from crownwright.sources.tables import pick

RULES: Mapping[str, str] = MappingProxyType(
    {
        "material": "what the cap is made of",
        "slope": "fall of the wash",
        "edge_thickness": "thickness at the outer edge",
        "overhang": "cap beyond the finished wall face",
        "soffit_below_edge": "soffit below the lowest sound edge of the stone",
        "hump_cover": "concrete over the highest hump",
        "drip": "a drip under the overhang",
        "drip_from_wall": "wall face to the near lip of the drip",
        "drip_groove": "width of the drip groove",
        "drip_lip": "concrete outside the drip groove",
        "drip_cover": "concrete above the drip groove",
        "joint_break": "bond break between cap and liner",
        "joint_gap": "gap between cap and liner",
        "joint_sealed": "sealant over the liner joint",
        "sealant_class": "movement class of the sealant",
        "wall_break": "bond break between cap and masonry",
        "anchored": "cap anchored to the chimney",
        "liner_proud": "liner above the finished cap",
        "liner_space": "space between liner and chimney wall",
        "reinforced": "reinforcement in the cap",
        "mesh": "hardware cloth at mid-depth",
        "steel_cover": "concrete over the steel",
        "joint_reinforcement_cover": "mortar over joint reinforcement",
        "height_at_roof": "height above the roof where the chimney passes through it",
        "height_above_near": "height above anything within reach",
        "height_reach": "how far off a part of the building still counts",
        "height_diagram": "where the outlet may stand above a pitched roof",
        "flue_length": "length of the flue",
        "slenderness": "height above the roof over least width",
        "brace_free_height": "height that needs no bracing",
        "brace_free_side": "least side that needs no bracing",
        "wythe_between_flues": "masonry between flues",
        "wall_thickness": "chimney wall",
        "free_area": "free area of a spark arrestor over flue area",
        "rain_cap_area": "free area under a rain cap over flue area",
        "cricket_width": "chimney width that needs a cricket",
    }
)
"""Every rule name there is, and what it is about."""
UPPER_BOUNDS = frozenset({"liner_space", "slenderness", "brace_free_height", "cricket_width"})
"""Rules that bound from above when the bound is not named."""

_TO_SI: Mapping[str, tuple[float, str]] = {
    "in": (INCH, "m"),
    "ft": (FOOT, "m"),
    "mm": (0.001, "m"),
    "m": (1.0, "m"),
    "deg": (radians(1.0), "rad"),
    "1": (1.0, "1"),
    "liner wall": (1.0, "1"),
}


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of one set.

    ``at_least`` and ``at_most`` are in the SI ``unit`` (None: no bound). ``asks`` is True or False for a yes-or-no rule, None for
    a measured one. ``says`` is the rule in plain words, ``note`` what is doubtful about its text.
    """

    name: str
    says: str
    cite: Cite
    at_least: float | None = None
    at_most: float | None = None
    unit: str = "1"
    asks: bool | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class RuleSet:
    """The rules that bind one job, by name: a code set, perhaps with the job's own local rules laid over it.

    A name may have several rules, of different documents (one the least, another the most a liner may stand proud).
    """

    name: str
    title: str
    rules: Mapping[str, tuple[Rule, ...]]

    def all(self, name: str) -> tuple[Rule, ...]:
        """Return every rule of that name, () where the set says nothing; KeyError for a name that is no rule at all."""
        pick(RULES, name, "cap rule")
        return self.rules.get(name, ())

    def limits(self, name: str) -> tuple[float | None, float | None]:
        """Return the tightest bounds (least, most; SI) of all rules of that name; None where there is no bound.

        >>> least, most = rule_set("us-model").limits("liner_proud")
        >>> round(least / INCH, 6), round(most / INCH, 6)
        (2.0, 4.0)
        """
        least = [rule.at_least for rule in self.all(name) if rule.at_least is not None]
        most = [rule.at_most for rule in self.all(name) if rule.at_most is not None]
        return max(least, default=None), min(most, default=None)

    def asks(self, name: str) -> bool:
        """Return whether any rule of that name asks for the thing."""
        return any(rule.asks for rule in self.all(name))

    def with_local(self, *local: Rule) -> RuleSet:
        """Return the same set with the job's own rules in place of, or added to, the set's."""
        for one in local:
            pick(RULES, one.name, "cap rule")
        laid = {name: tuple(one for one in local if one.name == name) for name in dict.fromkeys(one.name for one in local)}
        return RuleSet(self.name, self.title, MappingProxyType({**self.rules, **laid}))


@cache
def rule_sets() -> tuple[str, ...]:
    """Return the names of all sets, in alphabetical order."""
    folder = resources.files(__package__).joinpath("cap_sets")
    return tuple(sorted(file.name.removesuffix(".toml") for file in folder.iterdir() if file.name.endswith(".toml")))


def rule_set(name: str, overrides: Mapping[str, float] | None = None) -> RuleSet:
    """Return a set with what it adopts, its own rule of a name going before any it adopts; local rules laid over it.

    ``overrides`` are the job's own limits by key (see `local_rule`), SI. KeyError lists the sets, rules or bounds there are.

    >>> rule_set("irc_2018").all("slope")[0].cite.document  # the residential code gives no number, it points to C1283
    'astm_c1283'
    """
    whole = _merged(name)
    return whole.with_local(*(local_rule(key, value) for key, value in overrides.items())) if overrides else whole


def rule(set_name: str, name: str) -> Rule:
    """Return the first rule of that name in a set.

    Raises KeyError, listing what there is, when the set, the rule name, or the set's rule of that name is unknown.

    >>> round(rule("astm_c1283", "overhang").at_least / INCH, 6)
    2.0
    """
    pick(RULES, name, "cap rule")
    return pick(rule_set(set_name).rules, name, f"rule in {set_name}")[0]


def conflicts(name: str) -> tuple[tuple[str, Rule], ...]:
    """Return what every set that says anything itself says about ``name``: pairs of set name and rule, not counting adoption.

    >>> [which for which, _ in conflicts("liner_proud")]
    ['astm_c1283', 'local_us', 'nfpa_211_2019', 'ontario_332_12', 'practice']
    """
    pick(RULES, name, "cap rule")
    return tuple((which, _own(which)[2][name]) for which in rule_sets() if name in _own(which)[2])


def rule_unit(name: str) -> str | None:
    """Return the SI unit that a rule is measured in ("m", "rad", "1"), None for a yes-or-no rule; KeyError for no rule at all.

    >>> rule_unit("overhang"), rule_unit("drip")
    ('m', None)
    """
    said = [rule for _, rule in conflicts(name)]
    if said and all(rule.asks is not None for rule in said):
        return None
    return next((rule.unit for rule in said if rule.asks is None), "1")


def local_rule(key: str, value: float) -> Rule:
    """Return a rule from one of the job's overrides: ``overhang``, ``overhang.at_least``, ``liner_proud.at_most`` -> SI value.

    Raises KeyError, listing what there is, for an unknown rule or bound.

    >>> local_rule("liner_proud.at_most", 0.15).at_most
    0.15
    """
    name, _, bound = key.partition(".")
    pick(RULES, name, "cap rule")
    pick({"": 0, "at_least": 0, "at_most": 0}, bound, "bound")
    unit = next((rule.unit for _, rule in conflicts(name)), "1")
    upper = bound == "at_most" or (bound == "" and name in UPPER_BOUNDS)
    low, high = (None, value) if upper else (value, None)
    return Rule(name, f"{RULES[name]}, as the local authority asks", Cite("entered", key, "entered"), low, high, unit)


def read_rule(name: str, row: Mapping[str, Any], document: str) -> Rule:
    """Return a rule from one table of a set's file, or of the job's own: source units in, SI out.

    ``row`` has ``says`` and either ``asks`` or bounds with their ``unit`` (in, ft, mm, m, deg, 1), and may have ``document``,
    ``clause``, ``standing`` and ``note``. Raises KeyError for an unknown rule or unit.

    >>> read_rule("overhang", {"says": "by the county", "at_least": 3, "unit": "in"}, "entered").at_least
    0.07619999999999999
    """
    pick(RULES, name, "cap rule")
    size, unit = pick(_TO_SI, row.get("unit", "1"), "unit")
    low, high = row.get("at_least"), row.get("at_most")
    return Rule(
        name=name,
        says=row["says"],
        cite=Cite(row.get("document", document), row.get("clause", ""), row.get("standing", "read")),
        at_least=None if low is None else low * size,
        at_most=None if high is None else high * size,
        unit=unit,
        asks=row.get("asks"),
        note=row.get("note", ""),
    )


@cache
def _merged(name: str) -> RuleSet:
    title, adopts, own = _own(name)
    merged: dict[str, tuple[Rule, ...]] = {}
    for adopted in adopts:
        for key, found in _merged(adopted).rules.items():
            merged[key] = merged.get(key, ()) + found
    return RuleSet(name, title, MappingProxyType({**merged, **{key: (one,) for key, one in own.items()}}))


@cache
def _own(name: str) -> tuple[str, tuple[str, ...], Mapping[str, Rule]]:
    """Return a set's title, the sets it adopts, and the rules in its own file."""
    pick(dict.fromkeys(rule_sets()), name, "rule set")
    raw: dict[str, Any] = tomllib.loads(resources.files(__package__).joinpath("cap_sets", f"{name}.toml").read_text("utf-8"))
    document, title, adopts = raw.pop("document"), raw.pop("title"), tuple(raw.pop("adopts", ()))
    return title, adopts, {key: read_rule(key, row, document) for key, row in raw.items()}
