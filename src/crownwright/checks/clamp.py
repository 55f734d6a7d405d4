"""Does friction hold the form on the stone: tension lost round the corners, wet stone, a person leaning on it; tipping."""

from __future__ import annotations

from dataclasses import dataclass

from crownwright.cap.model import CapDesign
from crownwright.checks.choices import StrapChoices
from crownwright.checks.tell import STATICS, figure, value_of
from crownwright.codes.aci_347_04 import CONSTRUCTION_LIVE
from crownwright.codes.capstan import clamp_force, side_tensions, straps_needed
from crownwright.codes.fmcsa_393_108 import webbing_limit
from crownwright.codes.friction import friction
from crownwright.form.model import FormDesign
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.units import G0
from crownwright.quantity.working import Cite, Figure
from crownwright.survey.model import Survey

LIVE = Cite("aci_347_2004", "2.2.1: 50 psf of people, on horizontal projection")
BELT = Cite("beer_johnston", "8.10, belt friction")
RATING = Cite("fmcsa_393_108", "393.108(b)")
LOST = friction("design: strap on wood edge").high
DRY, WET = friction("design: wood on brick or stone").low, friction("design: wood on wet or dusty stone").low
TIGHTEN = "Add a strap, tighten from both ends, take the strap up again after ten minutes, or prop the blocks."


@dataclass(frozen=True, slots=True)
class Clamp:
    """What the straps must carry and with what.

    ``concrete``, ``wood`` and ``people`` N on the form, ``straps`` of them, their heights above the blocks' undersides and the
    blocks' depth (m), and how far out the load lies on a block (m).
    """

    concrete: float
    wood: float
    people: float
    straps: int
    strap_heights: tuple[float, ...]
    block_depth: float
    load_out: float

    @property
    def load(self) -> float:
        """Everything that wants to slide down, N."""
        return self.concrete + self.wood + self.people


def clamp_of(survey: Survey, cap: CapDesign, form: FormDesign, person: float) -> Clamp:
    """Return the loads of this cap on this form.

    Concrete outside the stone at the wash's mean height over the overhang; people by the guide, or one ``person`` (N) leaning on
    the edge, whichever is more.
    """
    ring = max(cap.length * cap.width - survey.outline.area.mean, 0.0)
    reach = sum(side.most for side in cap.sides) / len(cap.sides)
    thick = cap.edge_thickness + (cap.crest - cap.edge) * min(1.0, reach / (min(cap.length, cap.width) / 2)) / 2
    concrete = ring * thick * cap.choices.density * G0
    people = max(CONSTRUCTION_LIVE * ring, person)
    depth = form.soffit - form.block_bottom
    return Clamp(concrete, form.weight * G0, people, form.strap.count, form.strap.heights, depth, reach / 2)


def figures_clamp(clamp: Clamp, strap: StrapChoices) -> tuple[Figure, ...]:
    """Return what presses, what holds dry and wet, the factors, how many straps, and how slack the far side is."""
    pull = strap.pull * strap.kept
    press = clamp.straps * clamp_force(pull, LOST)
    turns = (
        ("T", "ratchet tension that stays", pull, "N"),
        ("T0", "pull by hand", strap.pull, "N"),
        ("k", "share that stays (judgement)", strap.kept, "1"),
        ("m", "strap on the blocks' edges", LOST, "1"),
        ("n", "straps", clamp.straps, "1"),
    )
    load = (
        ("C", "concrete on the form", clamp.concrete, "N"),
        ("F", "form", clamp.wood, "N"),
        ("P", "people", clamp.people, "N"),
    )
    pressed = ("N", "pressing on the stone", press, "N")
    far = side_tensions(1.0, LOST)[2]
    needed = straps_needed(clamp.load, pull, LOST, WET, strap.factor)
    found = [
        figure("checks.clamp.load", "weight on the form", clamp.load, "N", "C + F + P", LIVE, *load),
        figure(
            "checks.clamp.pressing",
            "strap presses the blocks on the stone",
            press,
            "N",
            "n 2 T (1 + exp(-m pi/2))^2, T = k T0",
            BELT,
            *turns,
        ),
        figure("checks.clamp.far_side", "tension left on the side away from the ratchet", far, "1", "exp(-m pi)", BELT, turns[3]),
        figure(
            "checks.clamp.straps",
            "straps wanted on wet stone",
            needed,
            "1",
            "load x factor / (mu N of one strap)",
            BELT,
            *turns,
            ("W", "load", clamp.load, "N"),
        ),
    ]
    for name, mu in (("dry", DRY), ("wet", WET)):
        grip = ("mu", f"wood on {name} stone", mu, "1")
        label = f"holding over load, {name} stone"
        found.append(
            figure(f"checks.clamp.{name}", label, mu * press / clamp.load, "1", "mu N/(C + F + P)", BELT, pressed, grip, *load)
        )
    found.append(_tipping(clamp, pull))
    return tuple(found)


def _tipping(clamp: Clamp, pull: float) -> Figure:
    """The slackest block: moment of its strap about its foot over the moment that its share of the load has about the stone."""
    _, near, far, _ = side_tensions(pull * clamp.straps, LOST)
    height = sum(clamp.strap_heights) / len(clamp.strap_heights) if clamp.strap_heights else 0.0
    load = clamp.load / 4
    inputs = (
        ("N", "pressing on the slackest block", near + far, "N"),
        ("y", "strap above the block's foot", height, "m"),
        ("P", "load on a block", load, "N"),
        ("e", "load out from the stone", clamp.load_out, "m"),
    )
    value = (near + far) * height / (load * clamp.load_out)
    return figure("checks.clamp.tipping", "holding over tipping of the slackest block", value, "1", "N y/(P e)", STATICS, *inputs)


def check_clamp(clamp: Clamp, strap: StrapChoices) -> tuple[Finding, ...]:
    """Return the findings on the clamp: dry, wet, tipping and the strap's rating.

    The thumb rule that a strap sits at or above the middle of the blocks is left out: tipping is worked with the straps' own
    heights, and a rail under the soffit board may leave no room that high.
    """
    known = figures_clamp(clamp, strap)
    dry, wet, tip = (value_of(known, f"checks.clamp.{name}") for name in ("dry", "wet", "tipping"))
    limit = strap.marked if strap.marked is not None else webbing_limit(strap.width)
    subject = "form on the stone, people on it, a person leaning"
    up = "Set the straps higher on the blocks, or make the blocks longer."
    stronger = "Take a wider or marked strap; the weakest part of it governs, and never lengthen the ratchet's handle."
    return (
        compare("form.clamp.dry", "friction over load, dry stone", BELT, subject, dry, at_least=strap.factor, action=TIGHTEN),
        compare(
            "form.clamp.wet", "friction over load, wet or dusty stone", BELT, subject, wet, at_least=strap.factor, action=TIGHTEN
        ),
        compare(
            "form.clamp.tipping",
            "block held from tipping",
            STATICS,
            "slackest corner block",
            tip,
            at_least=strap.factor,
            action=up,
        ),
        compare(
            "form.clamp.rating",
            "strap tension under its working load limit",
            RATING,
            "ratchet side",
            strap.pull,
            at_most=limit,
            unit="N",
            action=stronger,
        ),
    )
