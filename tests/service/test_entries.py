"""Entries from phones: sent twice they are harmless, typed by two on one thing both are kept, typed apart both hold."""

from __future__ import annotations

import json
from itertools import count
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from crownwright.quantity.problems import Problem
from crownwright.service.desk.begin_job import begin_from_text, begin_job
from crownwright.service.desk.merge import merge
from crownwright.service.desk.model import By, Change, Entry, Saved
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.desk.revisions_of import history, restore, undo
from crownwright.service.desk.save_entry import read_entry, save_entry
from crownwright.service.desk.settle_conflict import conflicts_of, settle_conflict
from crownwright.service.jobfile import write_values
from crownwright.service.jobfile.syntax import parse_toml

ANSEL, BERIT = By("Ansel", "phone-1"), By("Berit", "phone-2")
AB = "readings.tapes[start=A,end=B].reads"
IDS = count()


@pytest.fixture
def job(desk: Desk) -> str:
    begin_job(desk, ANSEL, "j1", "North stack", customer="M. Okafor")
    return "j1"


def send(desk: Desk, by: By, base: int, path: str, value: Any = None, *, remove: bool = False, name: str = "") -> Saved:
    saved = save_entry(desk, by, Entry(name or f"e{next(IDS)}", "j1", base, (Change(path, value, remove),)))
    assert isinstance(saved, Saved)
    return saved


def values(desk: Desk) -> dict[str, Any]:
    return parse_toml(plan_of(desk, "j1").text, "").values


def test_an_entry_sent_twice_is_there_once(desk: Desk, job: str) -> None:
    first = send(desk, ANSEL, 1, "readings.drops[+]", {"corner": "A", "below": "1"}, name="e")
    again = send(desk, ANSEL, 1, "readings.drops[+]", {"corner": "A", "below": "1"}, name="e")
    assert (first.revision, again.revision, again.again) == (2, 2, True)
    assert values(desk)["readings"]["drops"] == [{"corner": "A", "below": "1"}]


def test_readings_stay_exactly_as_typed(desk: Desk, job: str) -> None:
    for typed in ("53 1/2", "4' 5½\"", " 53.50 ", 'says "53"', "53 q/2"):
        send(desk, ANSEL, 99, AB, typed)
        assert values(desk)["readings"]["tapes"][0]["reads"] == typed


def test_a_job_file_keeps_its_numbers_as_typed_through_an_entry(desk: Desk) -> None:
    begin_from_text(desk, ANSEL, "j1", 'title = "x" # mine\nread_on = 2026-05-03\n[quick]\nlength = 53.50\nwidth = 40\n')
    send(desk, ANSEL, 1, "quick.masonry", "brick")
    assert "length = 53.50\n" in plan_of(desk, "j1").text
    assert "read_on = 2026-05-03\n" in plan_of(desk, "j1").text
    assert "# mine" in plan_of(desk, "j1", 1).text


def test_two_devices_on_one_reading_are_both_kept(desk: Desk, job: str) -> None:
    send(desk, ANSEL, 1, AB, "53 1/2")
    second = send(desk, BERIT, 1, AB, "52 1/2")
    assert [(c.path, json.loads(c.theirs), json.loads(c.mine)) for c in second.conflicts] == [(AB, "53 1/2", "52 1/2")]
    assert values(desk)["readings"]["tapes"][0]["reads"] == "53 1/2"
    kept = settle_conflict(desk, BERIT, conflicts_of(desk, job)[0].id, "mine")
    assert not isinstance(kept, Problem)
    assert values(desk)["readings"]["tapes"][0]["reads"] == "52 1/2"
    assert conflicts_of(desk, job) == ()
    assert settle_conflict(desk, ANSEL, second.conflicts[0].id, "theirs") == kept, "settled once, it stays so"


def test_two_devices_on_two_readings_meet_no_conflict(desk: Desk, job: str) -> None:
    send(desk, ANSEL, 1, AB, "53 1/2")
    second = send(desk, BERIT, 1, "readings.tapes[start=B,end=C].reads", "36")
    assert not second.conflicts
    assert [t["reads"] for t in values(desk)["readings"]["tapes"]] == ["53 1/2", "36"]


def test_one_device_that_puts_itself_right_meets_no_conflict(desk: Desk, job: str) -> None:
    """Both typed in a dead spot: the phone knows of no revision but the first."""
    send(desk, ANSEL, 1, AB, "53 1/2")
    send(desk, BERIT, 2, "customer", "O. Other")
    assert not send(desk, ANSEL, 1, AB, "53 3/4").conflicts
    assert values(desk)["readings"]["tapes"][0]["reads"] == "53 3/4"


def test_one_device_does_not_put_over_what_another_changed_in_between(desk: Desk, job: str) -> None:
    send(desk, ANSEL, 1, AB, "53 1/2")
    send(desk, BERIT, 2, AB, "52 1/2")
    assert send(desk, ANSEL, 1, AB, "53 3/4").conflicts


def test_what_the_sender_saw_decides_where_he_says_it(desk: Desk, job: str) -> None:
    send(desk, ANSEL, 1, AB, "53 1/2")
    saved = save_entry(desk, BERIT, Entry("w1", "j1", 1, (Change(AB, "53 3/4", was="53 1/2"),)))
    assert isinstance(saved, Saved)
    assert not saved.conflicts


def test_an_item_by_its_place_is_found_where_it_moved(desk: Desk, job: str) -> None:
    for corner in "ABC":
        send(desk, ANSEL, 99, "readings.drops[+]", {"corner": corner, "below": "1"})
    send(desk, ANSEL, 4, "readings.drops[0]", remove=True)
    assert not send(desk, BERIT, 4, "readings.drops[2].below", "2").conflicts
    assert values(desk)["readings"]["drops"] == [{"corner": "B", "below": "1"}, {"corner": "C", "below": "2"}]
    gone = send(desk, BERIT, 4, "readings.drops[0].below", "3")
    assert gone.conflicts[0].theirs == "null", "what was taken away by another is a conflict, not a crash"


def test_undo_goes_back_step_by_step_and_keeps_all(desk: Desk, job: str) -> None:
    texts = [plan_of(desk, job).text]
    for reading in ("53", "54", "55"):
        send(desk, ANSEL, 99, AB, reading)
        texts.append(plan_of(desk, job).text)
    for n, text in enumerate(reversed(texts[:-1])):
        row = undo(desk, ANSEL, job, 4 + n)
        assert row is not None
        assert plan_of(desk, job).text == text
    assert undo(desk, ANSEL, job, 7) is None
    restore(desk, ANSEL, job, 7, 4)
    assert plan_of(desk, job).text == texts[-1]
    assert [r.what for r in history(desk, job)][:2] == ["back to revision 4", "undone: tape AB: 53"]


@pytest.mark.parametrize(
    ("raw", "what"),
    [
        ({}, "no entry"),
        ({"id": "../x", "changes": [{"path": "a", "value": 1}]}, "no id"),
        ({"id": "e", "changes": []}, "1 to 200"),
        ({"id": "e", "changes": [{"path": "a", "value": "\ud800"}]}, "a sign that is none"),
        ({"id": "e", "changes": [{"path": "a", "value": None}]}, "neither text"),
        ({"id": "e", "changes": [{"path": "a", "value": float("nan")}]}, "no number"),
        ({"id": "e", "changes": [{"path": "notes", "value": "x" * 200_000}]}, "too long"),
    ],
)
def test_an_entry_that_is_none_is_told(desk: Desk, job: str, raw: Any, what: str) -> None:
    entry = read_entry(job, raw)
    problem = entry if isinstance(entry, Problem) else save_entry(desk, ANSEL, entry)
    assert isinstance(problem, Problem)
    assert what in problem.what
    assert len(history(desk, job)) == 1


def test_a_path_that_leads_nowhere_is_told_and_the_rest_kept(desk: Desk, job: str) -> None:
    changes = (
        Change("title.x", "1"),
        Change("readings[", "1"),
        Change("readings.drops[7].below", "1"),
        Change("place", "Mill Row"),
    )
    saved = save_entry(desk, ANSEL, Entry("e", "j1", 1, changes))
    assert isinstance(saved, Saved)
    assert len(saved.problems) == 3
    assert values(desk)["place"] == "Mill Row"


TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), max_size=12)
VALUE = st.recursive(
    st.one_of(TEXT, st.booleans(), st.integers(-(2**50), 2**50), st.floats(-1e9, 1e9)),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(TEXT, inner, max_size=3)),
    max_leaves=6,
)


@given(st.dictionaries(TEXT, VALUE, max_size=5))
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_values_written_read_back_the_same(typed: dict[str, Any]) -> None:
    back = parse_toml(write_values(typed), "")
    assert not back.problems
    assert back.values == typed


@given(st.lists(st.tuples(st.sampled_from("AB"), st.sampled_from(["AB", "BC", "CD"]), st.integers(1, 60)), max_size=12))
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_reading_of_two_phones_in_dead_spots_is_lost(tmp_path_factory: pytest.TempPathFactory, typed: list[Any]) -> None:
    """Whatever two phones type, all from the first revision: each reading stands in the job, in a revision, or in a conflict."""
    from crownwright.service.desk.open_desk import open_desk

    desk = open_desk(tmp_path_factory.mktemp("book") / "jobs.book")
    begin_job(desk, ANSEL, "j1", "North stack")
    for phone, side, inches in typed:
        by = ANSEL if phone == "A" else BERIT
        send(desk, by, 1, f"readings.tapes[start={side[0]},end={side[1]}].reads", str(inches))
    whole = "".join(plan_of(desk, "j1", r.number, cut_list=False).text for r in history(desk, "j1"))
    mine = [json.loads(c.mine) for c in conflicts_of(desk, "j1")]
    for _, _, inches in typed:
        assert f'reads = "{inches}"' in whole or str(inches) in mine
    desk.close()


LISTS = ["[0]", "[+]", "[start=A,end=B]", "[start=A#2]", "[7]"]
STEP = st.sampled_from(["readings", "tapes", "drops", "title", "cap", "x-y", "]", *LISTS])
ITEMS = {"title": "x", "readings": {"tapes": [{"start": "A", "end": "B", "reads": "53"}], "drops": []}}


@given(st.lists(st.tuples(st.lists(STEP, min_size=1, max_size=5), VALUE, st.booleans()), max_size=5), st.text(max_size=8))
@settings(max_examples=300, deadline=None)
def test_whatever_is_sent_is_done_or_told_and_never_half_of_a_value(sent: list[Any], other: str) -> None:
    changes = tuple(Change(".".join(steps).replace(".[", "["), value, gone) for steps, value, gone in sent)
    merged = merge(ITEMS, ITEMS, (*changes, Change(other, "1")), lambda _: True)
    assert not merged.clashes, "who changes alone meets nobody"
    assert len(merged.done) + len(merged.problems) <= len(changes) + 1
    assert not parse_toml(write_values(merged.values), "").problems
    assert ITEMS["title"] == "x", "what it was put on is left alone"
