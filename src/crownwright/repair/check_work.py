"""What is wrong with the patches counted and the work chosen: faces not there, sizes that cannot be, choices that clash."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches

from crownwright.cap.words import say
from crownwright.codes.astm_c270 import mortar_types
from crownwright.codes.unit_weights import materials
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import INCH
from crownwright.repair.record import RebuildChoices, RepairRecord, Sample
from crownwright.repair.stack import Stack
from crownwright.survey.readings import Length

WIDEST_JOINT = 4 * INCH
"""No joint is wider (a judgement)."""
DEEPEST_JOINT = 24 * INCH
LOOSE = ("loose units", "missing units")
"""Findings that a course is taken down for."""


def check_work(record: RepairRecord, stack: Stack) -> tuple[Problem, ...]:
    """Return every problem of the patches, the units and the choices of work."""
    samples = [one for n, sample in enumerate(record.samples, 1) for one in _sample(f"repair.samples[{n}]", sample, stack)]
    return (*samples, *_units(record), *_repoint(record, stack), *_rebuild(record, stack), *_flues(record, stack))


def _sample(where: str, sample: Sample, stack: Stack) -> Iterator[Problem]:
    if sample.face not in stack.faces:
        yield Problem(f"{where}.face", f"there is no face {sample.face}", f"Faces: {', '.join(stack.faces)}")
    for key, length in (("wide", sample.wide), ("high", sample.high)):
        if length.metres < INCH:
            yield Problem(f"{where}.{key}", f"“{length.typed or say(length.metres)}” is no patch", "Count a square foot or two")
    run, height = stack.faces.get(sample.face), stack.height
    if run is not None and sample.wide.metres > run.mean + 3 * run.sd:
        what = f"the patch is {say(sample.wide.metres)} wide, the face only {say(run.mean)}"
        yield Problem(f"{where}.wide", what, "Measure the patch again")
    if height is not None and sample.high.metres > 2 * height:
        what = f"the patch is {say(sample.high.metres)} high, the face about {say(height)}"
        yield Problem(f"{where}.high", what, "Measure the patch again")
    if sample.failed.metres < 0:
        yield Problem(f"{where}.failed", f"“{sample.failed.typed}” is less than nothing", "Write 0 where none has failed")
    if sample.joints is not None and sample.failed.metres > sample.joints.metres + 1e-9:
        what = f"{say(sample.failed.metres)} of joint has failed, of {say(sample.joints.metres)} in all"
        yield Problem(f"{where}.failed", what, "Count the patch again")
    yield from _joint(where, "width", sample.width, WIDEST_JOINT)
    yield from _joint(where, "depth", sample.depth, DEEPEST_JOINT)


def _joint(where: str, key: str, length: Length | None, most: float) -> Iterator[Problem]:
    if length is not None and not 0 <= length.metres <= most:
        what = f"“{length.typed or say(length.metres)}” is no {key} of a joint"
        yield Problem(f"{where}.{key}", what, f"Joints are 0 to {say(most)}")


def _units(record: RepairRecord) -> Iterator[Problem]:
    if record.units.stone and record.units.stone not in materials():
        near = get_close_matches(record.units.stone, materials(), n=1, cutoff=0.4)
        remedy = f"Did you mean “{near[0]}”?" if near else f"There are: {', '.join(materials())}"
        yield Problem("repair.units.stone", f"“{record.units.stone}” is not in the table of weights", remedy)


def _mortar(where: str, name: str) -> Iterator[Problem]:
    if name and name not in mortar_types():
        yield Problem(f"{where}.mortar", f"there is no mortar type {name}", f"Types: {', '.join(mortar_types())}")


def _repoint(record: RepairRecord, stack: Stack) -> Iterator[Problem]:
    choices = record.repoint
    if choices is None:
        return
    yield from _mortar("repair.repoint", choices.mortar)
    for face in choices.faces:
        if face not in stack.faces:
            yield Problem("repair.repoint.faces", f"there is no face {face}", f"Faces: {', '.join(stack.faces)}")
        elif not any(sample.face == face for sample in record.samples):
            remedy = "Count a patch of it, a square foot or two, in a place taken at random"
            yield Problem("repair.repoint.faces", f"no patch was counted on face {face}", remedy)
    if choices.height is None and stack.height is None:
        what = "how far down to repoint is not told, and the roof was not read"
        yield Problem("repair.repoint.height", what, "Add height here, or roof_below_string under [surroundings]")
    if stack.height is not None and choices.height is not None and choices.height > 1.5 * stack.height:
        what = f"{say(choices.height)} is further down than the roof, {say(stack.height)} below the top"
        yield Problem("repair.repoint.height", what, "Measure it from the top of the stone")


def _how_far(record: RepairRecord, stack: Stack) -> Iterator[Problem]:
    """Where something calls for rebuilding: whether it can be told how far down."""
    loose = [(n, seen) for n, seen in enumerate(record.seen, 1) if seen.what in LOOSE]
    choices = record.rebuild or RebuildChoices()
    if (record.rebuild is None and not loose) or choices.depth is not None:
        return
    counted = choices.courses is not None or any(seen.course is not None for _, seen in loose)
    for n, seen in loose:
        if seen.course is None and not choices.courses:
            yield Problem(
                f"repair.seen[{n}].course", f"{seen.what}, but not how far down", "Add course, and to_course, from the top"
            )
    if not counted and not loose:
        yield Problem("repair.rebuild", "how far down is not told", "Add courses, or a depth, or the courses of the loose units")
    if counted and stack.course is None:
        what = "courses are counted, but not how high one is"
        yield Problem("repair.units.course", what, "Add course under [repair] units: its height with the joint; or rebuild.depth")


def _rebuild(record: RepairRecord, stack: Stack) -> Iterator[Problem]:
    yield from _how_far(record, stack)
    choices = record.rebuild
    if choices is None:
        return
    yield from _mortar("repair.rebuild", choices.mortar)
    if choices.courses is not None and choices.depth is not None:
        what = "both courses and a depth to take down are told"
        yield Problem("repair.rebuild.depth", what, "Keep one: courses where there are any, else the depth")
    most = stack.courses
    if choices.courses is not None and most is not None and choices.courses > most:
        what = f"{choices.courses} courses are to come down, and the stack has about {most} above the roof"
        yield Problem("repair.rebuild.courses", what, "Count again")
    if not choices.solid and choices.wall is None:
        yield Problem("repair.rebuild.wall", "the core stays open, but how thick the walls are is not told", "Add wall")


def _flues(record: RepairRecord, stack: Stack) -> Iterator[Problem]:
    names = [flue.name for flue in stack.flues]
    for n, one in enumerate(record.flues, 1):
        if one.flue not in names:
            remedy = f"Flues: {', '.join(names)}" if names else "The readings have no flue"
            yield Problem(f"repair.flues[{n}].flue", f"there is no flue {one.flue}", remedy)
        if one.screen_pitch is not None and one.screen_wire is not None and one.screen_wire >= one.screen_pitch:
            yield Problem(f"repair.flues[{n}].screen_wire", "the wire is thicker than the mesh is wide", "Read both again")
