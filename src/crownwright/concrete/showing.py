"""The pour's numbers as figures: each with formula, inputs, source, range and spread."""

from __future__ import annotations

from math import exp, inf

from crownwright.concrete.bags import WATER_DENSITY, Bag, MortarBag
from crownwright.concrete.count import BagCount, Need, Promise
from crownwright.concrete.lifts import Lift
from crownwright.concrete.mix import PICKETT, Enrichment, Mix
from crownwright.concrete.weight import BOUND_WATER, HYDRATED
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.working import DERIVED, PRACTICE, Cite, Figure, Term

SPREADS = Cite("judgement", "spread of yield and spill; the mason's own pours move them", "derived")
CURVE = Cite("aci_211_1_1991", "Table 6.3.4(a), curve fitted here", "derived")
GUESS = Cite("judgement", "share of cement in a bag, 14 to 18 %", "from memory")
COUNT_HOLDS = "volume normal; yield and spill log-normal and common to the pour"
OVER_MANY = "least n not under x, where the mean over f in 0..1 of P(V > (x + f) y M) = r; and P(V > n y M) ≤ 4 r"
EVERY = "least n with P(V > n y M) ≤ r"


OWN_JOBS = Cite("hoeting_1999", "mixture of the usual way and the mason's own, updated by Hoff (2009), 5.3", "from memory")


def count_figures(
    key: str, label: str, volume: Uncertain, need: Need, count: BagCount, yield_cite: Cite, promise: Promise
) -> tuple[Figure, ...]:
    """Return bags to buy, what they will take, the chance of running short with them and with one fewer, and what is left."""
    terms: tuple[Term, ...] = (
        Term("V", "volume, its standard error as told with it", volume.mean, "m3"),
        Term("y", "yield of a bag by its label, portland counted", need.per_bag, "m3", yield_cite),
        Term("M", "what a bag truly gives over its label, spill taken off (median)", exp(need.log_mean), "1", SPREADS),
        Term("τ", "standard error of ln M", need.log_sd, "1", SPREADS),
    )
    if need.own != 1.0:
        terms += (Term("o", "of that, by your own finished jobs", need.own, "1", OWN_JOBS),)
    risk = Term("r", "risk accepted of running short", count.risk, "share")

    def figure(part: str, what: str, value: float, formula: str, spread: float | None = None, unit: str = "1") -> Figure:
        return Figure(f"{key}{part}", what, value, unit, formula, terms, DERIVED, COUNT_HOLDS, spread=spread)

    return (
        Figure(
            key, label, count.bags, "1", EVERY if promise == "every pour" else OVER_MANY, (*terms, risk), DERIVED, COUNT_HOLDS
        ),
        figure(".needed", f"{label} that will go in", count.needed.mean, "V / (y M)", count.needed.sd),
        figure(".amount", "bags, before rounding up", count.amount, "x with P(V > x y M) = r"),
        figure(".short", "chance of running short", count.chance_short, "P(V > n y M)", unit="share"),
        figure(".one_fewer", "chance of running short with one bag fewer", count.one_fewer, "P(V > (n - 1) y M)", unit="share"),
        figure(".one_more", "chance of running short with one bag more", count.one_more, "P(V > (n + 1) y M)", unit="share"),
        figure(".left", "bags and parts left over, on average", count.left_over, "mean of max(n - V / (y M), 0)"),
        figure(".unopened", "whole bags left over, on average", count.unopened, "sum over k < n of P(V ≤ k y M)"),
        figure(".missing", "bags missing, on average, should it run short", count.missing, "mean of V / (y M) - n where above 0"),
    )


def lift_figures(lifts: tuple[Lift, Lift], need: Need) -> tuple[Figure, ...]:
    """Return bags, whole bags and water a bag for each lift."""
    figures: list[Figure] = []
    water_cite = Cite("aci_211_1_1991", "Table 6.3.3, proportion between slumps; held to the label", "derived")
    for name, lift in zip(("lower", "upper"), lifts, strict=True):
        key, terms = f"concrete.lift.{name}", (Term("v", f"volume of the {lift.name}", lift.volume, "m3"),)
        n = Term("n", "bags the pour will take", need.bags.mean)
        both = Term("s", "volume of both lifts", sum(one.volume for one in lifts), "m3")
        slump = Term("slump", "in.", lift.slump)
        lift_bags, rule = (
            Term("b", f"bags for the {lift.name}", lift.bags),
            "lower: b rounded up, down where the wash would miss more; upper: the rest",
        )
        bought = Term("n", "bags counted for the pour", sum(one.planned for one in lifts))
        holds = "what the mix looks like decides; begin with less and add by the cup"
        figures += [
            Figure(f"{key}.volume", f"volume of the {lift.name}", lift.volume, "m3", "from the cap", terms),
            Figure(f"{key}.bags", f"bags for the {lift.name}", lift.bags, "1", "n v / s", (n, *terms, both)),
            Figure(f"{key}.planned", f"whole bags for the {lift.name}", lift.planned, "1", rule, (bought, lift_bags)),
            Figure(
                f"{key}.water",
                f"water for one bag, {lift.name}",
                lift.water,
                "m3",
                "usual water x table by slump",
                (slump,),
                water_cite,
                holds,
            ),
        ]
    return tuple(figures)


def mix_figures(mix: Mix, bag: Bag) -> tuple[Figure, ...]:
    """Return water/cement, strength, paste, shrinkage and cement content of the mix."""
    water = Term("W", "water for one bag", mix.water * WATER_DENSITY, "kg")
    cement = Term("C", "cement in the bag (a guess) and added", mix.cement.mean, "kg", GUESS)
    added = Term("P", "portland added to a bag", mix.portland, "kg")
    ratio = Term("w/c", "water/cement", mix.water_cement.mean)
    volume = Term("y", "yield of the bag as mixed", mix.yields, "m3", bag.cite)
    paste = Term("p", "paste share of the volume", mix.paste)
    holds = "w/c 0.41 to 0.82"
    return (
        Figure(
            "concrete.water_cement",
            "water/cement ratio",
            mix.water_cement.mean,
            "1",
            "W / C",
            (water, cement),
            GUESS,
            spread=mix.water_cement.sd,
        ),
        Figure(
            "concrete.strength",
            "strength at 28 days, kept moist",
            mix.strength.mean,
            "Pa",
            "A / B^(w/c)",
            (ratio,),
            CURVE,
            holds,
            mix.outside_fit,
            mix.strength.sd,
        ),
        Figure(
            "concrete.yield",
            "yield of one bag as mixed",
            mix.yields,
            "m3",
            "y0 + P / 3144 + (W - W0) / 998",
            (
                added,
                water,
                Term("y0", "yield on the label", bag.yields, "m3", bag.cite),
                Term("W0", "usual water", bag.water_usual * WATER_DENSITY, "kg", bag.water_cite),
            ),
            bag.cite,
        ),
        Figure(
            "concrete.cement_content", "cement in the concrete", mix.cement_content, "kg/m3", "C / y", (cement, volume), GUESS
        ),
        Figure("concrete.paste", "paste share", mix.paste, "1", "(C / 3144 + W / 998) / y", (cement, water, volume)),
        Figure(
            "concrete.shrinkage",
            "drying shrinkage against the plain bag",
            mix.shrinkage,
            "1",
            "(p / p0)^1.7",
            (paste, Term("p0", "paste share of the plain bag", mix.paste / mix.shrinkage ** (1 / PICKETT))),
            Cite("judgement", "Pickett (1956), exponent 1.2 to 1.7", "from memory"),
        ),
    )


def portland_figures(limits: Enrichment) -> tuple[Figure, ...]:
    """Return how much portland is enough, how much makes sure, and where more does harm, a bag."""
    target = (Term("w/c", "water/cement asked for", limits.target),)
    rows = (
        ("enough", "portland a bag that meets the water/cement ratio", limits.enough or 0.0),
        ("sure", "portland a bag that meets it even if the bag holds little cement", limits.sure or 0.0),
        ("most", f"portland a bag beyond which more does harm: {limits.why}", limits.most),
    )
    holds = "the added cement takes its share of water, so that the mix feels the same"
    formula = "least P with (W + W P / S) / (C + P) ≤ w/c"
    return tuple(
        Figure(f"concrete.portland.{k}", label, kg, "kg", formula, target, GUESS, holds) for k, label, kg in rows if kg < inf
    )


def weight_figures(volume: Uncertain, mix: Mix, wet: Uncertain, dry: Uncertain, density: float) -> tuple[Figure, ...]:
    """Return fresh density and the weight on the chimney wet and dried out."""
    v, d = Term("V", "volume", volume.mean, "m3"), Term("ρ", "fresh density", density, "kg/m3")
    bound = Cite("judgement", f"bound water {BOUND_WATER} x {HYDRATED} of the cement (Powers)", "from memory")
    water = Term("W", "water for a bag", mix.water * WATER_DENSITY, "kg")
    yields = Term("y", "yield of a bag as mixed", mix.yields, "m3")
    dry_mix = Term("B", "dry mix and added portland of a bag", density * mix.yields - mix.water * WATER_DENSITY, "kg")
    weigh = (Term("C", "cement", mix.cement.mean, "kg"), water, dry_mix)
    return (
        Figure("concrete.density", "fresh density", density, "kg/m3", "(B + W) / y", (dry_mix, water, yields)),
        Figure("concrete.weight", "weight on the chimney, wet", wet.mean, "kg", "V ρ", (v, d), spread=wet.sd),
        Figure(
            "concrete.weight_dry",
            "weight dried out, at the lightest",
            dry.mean,
            "kg",
            "V ρ (B + bound water) / (B + W)",
            (v, d, *weigh),
            bound,
            spread=dry.sd,
        ),
    )


def box_figure(volume: float, bags: int) -> Figure:
    """Return what the box rule would have bought, for comparison."""
    formula = "round up(greatest length x width x average depth / 0.60 ft3) + 1"
    term = Term("box", "box volume", volume, "m3")
    return Figure("concrete.box_rule", "bags by the box rule, for comparison", bags, "1", formula, (term,), PRACTICE)


def mortar_figures(
    volume: Uncertain, need: Need | None, sack: MortarBag | None, count: BagCount | None, promise: Promise
) -> tuple[Figure, ...]:
    """Return the bags of mortar for the bed; nothing without a bed."""
    if need is None or sack is None or count is None:
        return ()
    return count_figures("concrete.mortar", "bags of mortar for the bed", volume, need, count, sack.cite, promise)
