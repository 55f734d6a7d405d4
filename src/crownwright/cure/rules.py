"""Why an hour is refused: each rule of the window search with its words, its source and what to do about it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.units import HOUR
from crownwright.quantity.working import PRACTICE, Cite
from crownwright.sources.tables import pick

JUDGED = Cite("judgement", standing="common practice")


@dataclass(frozen=True, slots=True)
class Rule:
    """One thing compared: what was looked at, in which SI ``unit``, whether it must be ``low`` or high, the distance inside the
    limit at which it stops counting against an hour (``comfort``), source and advice.
    """

    key: str
    subject: str
    says: str
    unit: str
    most: bool
    comfort: float
    cite: Cite
    action: str


def _rules(*rules: Rule) -> Mapping[str, Rule]:
    return MappingProxyType({rule.key: rule for rule in rules})


RULES = _rules(
    Rule("air_low", "coldest air from placing till final set", "air not under 40 °F (4 °C) while it sets", "degC", False, 8.0,
         Cite("aci_306r_2010", "definition of cold weather", "from memory"),
         "Wait for a warmer day, or protect it as cold weather asks."),
    Rule("air_high", "hottest air while placing", "air not over 90 °F (32 °C) while placing", "degC", True, 8.0,
         Cite("aci_305r_2010", "hot weather", "read"), "Start earlier in the morning; shade bags and cap."),
    Rule("mix_low", "temperature of the mix as placed", "concrete not under 55 °F (13 °C) as placed", "degC", False, 4.0,
         Cite("aci_306r_2010", "Table 3.1, section under 12 in."), "Warm the mixing water."),
    Rule("mix_high", "temperature of the mix as placed", "concrete not over 90 °F (32 °C) as placed", "degC", True, 6.0,
         Cite("aci_301_ufgs", "placing in hot weather"), "Cold water, bags in the shade, or an earlier start."),
    Rule("frost", "coldest surface before it stands a freezing", "no surface under 31 °F (-1 °C) before 500 psi (3.4 MPa)",
         "degC", False, 6.0,
         Cite("aci_306r_2010", "500 psi; 31 F taken as alarm"), "Blanket it from final set on, or wait."),
    Rule("evaporation", "greatest evaporation before final set", "evaporation not over 0.2 lb/sq ft h (1 kg/m² h)",
         "kg/(m2 s)", True, 0.6 / HOUR,
         Cite("fhwa_hrt_05_038", "chapter 5"), "Wind break, shade, mist between float and trowel; or a calmer hour."),
    Rule("rain_chance", "chance of rain from placing till an hour past final set", "rain chance not over the one accepted",
         "1", True, 0.35,
         PRACTICE, "Wait; or have a tent over it that sheds clear of the cap."),
    Rule("rain", "rain in an hour, from placing till an hour past final set", "no more than a trace before set",
         "mm", True, 0.25,
         PRACTICE, "Wait; or have a tent over it that sheds clear of the cap."),
    Rule("snow", "snow in an hour, from placing till an hour past final set", "no snow before set", "mm", True, 1.0,
         PRACTICE, "Wait."),
    Rule("wind", "strongest wind at the top while at work", "wind not over 20 mph (9 m/s) where sheets and buckets are handled",
         "m/s", True, 4.0,
         Cite("practice", "20 to 25 mph", "common practice"), "Wait for calmer air."),
    Rule("gust", "strongest gust at the top while at work", "gusts not over 30 mph (13 m/s) while handling material aloft",
         "m/s", True, 5.0,
         Cite("osha_1910_269", "definition of high wind"), "Wait for calmer air."),
    Rule("heat_index", "hottest the work feels, in the shade", "heat index not over 103 °F (39 °C)", "degC", True, 8.0,
         Cite("osha_heat", "levels of the heat index"), "Start at first light; water, rest, shade."),
    Rule("dark", "hours of work without daylight", "placing, floating and trowelling in daylight", "h", True, 0.0,
         PRACTICE, "Another starting hour."),
    Rule("hours", "hours of work outside the working day", "work within the hours chosen", "h", True, 0.0,
         Cite("entered", standing="entered"), "Another starting hour."),
    Rule("bed", "days on which the bed could be laid before it", "a bed laid the day before, overnight at least",
         "1", False, 0.0,
         PRACTICE, "Lay the bed first; then any later hour without another reason will do."),
    Rule("beyond", "hours of it past the end of the forecast", "work and setting inside the forecast", "h", True, 0.0,
         JUDGED, "Fetch the forecast again nearer the day."),
)  # fmt: skip
"""The rules, by key. Limits that can be changed are in `Limits`; the words name the default."""


def refusal(key: str, provided: float, limit: float) -> Finding:
    """Return the finding for a rule that an hour does not meet. KeyError lists the rules there are."""
    rule = pick(RULES, key, "rule of the window search")
    low, high = (None, limit) if rule.most else (limit, None)
    return Finding(
        f"cure.window.{key}",
        rule.says,
        rule.cite,
        rule.subject,
        Verdict.SHORT,
        rule.action,
        low,
        high,
        provided,
        rule.unit,
        blocks=True,
    )
