"""What no single key can tell: that points, sides, rules and places named in one part of a job file exist in another. It looks at
the values as typed, so that these faults are told together with those of the keys.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from crownwright.quantity.lengths import Bare, Reading, parse_length
from crownwright.quantity.measures import parse_measure
from crownwright.quantity.problems import Problem
from crownwright.quantity.working import Cite
from crownwright.service.jobfile.entry import as_text, described, read_text_length
from crownwright.service.jobfile.faults import Fault
from crownwright.service.jobfile.places import Path

if TYPE_CHECKING:
    from crownwright.codes.cap_rules import Rule

Raw = Mapping[str, Any]


def name_faults(raw: Raw, bare: Bare | None) -> list[Fault]:
    """Every fault between the parts of the file; parts that are no tables are left to the model to tell."""
    known = *_survey_faults(raw, bare), *_ridge_faults(raw), *_rule_faults(raw, bare), *_bought_faults(raw)
    return [*_which_survey(raw), *known, *_day_faults(raw)]


def limits(raw: Raw, bare: Bare | None) -> tuple[tuple[tuple[str, float], ...], list[Fault]]:
    """The overrides in SI, each by the unit of its rule, and what is wrong with them."""
    values: list[tuple[str, float]] = []
    faults: list[Fault] = []
    for key, typed in _table(raw.get("overrides")).items():
        found = _limit(key, typed, bare)
        if isinstance(found, Problem):
            faults.append(Fault(("overrides", key), found.what, found.remedy))
        else:
            values.append((key, found))
    return tuple(values), faults


def local_rules(raw: Raw, bare: Bare | None) -> tuple[tuple[Rule, ...], list[Fault]]:
    """The rules of the local authority, and what is wrong with them; lines without a known rule are left to the model to tell."""
    from crownwright.codes.cap_rules import RULES
    from crownwright.service.jobfile.found_rules import OF_WHAT_IS_FOUND, found_rule, in_order

    rules: list[Rule] = []
    faults: list[Fault] = []
    for i, line in _lines(raw, "rules"):
        name = line.get("rule")
        if not isinstance(name, str):
            continue
        if name.startswith(OF_WHAT_IS_FOUND):
            found = found_rule(("rules", i), name, line, bare)
            faults, rules = ([*faults, *found], rules) if isinstance(found, list) else (faults, [*rules, found])
            continue
        if name not in RULES:
            near = get_close_matches(name, RULES, n=1)
            remedy = f"Did you mean “{near[0]}”?" if near else "Rules: " + ", ".join(RULES)
            faults.append(Fault(("rules", i, "rule"), f"no rule is called {described(name)}", remedy))
            continue
        found = _local_rule(("rules", i), name, line, bare)
        if isinstance(found, list):
            faults += found
        else:
            rules.append(found)
    return tuple(rules), [*faults, *in_order(raw, rules)]


def _local_rule(path: Path, name: str, line: Raw, bare: Bare | None) -> Rule | list[Fault]:
    from crownwright.codes.cap_rules import Rule, rule_unit

    unit, bounds = rule_unit(name), {key: line[key] for key in ("at_least", "at_most") if key in line}
    if unit is None and bounds:
        return [Fault((*path, key), f"{name} is a rule without a number", "Write asks = true or false") for key in bounds]
    if unit is not None and "asks" in line:
        return [Fault((*path, "asks"), f"{name} is measured", "Write at_least, at_most or both")]
    if not bounds and "asks" not in line:
        remedy = "Write asks = true or false" if unit is None else "Write at_least, at_most or both"
        return [Fault(path, "the rule asks for nothing", remedy)]
    read = {key: _limit(f"{name}.{key}", typed, bare) for key, typed in bounds.items()}
    faults = [Fault((*path, key), one.what, one.remedy) for key, one in read.items() if isinstance(one, Problem)]
    low, high = ((one if isinstance(one, float) else None) for one in (read.get("at_least"), read.get("at_most")))
    if low is not None and high is not None and low > high:
        faults.append(Fault((*path, "at_most"), "the most is less than the least", "Look at both again"))
    if faults:
        return faults
    cite = Cite("local_rule", str(line.get("document", "")), "entered")
    asks = line.get("asks")
    return Rule(name, str(line.get("says", "")), cite, low, high, unit or "1", asks if isinstance(asks, bool) else None)


def _limit(key: str, typed: Any, bare: Bare | None) -> float | Problem:
    from crownwright.codes.cap_rules import RULES, local_rule

    try:
        unit = local_rule(key, 0.0).unit
    except KeyError:
        return Problem("", f"no rule is called “{key}”", "Rules: " + ", ".join(RULES))
    if unit == "m":
        read = read_text_length(typed, bare)
        return read.metres if isinstance(read, Reading) else read
    text = as_text(typed)
    if text is None:
        return Problem("", f"{described(typed)} is not a limit", "Write a number, or text with its unit")
    return parse_measure(text, "angle" if unit == "rad" else "share")


def _which_survey(raw: Raw) -> Iterator[Fault]:
    if "readings" in raw and "quick" in raw:
        yield Fault(("quick",), "both [readings] and [quick] are here", "Keep [readings] once you have climbed; take [quick] out")
    if "readings" not in raw and "quick" not in raw:
        yield Fault((), "there are no readings", "Add [readings] from the roof, or [quick] from the doorstep", absent=True)


def _rule_faults(raw: Raw, bare: Bare | None) -> Iterator[Fault]:
    from crownwright.codes.cap_rules import rule_sets

    name = raw.get("code_set")
    if isinstance(name, str) and name not in rule_sets():
        yield Fault(("code_set",), f"{described(name)} is no set of rules known here", "Known: " + ", ".join(rule_sets()))
    yield from limits(raw, bare)[1]
    yield from local_rules(raw, bare)[1]


def _day_faults(raw: Raw) -> Iterator[Fault]:
    """Spans of hours that end before they begin; what is left out keeps its usual hour."""
    from crownwright.cure.inputs import CureChoices

    typed, usual = _table(_table(raw.get("pour")).get("cure")), CureChoices()
    for first, last in (("earliest", "latest"), ("night", "nights")):
        low, high = (typed.get(key, getattr(usual, key)) for key in (first, last))
        if {first, last} & set(typed) and all(isinstance(x, int | float) for x in (low, high)) and low >= high:
            key = last if last in typed else first
            yield Fault(
                ("pour", "cure", key), f"{last}, {high:g}, is not after {first}, {low:g}", "Make it later, or the other earlier"
            )


def _bought_faults(raw: Raw) -> Iterator[Fault]:
    """Bags, boards, lumber and ladders by names that no table has."""
    named = [(("concrete", key), "bag") for key in ("bag", "mortar_bag")]
    named += [(("cap", "edge_board"), "board"), (("form", "block_section"), "board")]
    checks = _table(raw.get("checks"))
    typed = [
        *((path, kind, _table(raw.get(path[0])).get(path[1])) for path, kind in named),
        (("checks", "wood"), "grade of lumber", checks.get("wood")),
        (("checks", "stack_material"), "material", checks.get("stack_material")),
        (("checks", "people", "ladder_grade"), "grade of ladder", _table(checks.get("people")).get("ladder_grade")),
    ]
    stock = [
        (("form", "stock", i, "section"), "section", line.get("section")) for i, line in _lines(_table(raw.get("form")), "stock")
    ]
    for path, kind, name in (*typed, *stock):
        known = _to_be_had(str(path[-1])) if isinstance(name, str) else ()
        if isinstance(name, str) and name not in known and not _is_moulding(kind, name):
            yield Fault(path, f"no {kind} is called {described(name)}", f"There are: {', '.join(known)}")


def _is_moulding(kind: str, name: str) -> bool:
    """Quarter-round is sold in any size: it is named by its leg."""
    word, _, leg = name.partition(" ")
    return kind == "section" and word == "quarter-round" and isinstance(parse_length(leg, "in"), Reading)


def _to_be_had(key: str) -> tuple[str, ...]:
    """Names that a key of the file may have: of what can be bought, or of rows of a table."""
    from crownwright.codes.nds_2018 import grades
    from crownwright.codes.osha_1926 import ladder_grades
    from crownwright.codes.ps_20 import boards
    from crownwright.codes.unit_weights import materials
    from crownwright.concrete.bags import bags, mortar_bags
    from crownwright.form.choices import FormChoices

    tables = {"bag": bags, "mortar_bag": mortar_bags, "wood": grades, "stack_material": materials, "ladder_grade": ladder_grades}
    if key in tables:
        return tuple(tables[key]())
    mouldings = (one.section for one in FormChoices().stock if one.section not in boards()) if key == "section" else ()
    return tuple(dict.fromkeys((*boards(), *mouldings)))


def _survey_faults(raw: Raw, bare: Bare | None) -> Iterator[Fault]:
    quick, top = _table(raw.get("quick")), _table(raw.get("readings"))
    for where, table in (("readings", top), ("quick", quick)):
        flues = list(_lines(table, "flues"))
        yield from _twice([((where, "flues", i, "name"), flue.get("name")) for i, flue in flues], "flue")
        for i, flue in flues:
            yield from _sizes((where, "flues", i), flue)
    if top:
        yield from _top_faults(top, bare)


def _ridge_faults(raw: Raw) -> Iterator[Fault]:
    """A side that looks to the ridge, and that the stone has not."""
    told = _table(raw.get("surroundings")).get("ridge_side")
    corners = _table(raw.get("readings")).get("corners") if "readings" in raw else list("ABCD")
    if isinstance(told, str) and isinstance(corners, list) and all(isinstance(c, str) for c in corners) and corners:
        sides = [a + b for a, b in pairwise([*corners, corners[0]])]
        if told not in sides:
            yield Fault(("surroundings", "ridge_side"), f"there is no side {described(told)}", f"Sides: {', '.join(sides)}")


def _top_faults(top: Raw, bare: Bare | None) -> Iterator[Fault]:
    corners = [c for c in top.get("corners", []) if isinstance(c, str)] if isinstance(top.get("corners"), list) else []
    points = {*corners, *_flue_points(top)}
    sides = {a + b for a, b in pairwise([*corners, *corners[:1]])}
    yield from _twice([(("readings", "corners", i), c) for i, c in enumerate(corners)], "corner")
    known: dict[str, tuple[str, set[str]]] = {
        "start": ("point", points),
        "end": ("point", points),
        "first": ("point", points),
        "second": ("point", points),
        "side": ("side", sides),
        "corner": ("corner", set(corners)),
    }
    if corners:
        for part in ("tapes", "offsets", "drops"):
            for i, line in _lines(top, part):
                yield from _unknown_names(("readings", part, i), line, known)
    for i, line in _lines(top, "tapes"):
        yield from _tape(("readings", "tapes", i), line, bare)
    for i, line in _lines(top, "drops"):
        yield from _place(("readings", "drops", i), line)


def _unknown_names(path: Path, line: Raw, known: Mapping[str, tuple[str, set[str]]]) -> Iterator[Fault]:
    for key, (kind, names) in known.items():
        name = line.get(key)
        if isinstance(name, str) and name not in names:
            hint = f"It is {name[::-1]} the other way round: write {name[::-1]}" if name[::-1] in names else ""
            yield Fault((*path, key), f"no {kind} is called {described(name)}", hint or f"Known: {', '.join(sorted(names))}")


def _tape(path: Path, line: Raw, bare: Bare | None) -> Iterator[Fault]:
    if isinstance(line.get("start"), str) and line.get("start") == line.get("end"):
        yield Fault((*path, "end"), f"the tape runs from {line['start']} to itself", "Name the two points it was held between")
    typed = line.get("reads")
    typed = typed.get("reads") if isinstance(typed, dict) else typed
    read = read_text_length(typed, bare)
    if isinstance(read, Reading) and read.metres <= 0:
        yield Fault((*path, "reads"), f"{described(typed)} is not more than nothing", "Read it again, or take the line out")


def _place(path: Path, line: Raw) -> Iterator[Fault]:
    ways = {"corner": ("corner",), "side": ("side", "along"), "first": ("first", "first_reads", "second", "second_reads")}
    taken = [way for way in ways if way in line]
    if len(taken) != 1:
        what = "the drop has no place" if not taken else f"the drop has {len(taken)} places ({' and '.join(taken)})"
        yield Fault(
            path, what, "Give a corner, or a side and along (and inward), or two tapes: first, first_reads, second, second_reads"
        )
        return
    for key in ways[taken[0]]:
        if key not in line:
            yield Fault(
                (*path, key), f"“{key}” is missing beside {taken[0]}", f"Add {key}, or place the drop another way", absent=True
            )
    own = {*ways[taken[0]], "below", "extreme", *(["inward"] if taken == ["side"] else [])}
    for key in [k for k in ("along", "inward", "first_reads", "second", "second_reads") if k in line and k not in own]:
        yield Fault((*path, key), f"“{key}” says nothing beside {taken[0]}", "Take it out, or place the drop another way")


def _sizes(path: Path, flue: Raw) -> Iterator[Fault]:
    shape = flue.get("shape")
    wanted = {"rectangular": 2, "round": 1}.get(shape if isinstance(shape, str) else "")
    for key in ("outside", "inside"):
        sizes = flue.get(key)
        if wanted and isinstance(sizes, list) and sizes and len(sizes) != wanted:
            what = "two sizes, along a-b and along b-c" if wanted == 2 else "one size, the diameter"
            yield Fault((*path, key), f"{len(sizes)} size{'s' * (len(sizes) > 1)} for a {shape} flue", f"Write {what}")


def _twice(named: list[tuple[Path, Any]], kind: str) -> Iterator[Fault]:
    seen: set[str] = set()
    for path, name in named:
        if isinstance(name, str):
            if name in seen:
                yield Fault(path, f"two of them are called {described(name)}", f"Give every {kind} its own name")
            seen.add(name)


def _flue_points(top: Raw) -> Iterator[str]:
    for _, flue in _lines(top, "flues"):
        name = flue.get("name")
        if isinstance(name, str):
            yield from [name] if flue.get("shape") == "round" else [name + letter for letter in "abcd"]


def _table(value: Any) -> Raw:
    return value if isinstance(value, dict) else {}


def _lines(table: Raw, key: str) -> Iterator[tuple[int, Raw]]:
    value = table.get(key)
    for i, line in enumerate(value if isinstance(value, list) else []):
        if isinstance(line, dict):
            yield i, line
