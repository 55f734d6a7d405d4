"""The figures of the pour chosen: how each number came about, on whose word, and how sure it is."""

from __future__ import annotations

import numpy as np

from crownwright.codes import mcneese_1952, uno_1998
from crownwright.codes.aci_308r import moist_share_band
from crownwright.cure.doubt import Doubt
from crownwright.cure.heat import History
from crownwright.cure.inputs import CureChoices, MixInCure
from crownwright.cure.model import CareOption, Course
from crownwright.cure.options import mist_interval
from crownwright.quantity.units import DAY, HOUR
from crownwright.quantity.working import PRACTICE, Cite, Figure, Term

HYDRATION = Cite("schindler_folliard_2005", "degree of hydration by equivalent age", "from memory")
SETTING = Cite("schindler_2004", "degree 0.15 and 0.26 w/c", "from memory")
STRENGTH = Cite("powers_1958", "gel/space ratio; set to the open data of 51 mixes", "from memory")
MENZEL = Cite("menzel_1954", "vapour pressure form", "from memory")
BALANCE = Cite("derived", "sun, sky, wind, evaporation, hydration, boards, masonry", "derived")


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


def figures_of(
    option: CareOption,
    course: Course,
    history: History,
    mix: MixInCure,
    choices: CureChoices,
    sets: tuple[tuple[float, ...], ...],
    doubt: Doubt,
) -> tuple[Figure, ...]:
    """Return the figures of the pour; ``sets`` initial and final set, each (typical, early, late) s."""
    terms = clock_terms(history, mix)
    made = [*_set_figures(sets, terms, doubt), *_drying_figures(option, course), *_strength_figures(course, mix, choices, terms)]
    made += [
        Figure(
            key, label, value, "degC", "heat balance through the thickness", terms, BALANCE, "thin caps on masonry", spread=spread
        )
        for key, label, value, spread in (
            ("cure.coldest", "coldest concrete before it stands a freezing", option.coldest, doubt.coldest),
            ("cure.hottest", "hottest concrete", option.hottest, doubt.hottest),
        )
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


def _set_figures(sets: tuple[tuple[float, ...], ...], terms: tuple[Term, ...], doubt: Doubt) -> list[Figure]:
    holds = "50 to 90 F within 15 % of the trade's table; colder, see earliest and latest"
    made = []
    for (typical, early, late), name, share in zip(sets, ("initial", "final"), (0.15, 0.26), strict=True):
        if np.isfinite(typical):
            formula = f"age at which alpha = {share:g} w/c; alpha = alpha_u exp(-(tau/te)^beta), te = sum exp(E/R(1/Tr - 1/T)) dt"
            band = (Term("early", "earliest", early, "s"), Term("late", "latest", late, "s"))
            own = (late - early) / 3.29 if np.isfinite(late) else 0.0
            spread = float(np.hypot(own, doubt.final * typical / max(sets[1][0], 1.0)))
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
                    Term("film", "water a fine mist lays", 0.15, "kg/m2"),
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
    custom = (Term("d", "least time in the form, as chosen; three days by custom", choices.strip_floor, "s", PRACTICE),)
    floor = Figure("cure.strip.floor", "least time in the form", choices.strip_floor, "s", "d", custom, PRACTICE)
    return [*made, floor]
