"""What the form is compared with: a finding for everything that could fall short."""

from __future__ import annotations

from itertools import pairwise
from math import pi

from crownwright.form.blocks import WEBBING
from crownwright.form.frame import SMALL, SQUARE, Frame, butt_cut
from crownwright.form.model import FormCorner, FormSide, Gap, Hanging, Strap
from crownwright.form.pinwheel import butt_gap
from crownwright.quantity.both import both
from crownwright.quantity.findings import Finding, Verdict, compare
from crownwright.quantity.units import INCH
from crownwright.quantity.working import DERIVED, PRACTICE, Cite

JUDGED = Cite("judgement", standing="common practice")
SAG = Cite("aci_347_2004", "deflection of form boards: 1/16 in. and span/360", "from memory")
END_GRAIN = Cite("nds_2018", "wood screws are not loaded in withdrawal from end grain")
PROUD_HOLD = Cite("nds_2018", "12.3.1, yield theory for a shank that stands free; wet, seven days", "derived")
BEARING_LEAST = 0.75 * INCH
BUTT_MOST = INCH / 8
ROOM_LEAST = 0.5 * INCH
BED_MOST = 3 * INCH
"""Widest gap that mortar as thick as a soffit board is trusted to stand in (a judgement)."""


def findings(
    frame: Frame,
    sides: tuple[FormSide, ...],
    joints: tuple[FormCorner, ...],
    gaps: tuple[Gap, ...],
    strap: Strap,
    hanging: Hanging,
) -> tuple[Finding, ...]:
    """Everything the form is compared with."""
    return (
        *_reaches(frame, sides),
        _gaps(gaps),
        _bearing(frame, joints),
        *(_span(side, frame) for side in sides),
        *_drip(frame),
        _height(frame),
        _thrust(frame),
        _butts(frame),
        _straps(strap),
        _hanging(hanging),
    )


def _reaches(frame: Frame, sides: tuple[FormSide, ...]) -> list[Finding]:
    rule = "room for the soffit board between sidewall and stone"
    return [
        compare(f"form.reach.{side.name}", rule, PRACTICE, f"soffit board {side.name}", soffit.most,
                at_least=ROOM_LEAST, unit="m",
                action=f"Widen the cap on side {side.name}: the stone leaves no room for a board under the edge.", blocks=True)
        for side, soffit in zip(sides, frame.soffits, strict=True)
    ]  # fmt: skip


def _gaps(gaps: tuple[Gap, ...]) -> Finding:
    """One finding for the form: the widest gap, and where else it is too wide for mortar to stand in."""
    where = ", ".join(gap.side for gap in gaps if gap.widest.mean > BED_MOST)
    action = f"Screw a filler strip to the edge of the soffit board on {where} before the mortar goes in." if where else ""
    widest = max(gaps, key=lambda gap: gap.widest.mean)
    return compare("form.gap", "gap between soffit boards and stone that mortar closes", JUDGED, f"soffit board {widest.side}",
                   widest.widest.mean, at_most=BED_MOST, unit="m", action=action)  # fmt: skip


def _bearing(frame: Frame, joints: tuple[FormCorner, ...]) -> Finding:
    rule = "bearing of the soffit boards on the corner blocks"
    if not frame.blocks.square:
        action = (
            "Set out the blocks on the roof: the stone has not four corners, so they stand at its corners, not at the form's."
        )
        return Finding("form.bearing", rule, JUDGED, "corner blocks", Verdict.CANNOT_TELL, action, BEARING_LEAST, unit="m")
    least = min(j.bearing for j in joints)
    return compare("form.bearing", rule, JUDGED, "corner blocks", least, at_least=BEARING_LEAST, unit="m",
                   action="Pack the block further out from the stone.")  # fmt: skip


def _span(side: FormSide, frame: Frame) -> Finding:
    rule = "span of the soffit board between blocks, for a sag of 1/16 in. (2 mm) and span/360"
    action = "Stand a block at the middle of this side and wedge it under the strap, or use a deeper rail on longer blocks."
    span = side.span if frame.blocks.square else None
    with_rail = f" with a {side.rail} rail" if side.rail else ""
    return compare(f"form.span.{side.name}", rule, SAG, f"soffit board {side.name}{with_rail}", span,
                   at_most=side.span_most, unit="m", action=action)  # fmt: skip


def _drip(frame: Frame) -> tuple[Finding, ...]:
    drip = frame.cap.drip
    if drip is None:
        return ()
    rule = "drip moulding lies wholly on the soffit board"
    least = min(s.reach for s in frame.soffits)
    return (
        compare("form.drip", rule, DERIVED, "soffit boards", least, at_least=drip.lip + drip.size, unit="m",
                action="Widen the overhang on the narrowest side, or take a smaller moulding."),
    )  # fmt: skip


def _height(frame: Frame) -> Finding:
    rule = "sidewall as high as the edge that is cast against it"
    return compare("form.height", rule, DERIVED, f"sidewall of {frame.wall.name}", frame.wall.width,
                   at_least=frame.cap.edge_thickness, unit="m", blocks=True, action="Choose a wider edge board.")  # fmt: skip


def _thrust(frame: Frame) -> Finding:
    rule = "thrust on the sidewalls goes into side grain at every corner: the cleat in the outside corner stands against a horn"
    return compare("form.corner_thrust", rule, END_GRAIN, "sidewalls", frame.choices.horn, at_least=SMALL.thickness, unit="m",
                   action=f"Let the sidewalls run {both(SMALL.thickness)} past.")  # fmt: skip


def _butts(frame: Frame) -> Finding:
    """Gaps left by ends that are cut square at angles too near to square to set a saw for."""
    deepest = max(frame.wall.thickness, *(s.width for s in frame.soffits))
    worst = max(
        butt_gap(deepest, float(a), pi / 2 if butt_cut(float(a), flat=True) is SQUARE else float(a)) for a in frame.ring.angles
    )
    return compare("form.butts", "gap of every butt as cut", JUDGED, "soffit boards and sidewalls", worst, at_most=BUTT_MOST,
                   unit="m", action="Cut the ends to the angle of the corner.")  # fmt: skip


def _straps(strap: Strap) -> Finding:
    """Whether the straps lie side by side on the blocks."""
    apart = min((a - b for a, b in pairwise(strap.heights)), default=WEBBING)
    action = "Make the corner blocks longer, prop them from the roof, or take wider webbing and fewer straps."
    return compare("form.straps", f"room for {strap.count} straps side by side on the blocks, middle to middle", JUDGED,
                   "corner blocks", min(apart, WEBBING), at_least=WEBBING, unit="m", action=action)  # fmt: skip


def _hanging(hanging: Hanging) -> Finding:
    rule = "lines hold half of the form each while it comes off, by the screws they are made fast to"
    subject = f"{hanging.screws} screw{'s' if hanging.screws > 1 else ''} a line, left standing out"
    action = "Tie them tight before the straps go: close above the cap round all flues, an offcut under each at the cap's edge."
    return compare("form.hanging", rule, PROUD_HOLD, subject, hanging.screws * hanging.carries, at_least=hanging.load, unit="N",
                   action=action)  # fmt: skip
