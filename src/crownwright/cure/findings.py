"""What the pour chosen is compared with, and the figures that show how each number came about."""

from __future__ import annotations

import numpy as np

from crownwright.codes import aci_306r_2010, mcneese_1952, menzel_1954, uno_1998
from crownwright.codes.aci_308r import least_moist, moist_share_band
from crownwright.cure.heat import History
from crownwright.cure.inputs import CureChoices, MixInCure
from crownwright.cure.model import CareOption, Course
from crownwright.cure.options import mist_interval
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.units import DAY, HOUR, celsius
from crownwright.quantity.working import PRACTICE, Cite, Figure, Term

HYDRATION = Cite("schindler_folliard_2005", "degree of hydration by equivalent age", "from memory")
SETTING = Cite("schindler_2004", "degree 0.15 and 0.26 w/c", "from memory")
STRENGTH = Cite("powers_1958", "gel/space ratio; set to the open data of 51 mixes", "from memory")
MENZEL = Cite("menzel_1954", "vapour pressure form", "from memory")


def clock_terms(history: History, mix: MixInCure) -> tuple[Term, ...]:
    """Return what the clock is made of, for the figures that rest on it."""
    curve = history.curve
    return (
        Term("w/c", "water over cement", mix.water_cement),
        Term("tau", "time constant of hydration", curve.tau, "s", HYDRATION),
        Term("beta", "shape of hydration", curve.beta, "1", HYDRATION),
        Term("alpha_u", "degree of hydration in the end", curve.ultimate, "1", HYDRATION),
        Term("E", "activation energy", curve.energy, "J/mol", HYDRATION),
        Term("T0", "temperature as placed", float(history.middle[0, 0, 0]), "degC"),
    )


def findings_of(option: CareOption, course: Course, mix: MixInCure, choices: CureChoices, placed: float) -> tuple[Finding, ...]:
    """Return what this pour is compared with: evaporation, frost, placing temperature, cold weather, cooling, cure, strength."""
    limits, care = choices.limits, choices.care
    three = course.age <= aci_306r_2010.protection()
    cooling = _fastest_cooling(course)
    strip = float(np.interp(max(choices.strip_floor, care.strip_days * DAY), course.age, course.low))
    return (
        compare(
            "cure.evaporation",
            "evaporation from the fresh surface",
            Cite("fhwa_hrt_05_038", "chapter 5"),
            "before final set",
            option.drying,
            at_most=menzel_1954.CAUTION,
            unit="kg/(m2 s)",
            action="Wind break, shade, mist between float and trowel; never work water in.",
        ),
        compare(
            "cure.frost",
            "no surface at the alarm temperature before 500 psi",
            Cite("aci_306r_2010", "500 psi rule"),
            "coldest concrete before it stands a freezing",
            option.coldest,
            at_least=limits.frost,
            unit="degC",
            action="Blanket it from final set on, or wait for a warmer spell.",
            blocks=True,
        ),
        compare(
            "cure.placing",
            "concrete temperature as placed",
            Cite("aci_306r_2010", "Table 3.1, under 12 in."),
            "the mix",
            placed,
            at_least=limits.mix_low,
            at_most=limits.mix_high,
            unit="degC",
            action="Warm or cool the mixing water.",
        ),
        compare(
            "cure.cold",
            "air while it is protected (2010 and 2016 editions)",
            Cite("aci_306r_2010", "definition of cold weather", "from memory"),
            "coldest air in three days",
            float(course.air[three].min()),
            at_least=aci_306r_2010.COLD,
            unit="degC",
            action="Treat it as cold weather: blanket, dry bags, warm water, three days of protection.",
        ),
        compare(
            "cure.cold.1988",
            "days running with a mean under 40 F and no half day over 50 F (1988 edition: cold from the fourth on)",
            Cite("aci_306r_1988", "definition of cold weather"),
            "longest run in the days followed",
            float(_cold_run(course)),
            at_most=3.0,
            action="By the older guide too this is cold weather.",
        ),
        compare(
            "cure.cooling",
            "cooling in any 24 hours",
            Cite("aci_306r_2010", "Table 3.1, drop after protection"),
            "the concrete's top",
            cooling,
            at_most=aci_306r_2010.COOLING_DAY,
            unit="K",
            action="Take blanket and cover off in the afternoon, one at a time.",
        ),
        compare(
            "cure.moist",
            "days kept moist",
            Cite("aci_308r", "least moist curing", "from memory"),
            "damp cover",
            care.moist_days * DAY if care.damp else 0.0,
            at_least=least_moist(mix.kind),
            unit="s",
            action="Keep it damp for the full time; see what is lost by stopping early.",
        ),
        compare(
            "cure.strip",
            "strength when the form comes off, nineteen chances in twenty",
            STRENGTH,
            "youngest concrete at the edge",
            strip,
            at_least=choices.strip_strength,
            unit="Pa",
            action="Leave the form on until it is there.",
        ),
    )


def _cold_run(course: Course) -> int:
    """Return the longest run of days with a mean under 40 F and not half of it over 50 F."""
    day = round(DAY / (course.age[1] - course.age[0]))
    longest = run = 0
    for first in range(0, len(course.air) - day + 1, day):
        air = course.air[first : first + day]
        run = run + 1 if air.mean() < aci_306r_2010.COLD and float(np.median(air)) <= celsius(50.0) else 0
        longest = max(longest, run)
    return longest


def _fastest_cooling(course: Course) -> float:
    """Return the greatest fall of the top's temperature over 24 h, K."""
    step = round(DAY / (course.age[1] - course.age[0]))
    if len(course.age) <= step:
        return 0.0
    tops = np.minimum(course.top_edge, course.top_middle)
    return float(np.max(tops[:-step] - tops[step:]))


def figures_of(
    option: CareOption,
    course: Course,
    history: History,
    mix: MixInCure,
    choices: CureChoices,
    sets: tuple[tuple[float, ...], ...],
) -> tuple[Figure, ...]:
    """Return the figures of the pour; ``sets`` initial and final set, each (typical, early, late) s."""
    terms = clock_terms(history, mix)
    made = [*_set_figures(sets, terms), *_drying_figures(option, course), *_strength_figures(course, mix, choices, terms)]
    made += [
        Figure(
            "cure.coldest",
            "coldest concrete before it stands a freezing",
            option.coldest,
            "degC",
            "heat balance through the thickness",
            terms,
            Cite("derived", "sun, sky, wind, evaporation, hydration, boards, masonry", "derived"),
            spread=1.5,
        ),
        Figure(
            "cure.hottest", "hottest concrete", option.hottest, "degC", "heat balance through the thickness", terms, spread=2.0
        ),
    ]
    if option.frozen is not None:
        least, most = mcneese_1952.loss_band(option.frozen)
        band = (Term("te", "age at 72 F when it met 28 F", option.frozen, "s"), Term("least", "least loss in the tests", least))
        made.append(
            Figure(
                "cure.freeze.loss",
                "share of strength that this freezing may take",
                most,
                "1",
                "band of the tests",
                band,
                Cite("mcneese_1952"),
                "one freezing; about half is the most that was ever lost",
            )
        )
    return (*made, *_moist_figures(choices))


def _set_figures(sets: tuple[tuple[float, ...], ...], terms: tuple[Term, ...]) -> list[Figure]:
    holds = "50 to 90 F within 15 % of the trade's table; colder, see earliest and latest"
    made = []
    for (typical, early, late), name, share in zip(sets, ("initial", "final"), (0.15, 0.26), strict=True):
        if np.isfinite(typical):
            formula = f"age at which alpha = {share:g} w/c; alpha = alpha_u exp(-(tau/te)^beta), te = sum exp(E/R(1/Tr - 1/T)) dt"
            band = (Term("early", "earliest", early, "s"), Term("late", "latest", late, "s"))
            spread = (late - early) / 3.29 if np.isfinite(late) else None
            made.append(
                Figure(
                    f"cure.set.{name}",
                    f"{name} set after striking off",
                    typical,
                    "s",
                    formula,
                    terms + band,
                    SETTING,
                    holds,
                    spread=spread,
                )
            )
    return made


def _drying_figures(option: CareOption, course: Course) -> list[Figure]:
    before = course.age <= option.final
    at = int(np.argmax(np.where(before, course.drying, -1.0)))
    surface = float(course.top_edge[at])
    terms = (
        Term("T", "surface at that time", surface, "degC"),
        Term("Ta", "air at that time", float(course.air[at]), "degC"),
        Term("E'", "by Uno's formula, which reads high in cold air", option.drying_uno, "kg/(m2 s)", Cite("uno_1998")),
    )
    made = [
        Figure(
            "cure.evaporation",
            "greatest evaporation before final set",
            option.drying,
            "kg/(m2 s)",
            "0.315 (e0 - ea)(0.253 + 0.060 V)",
            terms,
            MENZEL,
            "actual evaporation within 40 % of it",
            spread=option.drying * uno_1998.SCATTER / 2,
        ),
    ]
    interval = mist_interval(option.drying)
    if interval < 4 * HOUR:
        made.append(
            Figure(
                "cure.mist",
                "mist every",
                interval,
                "s",
                "film / evaporation",
                (
                    Term("film", "water a fine mist lays, kg/m2", 0.15, "kg/m2"),
                    Term("E", "evaporation", option.drying, "kg/(m2 s)"),
                ),
                Cite("judgement", "0.15 mm of film", "derived"),
            ),
        )
    return made


def _strength_figures(course: Course, mix: MixInCure, choices: CureChoices, terms: tuple[Term, ...]) -> list[Figure]:
    made = []
    for days in (1, 3, 7):
        if course.age[-1] < days * DAY:
            continue
        low, typical, high = (
            float(np.interp(days * DAY, course.age, line)) for line in (course.low, course.typical, course.high)
        )
        band = (
            Term("f28", "strength at 28 days", mix.strength, "Pa"),
            Term("low", "low, with the chance taken", low, "Pa"),
            Term("high", "high, with the same chance", high, "Pa"),
        )
        formula = "f28 exp(-0.20 fade) (X/X28)^3, X = 0.68 alpha/(0.32 alpha + w/c)"
        made.append(
            Figure(
                f"cure.strength.{days}d",
                f"strength at the edge, {days} d",
                typical,
                "Pa",
                formula,
                terms + band,
                STRENGTH,
                "portland cement without slag or ash, kept damp",
                spread=(high - low) / 3.29,
            ),
        )
    needed = Term("f", "strength from which one freezing does no serious harm", choices.limits.frost_strength, "Pa")
    passed = np.flatnonzero(course.low >= choices.limits.frost_strength)
    if passed.size:
        age = float(course.age[passed[0]])
        cite = Cite("aci_306r_2010", "500 psi rule")
        made.append(
            Figure("cure.hardy", "stands one freezing after", age, "s", "age at which the low line passes f", (needed,), cite)
        )
    return made


def _moist_figures(choices: CureChoices) -> list[Figure]:
    days = choices.care.moist_days if choices.care.damp else 0.0
    made = []
    for key, kept in (("chosen", days), ("three", 3.0), ("none", 0.0)):
        harsh, mild = moist_share_band(kept * DAY)
        band = (Term("d", "days kept moist", kept), Term("mild", "by standard cylinders, whose core stays moist", mild))
        label = f"strength in the end, kept moist {kept:g} days, over that of seven"
        made.append(
            Figure(
                f"cure.moist.{key}",
                label,
                harsh,
                "1",
                "table",
                band,
                Cite("moist_cure_handbook"),
                "0 to 28 days; a thin cap: the harsher",
            )
        )
    floor = Figure("cure.strip.floor", "least time in the form", choices.strip_floor, "s", "three days", (), PRACTICE)
    return [*made, floor]
