"""From a form file to a form: everything that is wrong with it at once, or the form."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from difflib import get_close_matches
from pathlib import Path as File
from typing import Any

from pydantic import ValidationError
from shapely import Polygon

from crownwright.checks.strip_faults import form_faults
from crownwright.checks.strip_model import STONE, Fastener, FormModel, Part, Prism
from crownwright.plan.job import Units
from crownwright.quantity.display import show
from crownwright.quantity.lengths import Bare
from crownwright.quantity.problems import Problem
from crownwright.service.formfile.model import BoxTable, ClampTable, FastenerTable, FormFile, PartTable
from crownwright.service.jobfile.entry import Table, described
from crownwright.service.jobfile.faults import Fault, faults_of, told
from crownwright.service.jobfile.places import Path, key_lines, line_of
from crownwright.service.jobfile.reading import bare_unit, read_text
from crownwright.service.jobfile.syntax import parse_toml

DOCS = "docs/form-file.md"
THIN = 1e-4  # m; nothing in a form is thinner


@dataclass(frozen=True, slots=True)
class ToldForm:
    """A form as it was told: its title, the units it is shown in, and the form."""

    title: str
    units: Units
    form: FormModel


LISTS: dict[str, type[Table]] = {
    "parts": PartTable,
    "fasteners": FastenerTable,
    "clamps": ClampTable,
    "concrete": BoxTable,
    "stone": BoxTable,
}
Lines = dict[str, list[tuple[int, Any]]]
Outcome = tuple[ToldForm | None, tuple[Problem, ...]]


def read_form(path: File) -> Outcome:
    """Read a form file from disk; whatever is wrong with the file or in it comes back as problems, all at once."""
    text, problems = read_text(path)
    return (None, problems) if text is None else parse_form(text, path.name)


def parse_form(text: str, name: str = "form file") -> Outcome:
    """Read a form from the text of a form file.

    >>> form, problems = parse_form('title = "x"\\nparts = [ { name = "a", x = [0, 1], y = [0, 0], z = [0, 1] } ]')
    >>> [one.where for one in problems]
    ['concrete', 'line 2, parts[1].y']
    """
    if not text.strip():
        return None, (Problem(name, "the file is empty", f"Begin with an example; {DOCS} has every key"),)
    toml = parse_toml(text.replace("\r\n", "\n"), name)
    bare = bare_unit(toml.values)
    model, faults = None, list[Fault]()
    try:
        model = FormFile.model_validate(toml.values, context={"bare": bare})
    except ValidationError as error:
        faults = faults_of(error, toml.values, FormFile)
    lines_read = _readable(toml.values, bare)
    faults += [*_shapes(lines_read), *_names(lines_read, _part_names(toml.values))]
    if toml.problems:
        faults = [fault for fault in faults if not fault.absent]
    lines = key_lines(toml.text)
    problems = (*toml.problems, *_pointed(told(faults, lines, name)))
    if problems or model is None:
        return None, problems
    form = _form(model)
    units: Units = model.units or "us"
    wrong = form_faults(form, lambda metres: show(metres, "m", units))
    if wrong:
        return None, tuple(_placed(one, model, lines) for one in wrong)
    return ToldForm(model.title, units, form), ()


def _pointed(problems: Iterable[Problem]) -> Iterator[Problem]:
    """Problems that point to this file's own page."""
    return (replace(one, remedy=one.remedy.replace("docs/job-file.md", DOCS)) for one in problems)


def _readable(values: dict[str, Any], bare: Bare | None) -> Lines:
    """The lines of each list that can be read by themselves, with their places: one bad line hides no fault of another."""
    found: Lines = {}
    for name, kind in LISTS.items():
        typed = values.get(name)
        found[name] = []
        for k, line in enumerate(typed if isinstance(typed, list) else ()):
            with suppress(ValidationError):
                found[name].append((k, kind.model_validate(line, context={"bare": bare})))
    return found


def _part_names(values: dict[str, Any]) -> list[str]:
    typed = values.get("parts")
    lines = typed if isinstance(typed, list) else []
    return [line["name"] for line in lines if isinstance(line, dict) and isinstance(line.get("name"), str)]


def _shapes(lines: Lines) -> Iterator[Fault]:
    """What is wrong with single boxes: none given, given twice, without thickness, with a corner that turns inward."""
    for k, part in lines["parts"]:
        own = any(value is not None for value in (part.x, part.y, part.outline, part.z))
        if not own and not part.boxes:
            remedy = "Write x, y and z on it, each as [from, to], or boxes = [ ... ]"
            yield Fault(("parts", k), f"{described(part.name)} has no size", remedy)
        if own:
            yield from _box(("parts", k), part)
        for j, box in enumerate(part.boxes or ()):
            yield from _box(("parts", k, "boxes", j), box)
    for what in ("concrete", "stone"):
        for k, box in lines[what]:
            yield from _box((what, k), box)


def _box(path: Path, box: BoxTable | PartTable) -> Iterator[Fault]:
    flat = {"x": box.x, "y": box.y}
    if box.outline is not None and any(flat.values()):
        yield Fault(path, "has both an outline and x or y", "Keep one of them")
    if box.outline is None:
        for key in (key for key, ends in flat.items() if ends is None):
            yield Fault((*path, key), f"“{key}” is missing", f"Add {key} = [from, to], or an outline", absent=True)
    if box.z is None:
        yield Fault((*path, "z"), "“z” is missing", "Add z = [from, to], how high it begins and ends", absent=True)
    for key, ends in {**flat, "z": box.z}.items():
        if ends is not None and abs(ends[1] - ends[0]) < THIN:
            yield Fault((*path, key), f"has no size along {key}: it runs from a place to the same place", "Measure it again")
    if box.outline is not None and (what := _crooked(box.outline)):
        yield Fault((*path, "outline"), what, "Go round its corners in order; split what turns inward into several boxes")


def _crooked(outline: list[list[float]]) -> str:
    """What is wrong with an outline; "" where it will do."""
    if any(len(point) != 2 for point in outline):
        return "a corner of an outline is two lengths, [x, y]"
    if len(outline) < 3:
        return f"an outline of {len(outline)} corners encloses nothing"
    ring = Polygon(outline)
    if not ring.is_valid or ring.area < THIN**2:
        return "the outline crosses itself or encloses nothing"
    return "" if ring.convex_hull.area - ring.area < 1e-6 * ring.area + 1e-9 else "the outline turns inward at a corner"


def _names(lines: Lines, parts: list[str]) -> Iterator[Fault]:
    """Names used twice, and names of parts that do not exist."""
    yield from _twice([(("parts", k, "name"), part.name) for k, part in lines["parts"]], "part")
    for k, part in lines["parts"]:
        if part.name == STONE:
            remedy = "That name means the chimney; list it below [[stone]]"
            yield Fault(("parts", k, "name"), f"no part may be called “{STONE}”", remedy)
    ties: list[tuple[Path, str]] = [((what, k, "name"), one.name) for what in ("fasteners", "clamps") for k, one in lines[what]]
    yield from _twice(ties, "fastener or clamp")
    lists: list[tuple[Path, list[str]]] = [(("fasteners", k, "joins"), one.joins) for k, one in lines["fasteners"]]
    lists += [(("clamps", k, "round"), clamp.round) for k, clamp in lines["clamps"]]
    for path, names in lists:
        for j, name in enumerate(names):
            known = parts if path[0] == "clamps" else [*parts, STONE]
            if name not in known:
                near = get_close_matches(name, known, n=1)
                remedy = f"Did you mean “{near[0]}”?" if near else f"Parts: {', '.join(parts[:12])}"
                yield Fault((*path, j), f"no part is called {described(name)}", remedy)
        if path[0] == "fasteners" and len(set(names)) < len(names):
            yield Fault(path, "joins a part to itself", "Name the parts it holds together, each once")


def _twice(named: list[tuple[Path, str]], kind: str) -> Iterator[Fault]:
    seen: set[str] = set()
    for path, name in named:
        if name in seen:
            yield Fault(path, f"two of them are called {described(name)}", f"Give every {kind} its own name")
        seen.add(name)


def _form(model: FormFile) -> FormModel:
    return FormModel(
        tuple(_part(part) for part in model.parts),
        (*(_fastener(one) for one in model.fasteners or ()), *(_clamp(one) for one in model.clamps or ())),
        tuple(_prism(box) for box in model.concrete),
        tuple(_prism(box) for box in model.stone or ()),
    )


def _part(part: PartTable) -> Part:
    own = (_prism(part),) if part.z is not None else ()
    return Part(part.name, (*own, *(_prism(box) for box in part.boxes or ())), tuple(part.ways or ()))


def _prism(box: BoxTable | PartTable) -> Prism:
    low, high = sorted(box.z)
    if box.outline is not None:
        return Prism(tuple((x, y) for x, y in box.outline), low, high)
    (x0, x1), (y0, y1) = sorted(box.x), sorted(box.y)
    return Prism(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), low, high)


def _fastener(one: FastenerTable) -> Fastener:
    x, y, z = one.head
    rest: dict[str, Any] = {"room": one.room} if one.room is not None else {}
    return Fastener(one.name, tuple(one.joins), (x, y, z), one.driven, long=one.length or 0.0, **rest)


def _clamp(one: ClampTable) -> Fastener:
    x, y, z = one.ratchet
    rest: dict[str, Any] = {"room": one.room} if one.room is not None else {}
    return Fastener(one.name, (*one.round, STONE), (x, y, z), one.pulled, clamps=True, **rest)


def _placed(problem: Problem, model: FormFile, lines: dict[Path, int]) -> Problem:
    """A problem of the form as a whole, with the line of the thing that it names."""
    kind, _, name = problem.where.partition(" ")
    places: dict[str, list[Any]] = {"part": model.parts, "fastener": list(model.fasteners or ())}
    for k, one in enumerate(places[kind]):
        if one.name == name and (line := line_of(lines, (f"{kind}s", k))):
            return replace(problem, where=f"line {line}, {problem.where}")
    return problem
