"""The order in which the form goes together."""

from __future__ import annotations

from crownwright.form.frame import Frame
from crownwright.form.model import Gap, Part, Piece, Step, Strap
from crownwright.quantity.both import both


def steps_of(frame: Frame, pieces: tuple[Piece, ...], strap: Strap, gaps: tuple[Gap, ...]) -> tuple[Step, ...]:
    """Steps from the first block to the last rail; those with nothing to do are left out."""
    made = [
        _step(pieces, "Make the corner blocks", _BLOCKS, ("corner block",), ("block",)),
        Step("Strap the blocks to the stone", _strap(frame, strap), (), ()),
        _step(pieces, "Lay the soffit boards", _SOFFIT, ("soffit board", "joint cleat"), ("on block", "joint cleat")),
        Step("Close the gap to the stone", _close(frame, gaps), (), ()),
        _step(
            pieces,
            "Stand the sidewalls",
            _walls(frame),
            ("sidewall", "corner cleat"),
            ("wall foot", "wall corner", "corner cleat", "hang line"),
        ),
        _step(pieces, "Fix the drip moulding", _moulding(frame), ("quarter-round",), ("quarter-round", "mitre")),
        _step(pieces, "Set the kickers", _KICKERS, ("kicker", "packer"), ("kicker",)),
        _step(pieces, "Screw on the rails", _RAILS, ("rail",), ("rail",)),
        Step("Seal and oil", _SEAL, (), ()),
    ]
    always = {"Strap the blocks to the stone", "Close the gap to the stone", "Seal and oil"}
    return tuple(step for step in made if step.pieces or step.title in always)


_BLOCKS = "Screw each lap leg to the edge of its butt leg, on the ground. Mark each block with its corner."
_SOFFIT = (
    "Lay them flat on the blocks, each butting one and running past the next. Screw a cleat under every butt, then the boards to"
    " the blocks from beneath."
)
_KICKERS = (
    "Stand each on the edge of the soffit board, against the wall (packed out where the board sticks out), and screw it to both."
)
_RAILS = "Push each up under its soffit board, on the outer faces of the blocks, and screw it to the blocks."
_SEAL = (
    "Run a bead along every joint that concrete will touch, tool it, let it skin. Oil the faces inside. Grease the screw heads"
    " marked for it."
)


def _step(pieces: tuple[Piece, ...], title: str, tell: str, parts: tuple[Part, ...], screws: tuple[str, ...]) -> Step:
    return Step(title, tell, tuple(p.name for p in pieces if p.part in parts), screws)


def _strap(frame: Frame, strap: Strap) -> str:
    heights = " and ".join(both(h) for h in strap.heights)
    tops = "Set the tops of all the blocks to one level line and pack them out square to each other."
    return (
        f"{tops} {_count(strap.count)} round them, {heights} above their undersides; tighten a little at each ratchet, in turns."
    )


def _count(n: int) -> str:
    return "One ratchet strap" if n == 1 else f"{n} ratchet straps"


def _close(frame: Frame, gaps: tuple[Gap, ...]) -> str:
    wide = [g.side for g in gaps if g.wide]
    pack = "Pack between the boards and the stone from above, tight and flush with the boards."
    if not wide:
        return pack
    most = both(frame.choices.pack_most)
    return (
        f"{pack} Where the gap is wider than {most} ({', '.join(wide)}), close it below and fill it with mortar the day before."
    )


def _walls(frame: Frame) -> str:
    tell = (
        "Stand them on the soffit boards, each butting one and running past the next; the diagonals must be equal. Leave the"
        " screws for the hang lines standing out of their faces."
    )
    if frame.wall.width > frame.cap.edge_thickness + 1e-6:
        tell += f" Strike the edge's top inside, {both(frame.cap.edge_thickness)} above the soffit."
    return tell


def _moulding(frame: Frame) -> str:
    drip = frame.cap.drip
    if drip is None:
        return ""
    lip = both(drip.lip)
    return (
        f"Mitre the quarter-round and lay it {lip} inside the sidewalls, flat side out; screw it from beneath. At corner"
        f" {frame.names[0]} put one screw through the mitre from inside, so that the two pieces come down as one."
    )
