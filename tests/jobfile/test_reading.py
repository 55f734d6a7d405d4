"""A job file read: every fault at once, with its line; never a traceback."""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crownwright.plan.job import Job
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import INCH
from crownwright.service.jobfile import parse_job, read_job
from crownwright.survey.readings import Length, QuickReadings, Readings

GOOD = """
title = "Barn"
[readings]
corners = ["A", "B", "C", "D"]
masonry = "rubble stone"
tapes = [
  { start = "A", end = "B", reads = '51 1/2"' },
  { start = "A", end = "F1a", reads = 12.50 },
  { start = "A", end = "F1a", reads = { reads = "12 1/2", sd = "1/4" } },
]
drops = [{ corner = "A", below = "1 1/2" }]
[[readings.flues]]
name = "F1"
shape = "rectangular"
outside = ["13", "13"]
above_string = "8"
"""

THIRTY = """
titel = "Barn"
units = "imperial"
code_set = "our-own"
latitude = 44
read_on = 5
[readings]
corners = ["A", "B", "C", "D", "D"]
masonry = "granite"
tapes = [
  { start = "A", end = "Z", reads = "51 1/2" },
  { start = "B", end = "B", reads = "37 3/4" },
  { start = "C", end = "D", reads = "4 3 1/2" },
  { start = "D", end = "A", reads = "37 3/7" },
  { start = "A", end = "C", reads = "-60" },
  { start = "B", end = "D", reads = nan },
  { start = "A", end = "F1a" },
  { start = "A", end = "F1a", read = "12", reads = "12" },
  { start = "A", end = "F1a", reads = { reads = "12", sd = 0 } },
  "A to B 51 1/2",
]
offsets = [
  { side = "BA", along = "12", out = "+1/2" },
  { side = "AB", along = "twelve ells", out = "+1/2" },
  { side = "AB", along = "12", out = "1/2", proudest = "yes" },
]
drops = [
  { below = "2" },
  { corner = "A", side = "AB", along = "3", below = "2" },
  { side = "AB", below = "2" },
  { corner = "A", below = "2", extreme = "higest" },
]
[[readings.flues]]
name = "F1"
shape = "oval"
outside = ["13", "13"]
above_string = "8 heavy"
[cap]
overhang_least = "-3"
slope_least = "steep"
density = "145"
[form]
straps = 0
solve_seconds = "long"
stock = [{ section = "2x4", length = "8 ft", price = "$8" }]
[concrete]
risk = "300 %"
[overrides]
overhang = "3 q"
sloop = 3
"""


def test_a_good_file_gives_the_job_with_what_was_typed() -> None:
    job, problems = parse_job(GOOD)
    assert problems == ()
    assert job is not None
    assert isinstance(job.readings, Readings)
    assert [t.reads for t in job.readings.tapes] == [
        Length(51.5 * INCH, '51 1/2"'),
        Length(12.5 * INCH, "12.50"),
        Length(12.5 * INCH, "12 1/2", INCH / 4),
    ]


def test_many_different_faults_are_all_told_at_once_each_with_its_line() -> None:
    job, problems = parse_job(THIRTY)
    assert job is None
    lines = THIRTY.split("\n")
    for problem in problems:
        assert problem.where.startswith("line ") or problem.where == "title", problem
        assert problem.what
        assert problem.remedy
    expected = {  # text of the faulty line -> what must be said of it; title is missing, and has no line
        "titel": "no key “titel”",
        "units": "not one of 'us' or 'metric'",
        "code_set": "no set of rules",
        "latitude": "no key “latitude”",
        "read_on": "not a date",
        '"D", "D"': "two of them are called “D”",
        "granite": "not one of",
        '"Z"': "no point is called “Z”",
        '"B", end = "B"': "to itself",
        "4 3 1/2": "may be feet and inches",
        "37 3/7": "not a fraction of a tape",
        "-60": "not more than nothing",
        "nan": "not a length",
        'end = "F1a" }': "“reads” is missing",
        'read = "12"': "no key “read”",
        "sd = 0": "not more than nothing",
        "A to B": "not a table",
        '"BA"': "It is AB the other way round",
        "twelve ells": "“ells” is not a number",
        '"yes"': "neither true nor false",
        '{ below = "2" }': "has no place",
        'corner = "A", side': "2 places",
        'side = "AB", below': "“along” is missing",
        "higest": "not one of",
        "oval": "not one of",
        "8 heavy": "does not say how much",
        "overhang_least": "less than nothing",
        "steep": "does not begin with a number",
        "density": "no unit",
        "straps": "less than 1",
        '"long"': "not a number",
        '"$8"': "not a price",
        "300 %": "not a share",
        "3 q": "“q” is not a number",
        "sloop": "no rule is called “sloop”",
    }
    assert len(expected) >= 30
    for text, says in expected.items():
        number = next(n for n, line in enumerate(lines, 1) if text in line)
        told = [p for p in problems if p.where.startswith(f"line {number},")]
        assert any(says in p.what + p.remedy for p in told), (text, told)
    assert any(p.where == "title" and "missing" in p.what for p in problems)
    assert len(problems) == len(expected) + 1


def test_lines_that_are_no_toml_do_not_hide_the_other_faults() -> None:
    text = 'title = "x"\ncustomer = "4 in" wide"\nunits = "imperial"\nplace = 51 1/2\n[quick]\nmasonry = "brik"\n'
    where = [p.where for p in parse_job(text)[1]]
    assert where == ["line 2", "line 4", "line 3, units", "line 6, quick.masonry"]
    assert "single quotes" in parse_job(text)[1][0].remedy
    assert "Put quotes round" in parse_job(text)[1][1].remedy


def test_a_metric_job_must_say_what_a_bare_number_is() -> None:
    text = 'title = "x"\nunits = "metric"\n%s\n[quick]\nlength = "1310"\nwidth = 940\nmasonry = "brick"\n'
    _, problems = parse_job(text % "")
    assert [p.where for p in problems] == ["line 5, quick.length", "line 6, quick.width"]
    assert "bare_numbers" in problems[0].remedy
    job, _ = parse_job(text % 'bare_numbers = "mm"')
    assert job is not None
    assert isinstance(job.readings, QuickReadings)
    assert (job.readings.length.metres, job.readings.width.metres) == (1.31, 0.94)


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "empty"),
        (b"  \n\n", "empty"),
        (b'title = "caf\xe9"', "not UTF-8"),
        ("title = 'x'".encode("utf-16"), "not UTF-8"),
        (b"x" * 5_000_000, "MB big"),
        (b"\x00\x01", "cannot be read"),
        (b"x = " + b"[" * 100_000, "cannot be read"),
        (b"x = " + b"9" * 10_000, "cannot be read"),
        (b"x = {", "cannot be read"),
    ],
)
def test_files_that_are_no_job_files(tmp_path: Path, data: bytes, says: str) -> None:
    file = tmp_path / "job.toml"
    file.write_bytes(data)
    job, problems = read_job(file)
    assert job is None
    assert says in problems[0].what
    assert problems[0].remedy


def test_a_folder_and_a_missing_file(tmp_path: Path) -> None:
    assert "folder" in read_job(tmp_path)[1][0].what
    assert "no such file" in read_job(tmp_path / "none.toml")[1][0].what
    assert read_job(tmp_path / "a\x00b")[0] is None


def test_a_byte_order_mark_and_windows_line_ends_are_read(tmp_path: Path) -> None:
    file = tmp_path / "job.toml"
    file.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    assert read_job(file)[1] == ()


def outcome_is_one_or_the_other(found: tuple[Job | None, tuple[Problem, ...]]) -> None:
    job, problems = found
    assert (job is None) == bool(problems)
    assert all(p.where and p.what and p.remedy for p in problems)


@given(st.text(max_size=300))
def test_no_text_raises(text: str) -> None:
    outcome_is_one_or_the_other(parse_job(text))


@given(st.binary(max_size=200))
def test_no_bytes_raise(data: bytes) -> None:
    outcome_is_one_or_the_other(parse_job(data.decode("latin-1")))


VALUES = st.recursive(
    st.sampled_from(
        ['"51 1/2"', "51.5", "-3", "true", "nan", "inf", "2026-01-02", '""', '"A"', '"F1a"', "'x\"'", "1e400", "[]", "{}"]
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda parts: "[" + ", ".join(parts) + "]"),
        st.dictionaries(st.sampled_from(["reads", "sd", "by", "corner", "below", "start"]), inner, max_size=3).map(
            lambda parts: "{" + ", ".join(f"{k} = {v}" for k, v in parts.items()) + "}"
        ),
    ),
    max_leaves=6,
)


@given(st.integers(0, GOOD.count("\n")), VALUES, st.sampled_from(["title", "corners", "tapes", "drops", "outside", "units", "x"]))
def test_any_value_in_any_place_is_a_job_or_problems(line: int, value: str, key: str) -> None:
    lines = GOOD.split("\n")
    lines[line] = f"{key} = {value}"
    outcome_is_one_or_the_other(parse_job("\n".join(lines)))


@given(st.integers(0, len(GOOD)), st.integers(0, 12), st.text(max_size=4))
def test_any_damage_to_a_good_file_is_a_job_or_problems(at: int, cut: int, put: str) -> None:
    outcome_is_one_or_the_other(parse_job(GOOD[:at] + put + GOOD[at + cut :]))


def test_work_grows_with_the_readings_not_faster() -> None:
    """Calls are counted, so that no clock matters: eight times the readings in no more than nine times the calls. No text is
    read twice, since what was read is remembered.
    """

    def calls(count: int, bad: str = "") -> int:
        rows = "".join(f'  {{ start = "A", end = "B", reads = "51.{count + k:04d}" }},\n' for k in range(count))
        text = GOOD.replace("tapes = [\n", "tapes = [\n" + rows + bad)
        made = Counter[str]()
        sys.setprofile(lambda _frame, event, _arg: made.update([event]))
        try:
            outcome_is_one_or_the_other(parse_job(text))
        finally:
            sys.setprofile(None)
        return made["call"] + made["c_call"]

    fault = '  { start = "A", end = "B", reads = "4 3 1/2" },\n'
    for bad in ("", fault):
        calls(1, bad)  # what is loaded at the first reading is no work of the second
        assert calls(320, bad) < 9 * calls(40, bad)


@pytest.mark.parametrize(
    ("table", "key", "says"),
    [
        ("checks", "wood", "SPF No.1/No.2"),
        ("checks", "stack_material", "rubble granite"),
        ("checks.people", "ladder_grade", "IAA, IA, I, II, III"),
        ("concrete", "bag", "80 lb"),
        ("cap", "edge_board", "2x6"),
    ],
)
def test_a_name_that_no_table_has(table: str, key: str, says: str) -> None:
    text = f'title = "x"\n[quick]\nlength = "40"\nwidth = "30"\nmasonry = "brick"\n[{table}]\n{key} = "oak"\n'
    job, problems = parse_job(text)
    assert job is None
    assert [p.where for p in problems] == [f"line 7, {table}.{key}"]
    assert says in problems[0].remedy


def test_an_old_cap_of_a_list_and_a_strap_that_nobody_pulls() -> None:
    text = 'title = "x"\n[quick]\nlength = "40"\nwidth = "30"\nmasonry = "brick"\n'
    text += '[quote]\nold_cap = { thickness = "2", material = ["mortar"] }\n[checks]\nstrap = { pull = "0 lbf" }\n'
    job, problems = parse_job(text)
    assert job is None
    assert [p.where for p in problems] == ["line 7, quote.old_cap.material", "line 9, checks.strap.pull"]


def test_two_flues_of_one_name_seen_from_the_doorstep_are_told_at_their_own_line() -> None:
    flue = '  { name = "F1", shape = "round", outside = ["8"], above_stone = "9" },\n'
    text = f'title = "x"\n[quick]\nlength = "40"\nwidth = "30"\nmasonry = "brick"\nflues = [\n{flue}{flue}]\n'
    assert [p.where for p in parse_job(text)[1]] == ["line 8, quick.flues[2].name"]


def test_more_readings_than_anybody_takes_are_told_and_not_worked() -> None:
    tape = '  { start = "A", end = "B", reads = "16" },\n'
    text = f'title = "x"\n[readings]\ncorners = ["A", "B", "C", "D"]\nmasonry = "brick"\ntapes = [\n{tape * 401}]\n'
    job, problems = parse_job(text)
    assert job is None
    assert [(p.where, p.remedy) for p in problems] == [("line 5, readings.tapes", "Take out what is too much")]
    assert "400" in problems[0].what
