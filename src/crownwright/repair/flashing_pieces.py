"""Each piece of a chimney's flashing, from the roof's pitch, its shingles, and the brick course or the stone: sizes to cut, m."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, cos, tan

from crownwright.quantity.units import INCH
from crownwright.repair.choices import FlashingChoices, Joint
from crownwright.repair.sheet import Blank


@dataclass(frozen=True, slots=True)
class Roof:
    """Where the stack goes through the roof: its ``width`` along the ridge and ``depth`` across it in plan (m), the ``pitch``
    (rad, over 0), the masonry's ``course`` (m, None where it has none), and whether it stands in the ridge.
    """

    width: float
    depth: float
    pitch: float
    course: float | None
    meets_ridge: bool = False

    @property
    def runs(self) -> tuple[float, ...]:
        """Plan lengths along which the roof climbs beside the stack, both sides. In the ridge, it is taken at mid-depth."""
        return (self.depth / 2,) * 4 if self.meets_ridge else (self.depth,) * 2


def step_count(run: float, pitch: float, exposure: float) -> int:
    """Step pieces beside one run: one a shingle course that touches the wall, N = ceil(run / (cos p x exposure)) + 1.

    ``run`` in plan and ``exposure`` m, ``pitch`` rad. The one more is for the course that the run starts in the middle of.

    >>> step_count(36 * INCH, 0.0, 6 * INCH)
    7
    """
    return ceil(run / cos(pitch) / exposure - 1e-9) + 1


def courses_a_step(pitch: float, course: float, least_step: float) -> int:
    """Courses that one stepped piece of counterflashing climbs: the fewest that give it the least run, k = ceil(s tan p / c).

    >>> from math import atan
    >>> courses_a_step(atan(12 / 12), 8 * INCH / 3, 6 * INCH), courses_a_step(atan(4 / 12), 8 * INCH / 3, 6 * INCH)
    (3, 1)
    """
    return max(ceil(least_step * tan(pitch) / course - 1e-9), 1)


def stepped_size(pitch: float, course: float, chosen: FlashingChoices) -> tuple[float, float]:
    """Width and height of the blank of one stepped piece, m.

    It runs s = k c / tan p and laps the next; its top edge goes into the first joint at or above the step flashing's top
    (up / cos p above the roof, up to a course more), its foot is cut to the roof: turn-in + up / cos p + (k + 1) c - clear.
    """
    k = courses_a_step(pitch, course, chosen.least_step)
    run = k * course / tan(pitch)
    high = chosen.turn_in + chosen.up / cos(pitch) + (k + 1) * course - chosen.clear
    return run + chosen.lap, high


def stepped_count(run: float, pitch: float, course: float, chosen: FlashingChoices) -> int:
    """Stepped pieces along one run: ceil(run / s)."""
    step = courses_a_step(pitch, course, chosen.least_step) * course / tan(pitch)
    return ceil(run / step - 1e-9)


def in_lengths(whole: float, longest: float, lap: float) -> tuple[int, float]:
    """Fewest equal pieces, none over ``longest``, that cover ``whole`` with a lap at every joint: how many, how long (m).

    >>> in_lengths(7.0, 4.0, 0.5)
    (2, 3.75)
    """
    count = max(ceil((whole - lap) / (longest - lap) - 1e-9), 1)
    return count, (whole + (count - 1) * lap) / count


def base_blanks(roof: Roof, chosen: FlashingChoices, cricket: bool) -> Iterator[Blank]:
    """Apron, step pieces, back pan: what lies under the counterflashing. The cricket's own blanks are apart."""
    wide = roof.width + 2 * chosen.over  # bent round each corner as far as it lies on the roof
    for k in range(2 if roof.meets_ridge else 1):
        yield Blank(f"apron {k + 1}" if roof.meets_ridge else "apron", wide, chosen.up + chosen.over)
    for side, run in enumerate(roof.runs):
        for k in range(step_count(run, roof.pitch, chosen.exposure)):
            yield Blank(f"step {side + 1}.{k + 1}", chosen.up + chosen.over, chosen.exposure + chosen.beyond)
    if not roof.meets_ridge and not cricket:
        yield Blank("back pan", wide, chosen.up + chosen.behind)


def counter_blanks(roof: Roof, chosen: FlashingChoices, joint: Joint, cricket: bool) -> Iterator[Blank]:
    """Counterflashing of all four sides, blanks before bending."""
    if joint == "sawn" or roof.course is None:
        yield from _sawn(roof, chosen, cricket)
        return
    level = roof.width + 2 * chosen.lap, chosen.turn_in + chosen.up + roof.course - chosen.clear
    for k in range(2 if roof.meets_ridge else 1):
        yield Blank(f"counter front {k + 1}" if roof.meets_ridge else "counter front", *level)
    size = stepped_size(roof.pitch, roof.course, chosen)
    runs = [*roof.runs, *((roof.width / 2,) * 2 if cricket else ())]
    for side, run in enumerate(runs):
        for k in range(stepped_count(run, roof.pitch, roof.course, chosen)):
            yield Blank(f"counter {side + 1}.{k + 1}", *size)
    if not roof.meets_ridge and not cricket:
        yield Blank("counter back", *level)


def _sawn(roof: Roof, chosen: FlashingChoices, cricket: bool) -> Iterator[Blank]:
    """Strips in a cut sawn along the roof; each a little longer, dressed over the stone's lumps."""
    high = chosen.turn_in + chosen.up - chosen.clear + INCH / 2
    level = roof.width + 2 * chosen.lap
    slopes = [run / cos(roof.pitch) for run in (*roof.runs, *((roof.width / 2,) * 2 if cricket else ()))]
    flats = [level] * (2 if roof.meets_ridge or not cricket else 1)
    for side, whole in enumerate([*flats, *slopes]):
        count, long = in_lengths(whole * (1 + chosen.dress), chosen.longest, chosen.lap)
        for k in range(count):
            yield Blank(f"counter {side + 1}.{k + 1}", long, high)


def joint_length(roof: Roof, joint: Joint, cricket: bool) -> float:
    """Metres of joint raked or sawn for the counterflashing: level along the courses, along the roof where sawn."""
    flat = roof.width * (2 if roof.meets_ridge or not cricket else 1)
    climbing = sum(roof.runs) + (roof.width if cricket else 0.0)
    return flat + climbing / (cos(roof.pitch) if joint == "sawn" or roof.course is None else 1.0)
