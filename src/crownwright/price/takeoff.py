"""The take-off: what a plan and the repair below it need, every line traced to the figures and pieces it comes from.

Packs are rounded up once, over the whole job, after what the van holds is taken off. A source that was counted already is
refused: nothing is bought twice.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from crownwright.cap.model import CapDesign
from crownwright.concrete.model import ConcretePlan
from crownwright.form.model import FormDesign
from crownwright.price.pricebook import Prices, Row
from crownwright.price.units import UNITS, in_unit
from crownwright.price.work import Plan
from crownwright.quantity.lengths import print_length
from crownwright.quantity.money import EXACT, Money
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import FOOT


@dataclass(frozen=True, slots=True)
class Want:
    """``amount`` (in the SI ``unit``) of what the price book calls ``key``; ``sources`` are keys of figures, or names of pieces
    and of repair work, that it was counted from; ``why`` in plain words.
    """

    key: str
    amount: float
    unit: str
    sources: tuple[str, ...]
    why: str


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the take-off. Amounts in the price book's ``unit``: ``wanted``, of which ``from_van``; ``packs`` to buy and
    what they come to (``buys``). ``cost`` is what the job bears: the packs, and what was used from the van at the price of
    putting it back. A tool stays with the mason: it is bought, but overhead pays for it and not this job.
    """

    key: str
    what: str
    kind: str
    tax: str
    unit: str
    wanted: Decimal
    from_van: Decimal
    pack: Decimal
    packs: int
    buys: Money
    cost: Money
    sources: tuple[str, ...]
    why: str


def wants_of(plan: Plan) -> tuple[Want, ...]:
    """Return everything that a plan needs, one want a source; nothing for parts that could not be planned."""
    found: list[Want] = []
    if plan.concrete is not None:
        found += _concrete(plan.concrete)
    if plan.form is not None:
        found += _form(plan.form)
    if plan.cap is not None:
        found += _cap(plan, plan.cap)
    return tuple(want for want in found if want.amount > 1e-9)


def in_the_van(plan: Plan, van: Mapping[str, Decimal] | None = None) -> dict[str, Decimal]:
    """Return what the van holds: as told, and the boards that the cut list found there."""
    held = dict(van or {})
    for board in plan.form.cut.shopping if plan.form is not None and plan.form.cut is not None else ():
        key = lumber_key(board.section, board.length)
        held[key] = max(held.get(key, Decimal(0)), Decimal(board.on_hand))
    return held


def take_off(
    wants: Iterable[Want], prices: Prices, van: Mapping[str, Decimal] | None = None
) -> tuple[tuple[Line, ...], tuple[Problem, ...]]:
    """Return the lines, in the order first wanted, and what stands against them: no price, a wrong unit, counted twice.

    ``van`` is what it holds, key -> amount in the price book's unit. Lines with a problem are left out.
    """
    wants, held = tuple(wants), dict(van or {})
    problems = [*_twice(wants), *prices.missing(want.key for want in wants)]
    gathered: dict[str, list[Want]] = {}
    for want in wants:
        row = prices.rows.get(want.key)
        if row is not None and UNITS[row.unit].si != want.unit:
            says = f"it is sold by {row.unit}, the job counts it in {want.unit}"
            problems.append(Problem(f"price book, {want.key}", says, "Put a unit of the same kind in the row"))
        elif row is not None:
            gathered.setdefault(want.key, []).append(want)
    lines = tuple(_line(prices, prices.rows[key], group, held.get(key, Decimal(0))) for key, group in gathered.items())
    return lines, tuple(dict.fromkeys(problems))


def packs_for(wanted: Decimal, held: Decimal, pack: Decimal) -> int:
    """Return whole packs for what the van does not hold. A millionth of a pack, as is lost in changing units, buys no pack more.

    >>> packs_for(Decimal("100.0000001"), Decimal(0), Decimal(50)), packs_for(Decimal(101), Decimal(1), Decimal(50))
    (2, 2)
    """
    short = EXACT.divide(max(wanted - held, Decimal(0)), pack) - Decimal("0.000001")
    return max(int(short.to_integral_value(ROUND_CEILING)), 0)


def _line(prices: Prices, row: Row, group: list[Want], held: Decimal) -> Line:
    wanted = sum((in_unit(want.amount, want.unit, row.unit) for want in group), Decimal(0))
    from_van = min(max(held, Decimal(0)), wanted)
    packs, each = packs_for(wanted, from_van, row.pack), prices.money(row)
    buys = (each * packs).rounded()
    used = (each * EXACT.divide(from_van, row.pack)).rounded()
    cost = (each * 0).rounded() if row.kind == "tool" else buys + used
    sources = tuple(source for want in group for source in want.sources)
    why = "; ".join(dict.fromkeys(want.why for want in group))
    return Line(row.key, row.what, row.kind, row.tax, row.unit, wanted, from_van, row.pack, packs, buys, cost, sources, why)


def _twice(wants: Iterable[Want]) -> Iterator[Problem]:
    seen: dict[str, str] = {}
    for want in wants:
        for source in want.sources:
            if source in seen:
                says = f"{source} was counted already, for {seen[source]}"
                yield Problem(f"take-off, {want.key}", says, "Take one of the two out, or give the second its own name")
            seen.setdefault(source, want.key)


def lumber_key(section: str, length: float) -> str:
    """Return the key of a board: whole feet where it is so, else metres.

    >>> lumber_key("2x6", 3.048), lumber_key("2x6", 3.0)
    ('lumber 2x6 10 ft', 'lumber 2x6 3 m')
    """
    feet = length / FOOT
    return f"lumber {section} {round(feet)} ft" if abs(feet - round(feet)) < 1e-6 else f"lumber {section} {length:g} m"


def _concrete(pour: ConcretePlan) -> Iterator[Want]:
    yield Want(f"concrete {pour.bag.name}", pour.count.bags, "1", ("concrete.bags",), "the cap")
    yield Want("portland", pour.portland, "kg", ("concrete.portland",), "enriching the mix")
    if pour.mortar is not None and pour.mortar_bag is not None:
        yield Want(f"mortar {pour.mortar_bag.name}", pour.mortar.bags, "1", ("concrete.mortar",), "the bed where a gap is wide")


def _form(form: FormDesign) -> Iterator[Want]:
    for board in form.cut.shopping if form.cut is not None else ():
        size = lumber_key(board.section, board.length)
        yield Want(size, board.count, "1", (f"board {size}",), "the form, by the cut list")
    for line in form.screw_list:
        key = f"screws {line.gauge} x {print_length(line.length, 'in.')}"
        yield Want(key, line.count, "1", (f"form.screws, {line.place}",), "holding the form")
    yield Want("strap", form.strap.count, "1", ("form.straps",), "clamping the form to the chimney")
    yield Want("sealant, bead", form.bead_length, "m", ("form.bead",), "joints of the form that hold water")
    yield Want("form oil", form.oil_area, "m2", ("form.oil",), "faces that meet concrete")
    yield Want("skirt", form.skirt[0] * form.skirt[1], "m2", ("form.skirt_length", "form.skirt_width"), "keeping the wall clean")
    yield Want("packing", form.packing_volume.mean, "m3", ("form.packing_volume",), "gaps between form and stone")


def _cap(plan: Plan, cap: CapDesign) -> Iterator[Want]:
    base = "slip sheet" if cap.base == "slip sheet" else "bonding agent"
    for key, unit, figure, why in (
        ("steel ladder", "1", "cap.steel.stock", "holding cracks closed"),
        ("flue wrap", "m2", "cap.joint.wrap", "room for the flue to grow"),
        ("backer rod", "m", "cap.joint.length", "under the sealant"),
        ("sealant, heat", "m3", "cap.joint.sealant", "keeping water out of the joint"),
        (base, "m2", "cap.bed", "between stone and concrete"),
    ):
        amount = next((one.value for one in plan.figures if one.key == figure), 0.0)
        yield Want(key, amount, unit, (figure,), why)
    for fit in cap.flues:
        if fit.extension > 0:
            yield Want("flue liner", 1, "1", (f"cap.extension_piece.{fit.name}",), f"flue {fit.name} must stand higher")
