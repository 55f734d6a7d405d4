"""The readings of a top while they are being typed: half entered, wrong, or all there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from crownwright.service.desk.merge import merge
from crownwright.service.jobfile import parse_job, write_values
from crownwright.service.jobfile.syntax import parse_toml
from crownwright.service.open_job import open_demo
from crownwright.service.up_top import Step, UpTop, change_for, up_top
from crownwright.survey.adjust import adjust

EMPTY = 'title = "x"\n[readings]\ncorners = ["A", "B", "C", "D"]\nmasonry = "rubble stone"\n'


def demo() -> str:
    return open_demo().text


def typed(text: str, step: Step, **values: str) -> str:
    """The text after a value was typed at a step."""
    values_before = parse_toml(text, "").values
    merged = merge(values_before, values_before, (change_for(step, values),), lambda _: False)
    assert not merged.problems
    assert not merged.clashes
    return write_values(merged.values)


def step(top: UpTop, key: str) -> Step:
    found = top.step(key)
    assert found is not None, key
    return found


def test_an_empty_job_asks_for_the_sides_first_and_draws_a_likely_top() -> None:
    top = up_top(EMPTY)
    assert (top.next, top.closes, top.says) == ("tape:A-B", None, ())
    assert [s.name for s in top.steps[:6]] == ["AB", "BC", "CD", "DA", "AC", "BD"]
    assert top.sketch is not None
    assert not top.sketch.measured
    assert set(top.sketch.points) == set("ABCD")


def test_the_whole_visit_can_be_taken_by_following_what_is_asked() -> None:
    """Every answer goes where the job file has it: at the end the job is read without a fault and closes as the demo does."""
    readings = open_demo().job.readings  # type: ignore[union-attr]
    tapes = {frozenset((t.start, t.end)): t.reads.typed for t in readings.tapes}  # type: ignore[union-attr]
    text = EMPTY
    for flue in readings.flues:
        add = step(up_top(text), "flue:+rectangular")
        one, other = (size.typed for size in flue.outside)
        text = typed(text, add, **{"outside.0": one, "outside.1": other, "above_string": flue.above_string.typed})
    asked = 0
    while (top := up_top(text)).next and asked < 80:
        now = step(top, top.next)
        asked += 1
        if now.kind == "tape":
            text = typed(text, now, reads=tapes.get(frozenset((now.start, now.end)), "40"))
        elif now.kind == "around":
            text = typed(text, now, **{now.asks[0].key: "8 in 12" if now.asks[0].options else "3 ft"})
        else:
            answers = {"side": "AB", "along": "20", "inward": "12", "out": "1/2", "below": "2"}
            text = typed(text, now, **{ask.key: answers[ask.key] for ask in now.asks})
    assert not top.next
    assert top.closes is True
    job, problems = parse_job(text)
    assert problems == ()
    assert job is not None
    kept = {frozenset((t.start, t.end)): t.reads.typed for t in job.readings.tapes}  # type: ignore[union-attr]
    assert {pair: kept[pair] for pair in tapes} == tapes
    assert adjust(job.readings)[0] is not None


def test_what_the_tapes_say_is_what_the_survey_says() -> None:
    top, survey = up_top(demo()), adjust(open_demo().job.readings)[0]  # type: ignore[union-attr]
    assert survey is not None
    assert top.closes is survey.closure.closes
    assert top.sketch is not None
    for name, corner in zip(survey.names, survey.corners, strict=True):
        assert top.sketch.points[name] == pytest.approx(tuple(corner), abs=1e-9)


def test_a_slip_is_told_at_its_reading_and_asked_for_first() -> None:
    """A tape of the demo misread by a foot: no survey can miss it."""
    top_text = demo().replace('reads = "57 1/4"', 'reads = "69 1/4"')
    top = up_top(top_text)
    assert top.closes is False
    assert "69 1/4" in step(top, "tape:A-C").suspect
    assert top.next == "tape:A-C"
    assert step(top, top.next).ask == "Read AC again"
    assert up_top(typed(top_text, step(top, "tape:A-C"), reads="57 1/4")).closes is True


def test_ties_that_are_not_taken_yet_leave_the_corners_closing() -> None:
    lines = [line for line in demo().splitlines() if not ('end = "F2' in line or 'end = "F1d"' in line)]
    top = up_top("\n".join(lines))
    assert top.closes is True
    assert top.next == "tape:D-F1d"
    assert not any("ties" in problem.what for problem in top.problems)
    assert top.sketch is not None
    assert set(top.sketch.flues) == {"F1", "F2"}


def test_a_line_with_a_fault_is_told_and_the_others_are_used() -> None:
    text = demo().replace('"57 1/4"', '"57 x"').replace('end = "F1d"', 'end = "F1z"')
    top = up_top(text)
    assert step(top, "tape:A-C").problems[0].what.startswith("“57 x”")
    assert "F1z" in step(top, "tape:D-F1z").problems[0].what
    assert top.closes is True


def test_one_more_of_the_same_tape_is_a_second_reading() -> None:
    """Six tapes leave one degree of freedom: a slip shows, but which it is takes another reading of the same."""
    lines = [line for line in demo().splitlines() if 'end = "F' not in line and 'name = "F' not in line]
    text = "\n".join(lines).replace('reads = "57 1/4"', 'reads = "58 1/4"')
    again = next(s for s in up_top(text).steps if s.wanted and "#2" in s.key)
    tapes = parse_toml(typed(text, again, reads="57 1/4"), "").values["readings"]["tapes"]
    same = [tape for tape in tapes if {tape["start"], tape["end"]} == {again.start, again.end}]
    assert len(same) == 2
    assert same[-1]["reads"] == "57 1/4"


def test_correcting_one_value_leaves_the_rest_of_its_line_alone() -> None:
    text = demo().replace('{ corner = "A", below = "3 1/4" }', '{ corner = "A", below = { reads = "3 1/4", sd = "1/8" } }')
    highest = step(up_top(text), "drop:highest")
    after = parse_toml(typed(text, highest, below="1 1/2"), "").values["readings"]["drops"]
    before = parse_toml(text, "").values["readings"]["drops"]
    assert after[0] == before[0] | {"below": "1 1/2"}
    assert after[1:] == before[1:]


def test_a_change_is_refused_over_what_another_has_typed() -> None:
    now = step(up_top(demo()), "tape:A-B")
    stale = replace(change_for(now, {"reads": "46"}, saw={"start": "A", "end": "B", "reads": "99"}))
    values = parse_toml(demo(), "").values
    assert merge(values, values, (stale,), lambda _: False).clashes


@pytest.mark.parametrize(
    "text", ["", "x =", "title = 3", '[quick]\nlength = "4 ft"', "[readings]\ntapes = 7\ncorners = 3\nflues = [1]"]
)
def test_anything_at_all_is_answered(text: str) -> None:
    assert isinstance(up_top(text), UpTop)


def test_a_metric_job_without_a_unit_for_bare_numbers_is_typed_with_units() -> None:
    assert up_top(EMPTY.replace('title = "x"', 'title = "x"\nunits = "metric"')).units == "metric"


def test_many_corners() -> None:
    top = up_top(EMPTY.replace('"D"]', '"D", "E"]'))
    assert [s.name for s in top.steps[:10]] == ["AB", "BC", "CD", "DE", "EA", "AC", "AD", "BD", "BE", "CE"]
