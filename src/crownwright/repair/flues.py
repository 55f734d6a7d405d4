"""The flues: what is set on them, cut from which lengths; what size they are by their measured inside; screens over them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import ceil, pi

from crownwright.cap.model import FlueFit
from crownwright.cap.words import say
from crownwright.codes.astm_c315 import TYPICAL_LENGTH, Liner, liners
from crownwright.codes.irc_2018 import flue_ratio
from crownwright.codes.woven_wire import PASSES, STOPS, open_share, opening
from crownwright.quantity.findings import Finding, Verdict, compare
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import INCH
from crownwright.quantity.working import ENTERED, PRACTICE, Cite, Figure
from crownwright.repair.model import After, Material, Task
from crownwright.repair.record import FlueRepair
from crownwright.repair.tell import Input, figure
from crownwright.survey.model import PlacedFlue

LINERS = Cite("astm_c315", "sizes", "from memory")
SCREEN = Cite("irc_2018", "R1003.9.2")
RATIO = Cite("irc_2018", "R1003.15.1", "from memory")
MORTAR = Cite("ibc_2018", "2113.12: medium-duty refractory mortar", "from memory")
TOLERANCE = 0.75 * INCH
"""A liner this near in both sizes together is taken for the one (a judgement: real liners differ from the nominal)."""
KERF = 0.25 * INCH
"""Lost at a cut through a liner, m (a judgement)."""
FREE_AREA = 4.0
"""Free area of a screen over the flue's."""


@dataclass(frozen=True, slots=True)
class FlueWork:
    """One flue: the ``liner`` its measured size is nearest to (None: none is near), its net inside ``area`` m2 and how that is
    known; the ``piece`` set on it, m (0 for none) with the level of its ``joint`` above the string; ``screen`` free area over the
    flue's (None: no screen).
    """

    name: str
    liner: Liner | None
    area: float
    area_cite: Cite
    piece: float
    joint: float | None
    screen: float | None


@dataclass(frozen=True, slots=True)
class FluesPlan:
    """All flues, the lengths of liner to buy (size -> count), and what is told of them."""

    flues: tuple[FlueWork, ...]
    lengths: tuple[tuple[str, int], ...]
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]
    materials: tuple[Material, ...]
    tasks: tuple[Task, ...]


def plan_flues(
    flues: Sequence[PlacedFlue], fits: Sequence[FlueFit], wanted: Sequence[FlueRepair], soffit: float | None, rebuilds: bool
) -> FluesPlan | None:
    """Plan the work on the flues; None where there are none. ``soffit`` of the cap above the string, m (None: no cap planned)."""
    if not flues:
        return None
    by_name = {fit.name: fit for fit in fits}
    asked = {one.flue: one for one in wanted}
    works = tuple(_work(flue, by_name.get(flue.name), asked.get(flue.name)) for flue in flues)
    lengths = _lengths(works)
    findings = tuple(f for flue, work in zip(flues, works, strict=True) for f in _findings(flue, work, asked, soffit))
    figures = tuple(f for flue, work in zip(flues, works, strict=True) for f in _figures(flue, work, asked))
    figures += _heights(flues, by_name)
    return FluesPlan(works, lengths, findings, figures, _materials(works, lengths, by_name), _tasks(works, rebuilds))


def nearest_liner(shape: str, outside: tuple[float, float], inside: tuple[float, float] | None) -> Liner | None:
    """Return the liner whose sizes are nearest, by the inside where it was measured, else by the outside; None beyond
    `TOLERANCE` (in both sizes together). Sizes m, in either order.

    >>> nearest_liner("rectangular", (12.75 * INCH, 12.75 * INCH), (11 * INCH, 11.25 * INCH)).name
    '13x13'
    """
    own = inside if inside is not None else outside
    best = min(
        (one for one in liners().values() if one.shape == shape),
        key=lambda one: _apart(one, own, inside is not None),
        default=None,
    )
    return best if best is not None and _apart(best, own, inside is not None) <= TOLERANCE else None


def _apart(liner: Liner, size: tuple[float, float], by_inside: bool) -> float:
    long, short = (liner.inside_long, liner.inside_short) if by_inside else (liner.long, liner.short)
    return abs(long - max(size)) + abs(short - min(size))


def _work(flue: PlacedFlue, fit: FlueFit | None, asked: FlueRepair | None) -> FlueWork:
    liner = nearest_liner(flue.shape, flue.size, flue.inside)
    area, cite = _area(flue, liner)
    extension = 0.0 if fit is None else fit.extension
    cut = 0.0 if fit is None or extension <= 0 else fit.cut_back
    replaced = 0.0 if asked is None or asked.replace is None else asked.replace
    off = max(cut, replaced)
    joint = flue.top.mean - off if off > 0 or extension > 0 else None
    return FlueWork(flue.name, liner, area, cite, extension + off, joint, _screen(flue, area, asked))


def _area(flue: PlacedFlue, liner: Liner | None) -> tuple[float, Cite]:
    """Inside area: measured, else of the liner, else of the outside (the most it can be)."""
    if flue.inside is not None:
        return _section(flue.shape, flue.inside), ENTERED
    return (liner.inside_area, LINERS) if liner is not None else (_section(flue.shape, flue.size), ENTERED)


def _section(shape: str, size: tuple[float, float]) -> float:
    return pi / 4 * size[0] ** 2 if shape == "round" else size[0] * size[1]


def _screen(flue: PlacedFlue, area: float, asked: FlueRepair | None) -> float | None:
    """Free area of a screen round the flue's outside over the flue's inside."""
    if asked is None or asked.screen_pitch is None or asked.screen_wire is None or asked.screen_high is None:
        return None
    long, short = flue.size
    round_it = pi * long if flue.shape == "round" else 2 * (long + short)
    return round_it * asked.screen_high * open_share(asked.screen_pitch, asked.screen_wire) / area


def _lengths(works: Sequence[FlueWork]) -> tuple[tuple[str, int], ...]:
    """Lengths of liner to buy by size: pieces of a size cut from usual lengths, the longest first."""
    by_size: dict[str, list[float]] = {}
    for work in works:
        if work.piece > 0:
            by_size.setdefault(work.liner.name if work.liner else "to measure", []).append(work.piece)
    return tuple((size, boards(pieces)) for size, pieces in by_size.items())


def boards(pieces: Sequence[float], stock: float = TYPICAL_LENGTH, kerf: float = KERF) -> int:
    """Lengths of ``stock`` that the pieces (m) are cut from, the longest first, each where it first fits. A piece longer than the
    stock takes whole lengths and a cut one.

    >>> boards([10 * INCH, 10 * INCH]), boards([30 * INCH])
    (1, 2)
    """
    count, left = 0, [0.0][:0]
    for piece in sorted(pieces, reverse=True):
        whole = int(piece / stock + 1e-9)
        count += whole
        rest = piece - whole * stock
        if rest <= 1e-9:
            continue
        k = next((i for i, room in enumerate(left) if room >= rest - 1e-9), None)
        if k is None:
            count += 1
            left.append(stock - rest - kerf)
        else:
            left[k] -= rest + kerf
    return count


def _findings(flue: PlacedFlue, work: FlueWork, asked: Mapping[str, FlueRepair], soffit: float | None) -> Iterator[Finding]:
    subject = f"flue {flue.name}"
    if flue.inside is None:
        act = "Measure the inside both ways: nominal sizes name the outside, and real liners differ"
        yield Finding(
            f"repair.flue_size.{flue.name}", "liner size by its measured inside", LINERS, subject, Verdict.CANNOT_TELL, act
        )
    elif work.liner is None:
        act = "Buy by the measured sizes, or have a piece made: no size in the table is near"
        yield Finding(
            f"repair.flue_size.{flue.name}", "liner size by its measured inside", LINERS, subject, Verdict.CANNOT_TELL, act
        )
    if work.piece > 0 and work.joint is not None and soffit is not None:
        yield _joint(flue, work, soffit)
    one = asked.get(flue.name)
    if one is not None and work.screen is not None and one.screen_pitch is not None and one.screen_wire is not None:
        yield from _screened(flue, work, opening(one.screen_pitch, one.screen_wire))


def _joint(flue: PlacedFlue, work: FlueWork, soffit: float) -> Finding:
    """The joint of the piece within the cap, or bedded in the chimney where the top tile is changed below it."""
    assert work.joint is not None
    act = "Bed the new tile on the old in refractory mortar, inside struck smooth, and keep mortar out of the space round it"
    rule = "joint of the piece set on, above the soffit"
    return compare(
        f"repair.flue_joint.{flue.name}",
        rule,
        MORTAR,
        f"flue {flue.name}",
        work.joint - soffit,
        at_least=0.0,
        unit="m",
        action=act,
    )


def _screened(flue: PlacedFlue, work: FlueWork, clear: float) -> Iterator[Finding]:
    subject = f"screen over {flue.name}"
    act = "Take a higher or a wider screen"
    yield compare(
        f"repair.screen.{flue.name}", "free area over the flue's", SCREEN, subject, work.screen, at_least=FREE_AREA, action=act
    )
    act = f"Take mesh that stops a ball of {say(STOPS)} and passes one of {say(PASSES)}"
    key = f"repair.screen_mesh.{flue.name}"
    yield compare(key, "clear opening of the mesh", SCREEN, subject, clear, at_least=PASSES, at_most=STOPS, unit="m", action=act)


def _figures(flue: PlacedFlue, work: FlueWork, asked: Mapping[str, FlueRepair]) -> Iterator[Figure]:
    at, size = f"repair.flue.{flue.name}", flue.inside or flue.size
    name = work.liner.name if work.liner else "none in the table is near"
    terms: tuple[Input, ...] = (("a", "first size", size[0], "m"), ("b", "second size", size[1], "m"), ("", "as sold", name, "1"))
    says = "inside" if flue.inside is not None else "inside, by the liner of its outside size"
    formula = "pi a²/4" if flue.shape == "round" else "a b"
    yield figure(f"{at}.area", f"flue {flue.name}, {says}", work.area, "m2", formula, *terms, cite=work.area_cite)
    aspect = max(flue.size) / min(flue.size)
    ratio = flue_ratio("round" if flue.shape == "round" else "square" if aspect < 1.05 else "rectangular", aspect)
    serves: tuple[Input, ...] = (("A", "flue inside", work.area, "m2"), ("r", "flue over opening, at least", ratio, "1"))
    label = f"flue {flue.name}: largest open fireplace it serves, as advice"
    yield figure(f"{at}.opening", label, work.area / ratio, "m2", "A/r", *serves, cite=RATIO)
    if work.piece > 0:
        label = f"flue {flue.name}: piece set on"
        joint: tuple[Input, ...] = () if work.joint is None else (("", "its joint, above the string", work.joint, "m"),)
        formula = "how much higher, and what is cut off first"
        yield figure(f"{at}.piece", label, work.piece, "m", formula, *joint, cite=PRACTICE)
    one = asked.get(flue.name)
    if work.screen is not None and one is not None and one.screen_pitch and one.screen_wire and one.screen_high:
        shown: tuple[Input, ...] = (
            ("p", "mesh", one.screen_pitch, "m"), ("d", "wire", one.screen_wire, "m"), ("h", "height", one.screen_high, "m"),
            ("A", "flue inside", work.area, "m2"),
        )  # fmt: skip
        formula = "(round the flue) h ((p - d)/p)²/A"
        yield figure(
            f"{at}.screen", f"screen over {flue.name}: free area over the flue's", work.screen, "1", formula, *shown, cite=SCREEN
        )


def _heights(flues: Sequence[PlacedFlue], fits: Mapping[str, FlueFit]) -> tuple[Figure, ...]:
    """How far apart the tops stand of flues that serve different things, extensions counted; nothing for one use."""
    if len({flue.serves for flue in flues}) < 2:
        return ()
    tops = [(flue.name, flue.top.mean + (fits[flue.name].extension if flue.name in fits else 0.0)) for flue in flues]
    terms: tuple[Input, ...] = tuple((name, f"top of {name} above the string", top, "m") for name, top in tops)
    apart = max(top for _, top in tops) - min(top for _, top in tops)
    label = "tops of flues that serve different things, highest over lowest"
    formula = "highest - lowest; smoke drawn down the other is the less likely the further apart"
    return (figure("repair.flue_heights", label, apart, "m", formula, *terms, cite=PRACTICE),)


def _materials(
    works: Sequence[FlueWork], lengths: Sequence[tuple[str, int]], fits: Mapping[str, FlueFit]
) -> tuple[Material, ...]:
    """Lengths of liner. Those that the cap's own take-off buys (a flue that must stand higher) are not bought again."""
    by_cap = sum(1 for fit in fits.values() if fit.extension > 0)
    wanted = sum(count for _, count in lengths)
    more = max(wanted - by_cap, 0)
    sizes = ", ".join(f"{count} of {size}" for size, count in lengths)
    source = next((f"repair.flue.{work.name}.piece" for work in works if work.piece > 0), "")
    screens = [work.name for work in works if work.screen is not None]
    found = []
    if more:
        found.append(
            Material("flue liner", f"length of clay liner, beyond the cap's own ({sizes})", float(more), "1", source, "flues")
        )
    if screens:
        key = f"repair.flue.{screens[0]}.screen"
        found.append(Material("flue screen", "screen over a flue", float(len(screens)), "1", key, "flues"))
    return tuple(found)


def _tasks(works: Sequence[FlueWork], rebuilds: bool) -> tuple[Task, ...]:
    pieces = [work for work in works if work.piece > 0]
    if not pieces:
        return ()
    after = (After("take down", 0.0, "a tile is changed while the courses round it are down", PRACTICE),) if rebuilds else ()
    hours = Uncertain(0.75 * len(pieces), 0.3 * len(pieces))
    source = f"repair.flue.{pieces[0].name}.piece"
    count = float(ceil(len(pieces)))
    return (Task("liners", "cut and set pieces on the flues", count, "1", source, hours, after=after, coldest=40 / 9),)
