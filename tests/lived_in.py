"""A book as it is after some days of work, so that every page has something of everything to show."""

from __future__ import annotations

import io
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

from crownwright.quantity.problems import Problem
from crownwright.service.desk.add_photo import add_photo, describe_photo
from crownwright.service.desk.begin_job import begin_from_text, begin_job
from crownwright.service.desk.days_of import keep_forecast
from crownwright.service.desk.issue_paper import issue_paper
from crownwright.service.desk.keep_work import set_state, set_visit, take_out
from crownwright.service.desk.model import By, Change, Entry, Saved
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.pair_device import Paired, begin_pairing, pair_device
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.open_job import open_demo

OWNER = By("E. Marr")
FORECAST = Path(__file__).parents[1] / "examples" / "weather" / "ten-days.toml"


@dataclass(frozen=True, slots=True)
class LivedIn:
    """Ids of what is in the book: jobs: whole, just begun, from the doorstep, taken out; a photo, a paper, a phone."""

    job: str
    begun: str
    doorstep: str
    out: str
    photo: str
    paper: str
    phone: str
    token: str
    revisions: int


def live_in(desk: Desk, at: str = "sample") -> LivedIn:
    """Work with an empty book for some days; ``at`` is the id of the whole job."""
    begin_from_text(desk, OWNER, at, open_demo().text)
    phones = [_paired(desk, name) for name in ("Ansel's phone", "Berit's phone")]
    ansel, berit = (By(one.device.name, one.device.id) for one in phones)
    tape = "readings.tapes[start=A,end=B].reads"
    for k, (by, base, changes) in enumerate(
        (
            (ansel, 1, (Change(tape, "45 5/8"),)),
            (berit, 1, (Change(tape, "45 7/8"),)),  # both typed one reading: a conflict
            (berit, 2, (Change("notes", "Gate on the left; dog. <b>Not bold</b> & as typed"),)),
            (OWNER, 3, (Change("cap.overhang_wanted", "4 1/4"),)),
        )
    ):
        saved = save_entry(desk, by, Entry(f"lived-{k}", at, base, changes))
        assert isinstance(saved, Saved)
        assert not saved.problems
    begin_job(desk, ansel, "begun", "Mill Row, north stack", customer="O. Quist", place="3 Mill Row")
    begin_job(desk, berit, "doorstep", "Étang Close", kind="doorstep", units="metric")
    begin_job(desk, berit, "out", "Asked twice, never again")
    take_out(desk, "out")
    forecast = FORECAST.read_bytes()
    assert not keep_forecast(desk, at, FORECAST.name, forecast)
    set_state(desk, at, "quoted", OWNER)
    set_visit(desk, at, "2026-05-13T08:30", OWNER)
    photo = add_photo(desk, at, a_photo(), "north side.jpg", "loose stone under the flue")
    assert not isinstance(photo, Problem)
    describe_photo(desk, photo.id, "loose stone under the flue", (0.4, 0.3))
    paper = issue_paper(desk, OWNER, at, "summary", issue="paper-1")
    assert not isinstance(paper, Problem)
    return LivedIn(at, "begun", "doorstep", "out", photo.id, paper.id, ansel.device, phones[0].token, saved.revision)


def a_photo() -> bytes:
    """A picture like one from a phone: grey sky, brown stack, tags that want a quarter turn."""
    picture = Image.new("RGB", (800, 600), "#9db4c0")
    picture.paste("#7a5c48", (200, 200, 600, 600))
    exif = Image.Exif()
    exif[0x0112] = 6
    out = io.BytesIO()
    picture.save(out, "JPEG", exif=exif)
    return out.getvalue()


def _paired(desk: Desk, name: str) -> Paired:
    paired = pair_device(desk, begin_pairing(desk).code, name)
    assert isinstance(paired, Paired)
    return paired
