"""What is told of the repointing: the extent against the brief, the depth, the figures with their working."""

from __future__ import annotations

from crownwright.codes import nps_pb2
from crownwright.quantity.findings import Finding, Verdict, compare
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import FOOT, HOUR
from crownwright.quantity.working import DERIVED, PRACTICE, Cite, Figure
from crownwright.repair.repoint_faces import FaceJoints
from crownwright.repair.tell import figure, times

BRIEF = Cite("nps_pb2", "depth of joints, weather, extent")
BY_PATCHES = Cite("cochran", "ratio estimator", "from memory")
NONE_SEEN = Cite("clopper_pearson", "one-sided limit, none of n", "from memory")


def findings(faces: tuple[FaceJoints, ...], depth: Uncertain, width: Uncertain) -> tuple[Finding, ...]:
    """Return the findings: how much of each face has failed, patches that tell no spread, how deep it is raked."""
    found = [_extent(face) for face in faces if face.share is not None]
    few = [face.face for face in faces if face.patches < 2]
    if few:
        act = "Count a second patch on each: one tells how much, two tell how sure"
        subject = f"face {', '.join(few)}"
        found.append(
            Finding("repair.repoint.patches", "two patches or more a face", BY_PATCHES, subject, Verdict.CANNOT_TELL, act)
        )
    rule = "depth raked out"
    act = "Rake deeper: shallow pointing falls out"
    least = nps_pb2.RAKE_LEAST * width.mean
    found.append(compare("repair.repoint.rake", rule, BRIEF, "joints", depth.mean, at_least=least, unit="m", action=act))
    return tuple(found)


def _both(metres: float) -> str:
    return f"{metres / FOOT:.0f} ft ({metres:.1f} m)"


def _extent(face: FaceJoints) -> Finding:
    """How much of a face has failed, against where the brief says that all of it may as well be done."""
    both = "" if face.joints is None else f": {_both(face.joints.mean)} in place of {_both(face.failed.mean)}"
    act = f"Repoint the whole face{both}; access costs more than the joints" if not face.whole else "The whole face is taken"
    verdict = Verdict.OK if face.whole or (face.share or 0.0) < nps_pb2.SPOT_MOST else Verdict.SHORT
    action = "" if verdict is Verdict.OK else act
    key = f"repair.repoint.extent.{face.face}"
    rule = "share of the joints that has failed"
    return Finding(key, rule, BRIEF, f"face {face.face}", verdict, action, None, nps_pb2.SPOT_MOST, face.share, "share")


def figures(
    faces: tuple[FaceJoints, ...],
    length: Uncertain,
    width: Uncertain,
    depth: Uncertain,
    volume: Uncertain,
    hours: Uncertain,
    rate: float,
) -> tuple[Figure, ...]:
    """Return the figures, face by face and together: joint, width, depth, mortar, hours (``rate`` m of joint a second)."""
    found = [_face_figure(face) for face in faces]
    parts = tuple(("", f"face {face.face}", face.length.mean, "m") for face in faces)
    joint = ("w", "width of the joint", width.mean, "m")
    return (
        *found,
        figure("repair.repoint.length", "joint to repoint", length, "m", "sum over the faces", *parts),
        figure(
            "repair.repoint.width",
            "width of the joints",
            width,
            "m",
            "mean of the readings, or the units' joint",
            ("", "patches counted", float(sum(face.patches for face in faces)), "1"),
        ),
        figure(
            "repair.repoint.depth",
            "depth to rake out",
            depth,
            "m",
            "the most of 2.5 w, 3/4 in. in brick, and how deep it is open",
            joint,
            cite=BRIEF,
            holds="joints 1/8 to 1 in. wide",
        ),
        figure(
            "repair.repoint.volume",
            "mortar in the joints",
            volume,
            "m3",
            "L w d",
            ("L", "joint to repoint", length.mean, "m"),
            joint,
            ("d", "depth", depth.mean, "m"),
            cite=DERIVED,
        ),
        figure(
            "repair.repoint.hours",
            "mason's hours raking and pointing",
            times(hours, HOUR),
            "s",
            "L/r",
            ("L", "joint to repoint", length.mean, "m"),
            ("r", "joint in an hour", rate * HOUR, "m"),
            cite=PRACTICE,
        ),
    )


def _face_figure(face: FaceJoints) -> Figure:
    what = "all joints of" if face.whole else "failed joints of"
    terms: list[tuple[str, str, float | str, str]] = [("A", "face", face.area, "m2"), ("n", "patches counted", face.patches, "1")]
    if face.share is not None:
        terms.append(("s", "share failed", face.share, "1"))
    key, formula = f"repair.repoint.length.{face.face}", "A x (length counted)/(area counted)"
    if face.length.mean == 0 and face.joints is not None:
        terms.append(("J", "all joint on the face", face.joints.mean, "m"))
        formula = "nothing was counted; 19 times in 20 no more than (1 - 0.05^(1/n)) J of what was not, 1.645 spreads"
        return figure(key, f"{what} face {face.face}", face.length, "m", formula, *terms, cite=NONE_SEEN)
    return figure(key, f"{what} face {face.face}", face.length, "m", formula, *terms, cite=BY_PATCHES)
