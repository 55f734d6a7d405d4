"""How long each way of a quote lasts and what fails first, in plain words with whose word it is, so that the customer can choose.

Lives come from the repair's table (published ranges, or judgement). Where the mason has told what parts cost to do again
([repair.years]), the ways are compared over the years at the quote's own prices besides.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from crownwright.plan.model import Plan
from crownwright.quantity.money import Money, Rounding, measured
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.working import Cite, Figure, Term
from crownwright.repair.choices import Way, YearsChoices
from crownwright.repair.years import E917, Told, fails_first, lives, over_years
from crownwright.service.quote_options import PricedJob, parts_in

NAMES = {
    "cap": "the cap", "wash": "the mortar wash", "joints": "the mortar joints", "flashing": "the flashing",
    "sealant": "the sealant in the joints", "repellent": "the water repellent", "top": "the top courses",
    "liner": "the top tile of a flue",
}  # fmt: skip
"""Rows of the table of lives as a customer calls them, old or new."""
PARTS = {"repoint": "joints", "rebuild": "top", "flashing": "flashing", "repellent": "repellent", "flue": "liner"}
"""Parts of a repair, and the row of the table of lives each renews."""


def years_of(plan: Plan, made: Sequence[PricedJob], locale: str) -> tuple[tuple[str, ...], ...]:
    """Return for each priced way how long it lasts, in plain words."""
    told = _compared(plan, made)
    return tuple((*_lasts(plan, one), *_over(told.get(one.option.name), plan, one, locale)) for one in made)


def year_figures(plan: Plan, made: Sequence[PricedJob]) -> tuple[tuple[Figure, ...], ...]:
    """Return, for each priced way, the numbers that `years_of` says, with their working."""
    told = _compared(plan, made)
    return tuple((*_life_figures(plan, one), *_over_figures(told.get(one.option.name), plan, one)) for one in made)


def _life_figures(plan: Plan, made: PricedJob) -> Iterator[Figure]:
    for k, name in enumerate(renewed(plan, made)):
        life = lives()[name]
        low, high = (life.years.mean + side * 2 * life.years.sd for side in (-1, 1))
        terms = Term("a", "from, years", low, "1", life.cite), Term("b", "to, years", high, "1", life.cite)
        key, label = f"{made.stem}.years.life{k + 1}", f"years that {life.says} lasts"
        yield Figure(key, label, life.years.mean, "1", "(a + b) / 2", terms, life.cite, "19 cases in 20", spread=life.years.sd)


def _over_figures(told: Told | None, plan: Plan, made: PricedJob) -> Iterator[Figure]:
    choices = plan.repair.record.years if plan.repair is not None else None
    if told is None or choices is None:
        return
    way = Term("w", "way", made.option.name)
    first = "least of the parts' lives, those of old parts counted from today"
    yield Figure(f"{made.stem}.years.first", "years till the first part fails", told.first.mean, "1", first, (way,),
                 spread=told.first.sd)  # fmt: skip
    terms = (
        Term("C", "price of this way, tax included", str(made.priced.price.gross.amount), "currency"),
        Term("d", "real rate a year", choices.rate, "share"),
        Term("n", "years looked at", float(choices.years), "1"),
    )
    formula = "C + sum over parts and years of cost x expected renewals / (1 + d)^year, told to three digits"
    about = float(_three_digits(told.present, made.priced.price.gross.currency).amount)
    yield Figure(f"{made.stem}.years.present", "present worth over the years", about, "currency", formula, terms, E917)


def renewed(plan: Plan, made: PricedJob) -> tuple[str, ...]:
    """Return the rows of the table of lives that a way does anew."""
    option, below = made.option, parts_in(plan, made.option)
    cap = ("wash",) if option.way == "patch" else ("cap", *(("sealant",) if plan.cap is None or plan.cap.flues else ()))
    joints = ("joints",) if made.record.joints is not None and made.record.joints.tasks else ()
    top = ("top",) if option.way == "recast and rebuild" else ()
    return tuple(dict.fromkeys((*cap, *joints, *top, *(PARTS[part] for part in below if part in PARTS))))


def _lasts(plan: Plan, made: PricedJob) -> tuple[str, ...]:
    """The main thing's life, and what fails first of what is done."""
    done = [lives()[name] for name in renewed(plan, made)]
    names = renewed(plan, made)
    lines = [f"{_capital(_name(names[0], made))} lasts about {_range(done[0].years)} years ({_word(done[0].cite)})."]
    if len(done) > 1:
        chance, first = fails_first([one.years for one in done])
        worst = int(chance.argmax())
        says = f"{_name(names[worst], made)}, after about {first.mean:.0f} years ({_word(done[worst].cite)})"
        lines.append(f"Of what is done, the first to want doing again is most likely {says}.")
    return tuple(lines)


def _name(name: str, made: PricedJob) -> str:
    """A row of the table of lives in plain words: what is mended lasts as a skim over an old cap does."""
    return "the patch" if name == "wash" and made.option.way == "patch" else NAMES[name]


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _range(years: Uncertain) -> str:
    """Nineteen cases in twenty, as the table has it."""
    return f"{years.mean - 2 * years.sd:.0f} to {years.mean + 2 * years.sd:.0f}"


def _word(cite: Cite) -> str:
    return "our judgement" if cite.document == "judgement" else "published range"


def _compared(plan: Plan, made: Sequence[PricedJob]) -> dict[str, Told]:
    """The ways over the years at the quote's prices, where costs of doing parts again were told."""
    choices = plan.repair.record.years if plan.repair is not None else None
    if choices is None or not choices.parts:
        return {}
    there = {part.name for part in choices.parts}
    ways = tuple(_way(plan, one, there) for one in made)
    found, _ = over_years(replace(choices, ways=ways))
    return {one.way.name: one for one in found.told} if found is not None else {}


def _way(plan: Plan, made: PricedJob, there: set[str]) -> Way:
    done = tuple(name for name in renewed(plan, made) if name in there)
    without = tuple(name for name in (("cap",) if made.option.way == "patch" else ("wash",)) if name in there)
    return Way(made.option.name, str(made.priced.price.gross.amount), done, without)


def _over(told: Told | None, plan: Plan, made: PricedJob, locale: str) -> tuple[str, ...]:
    if told is None or plan.repair is None or plan.repair.record.years is None:
        return ()
    choices: YearsChoices = plan.repair.record.years
    currency = made.priced.price.gross.currency
    name, _ = told.fails_first[0]
    old = "" if name in told.way.done else ", left as they are" if name in ("joints", "top") else ", left as it is"
    return (
        f"Old parts counted in, the first to fail is most likely {_name(name, made)}{old}, in about {told.first.mean:.0f} years.",
        f"Over {choices.years} years, with what has to be done again, about {_about(told.present, currency, locale)} in today's "
        f"money, at {choices.rate * 100:g} % a year above the rise of prices (our judgement of costs and lives).",
    )


def _three_digits(amount: float, currency: str) -> Money:
    step = 10 ** measured(max(len(f"{amount:.0f}") - 3, 0), 0)
    return Money(measured(amount, 2), currency).rounded(Rounding("half up", step))


def _about(amount: float, currency: str, locale: str) -> str:
    """An amount that is a forecast, to three digits."""
    from babel.numbers import format_currency

    whole = _three_digits(amount, currency)
    return str(format_currency(whole.amount, currency, locale=locale, format="¤#,##0", currency_digits=False))
