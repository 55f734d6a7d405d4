"""The commands on what follows the pour: calendars that replace each other, the handover's files, finished jobs in a plan."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

import icalendar
import pytest
import vobject

from crownwright.cli.main import run
from crownwright.plan.model import Plan
from crownwright.quantity.problems import Problem
from crownwright.service import days_to_pour

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
JOB = str(EXAMPLES / "brick-one-flue.toml")
FIRM = 'name = "Marr; Sons"\nemail = "e@marr.example"\nphone = "555 0142"\nzone = "America/Chicago"\n'
DONE = """job,what,forecast,actual,spread
Weir Cottage,bags,12.1,13.3,0.04
Mill Row,bags,9.2,10.1,0.05
Kiln Lane,bags,15.0,16.6,0.04
Tithe Barn,bags,11.1,12.1,0.06
Old Forge,bags,13.4,134,0.05
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "firm.toml").write_text(FIRM, "utf-8")
    return tmp_path


def told(capsys: pytest.CaptureFixture[str], *argv: str, code: int = 0) -> dict[str, Any]:
    assert run([*argv, "--json"]) == code
    return json.loads(capsys.readouterr().out)


def states(file: str) -> dict[str, tuple[int, str, date]]:
    events = icalendar.Calendar.from_ical(Path(file).read_bytes()).walk("VEVENT")
    return {str(e["SUMMARY"]).partition(":")[0]: (int(e["SEQUENCE"]), str(e["STATUS"]), e.decoded("DTSTART")) for e in events}


def test_a_calendar_written_after_another_moves_its_entries(capsys: pytest.CaptureFixture[str]) -> None:
    def write(pour: str, into: str, *more: str, code: int = 0) -> dict[str, Any]:
        return told(capsys, "calendar", JOB, "--firm", "firm.toml", "--pour", pour, "--into", into, *more, code=code)

    write("2027-05-20T09:00", "one.ics")
    write("2027-05-22T09:00", "two.ics", "--sent", "one.ics")
    write("2027-05-22T09:00", "three.ics", "--sent", "two.ics")
    one, two = states("one.ics"), states("two.ics")
    assert (one["Pour"][0], two["Pour"][0]) == (0, 1)
    assert states("three.ics") == two
    Path("cut.ics").write_bytes(Path("two.ics").read_bytes().replace(b"UID:", b"UID:old-", 1))
    write("2027-05-22T09:00", "four.ics", "--sent", "cut.ics")
    gone = [e for e in vobject.readOne(Path("four.ics").read_text("utf-8")).vevent_list if e.status.value == "CANCELLED"]
    assert [e.uid.value.startswith("old-") for e in gone] == [True]
    assert int(gone[0].sequence.value) == 2
    said = write("2027-05-22T09:00", "five.ics", "--sent", "firm.toml", code=2)
    assert "no calendar" in said["problems"][0]["what"]
    write("2027-05-22T09:00", "five.ics", "--sent", "nowhere.ics", code=2)


def test_the_handover_comes_with_a_card_and_the_days_to_look_again(capsys: pytest.CaptureFixture[str]) -> None:
    told(capsys, "handover", JOB, "--firm", "firm.toml", "--pour", "2026-05-20T09:00", "--uncovered", "F1", "--by", "A. Marr",
         "--into", "out")  # fmt: skip
    days = vobject.readOne(Path("out/look-again.ics").read_text("utf-8")).vevent_list
    assert [e.dtstart.value.year for e in days] == [2028, 2030, 2032]
    assert all(e.valarm.trigger.value.days == -7 for e in days)
    assert vobject.readOne(Path("out/card.vcf").read_text("utf-8")).tel.value == "555 0142"
    assert Path("out/handover.pdf").read_bytes().startswith(b"%PDF")


def test_finished_jobs_move_the_bags_of_a_plan_and_are_shown(capsys: pytest.CaptureFixture[str]) -> None:
    Path("done.csv").write_text(DONE, "utf-8")
    job = str(EXAMPLES / "stone-two-flues.toml")

    def needed(*more: str) -> tuple[float, dict[str, Any]]:
        answer = told(capsys, "plan", job, "--no-files", *more)
        return next(f["value"] for f in answer["figures"] if f["key"] == "concrete.bags.needed"), answer

    usual, _ = needed()
    mine, answer = needed("--finished", "done.csv")
    (bags,) = answer["learned"]
    assert mine / usual == pytest.approx(bags["belief"]["own"]["mean"] + 1, abs=0.03)
    assert mine / usual > 1.05
    assert (bags["jobs"], len(bags["aside"])) == (4, 1)
    assert run(["plan", job, "--no-files", "--finished", "done.csv"]) == 0
    text = capsys.readouterr().out
    assert "before your jobs 1.000" in text
    assert "slip of the pen" in " ".join(text.split())
    Path("done.csv").write_text("job,what\n", "utf-8")
    assert "columns are missing" in told(capsys, "plan", job, "--finished", "done.csv", code=3)["problems"][0]["what"]


def test_days_take_a_file_of_local_rules(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """The plan that is followed through the weather is one under those rules."""
    followed: list[Plan] = []

    def follow(plan: Plan, *_: object) -> Problem:
        followed.append(plan)
        return Problem("days", "seen", "nothing to do")

    monkeypatch.setattr(days_to_pour, "days_to_pour", follow)
    ask = ("days", str(EXAMPLES / "stone-two-flues.toml"), "--weather", str(EXAMPLES / "weather" / "ten-days.toml"))
    told(capsys, *ask, "--zone", "America/New_York", "--rules", str(EXAMPLES / "rules" / "nether-combe.toml"), code=1)
    told(capsys, *ask, "--zone", "America/New_York", code=1)
    with_them, without = (plan.job.rules for plan in followed)
    assert len(with_them) > len(without)
    assert "there is no such file" in told(capsys, *ask, "--rules", "none.toml", code=3)["problems"][0]["what"]
