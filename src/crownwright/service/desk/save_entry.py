"""Save an entry: changes to a job that belong together, typed on a phone a moment or a day ago."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from typing import Any

from sqlalchemy import Connection

from crownwright.book import conflicts, jobs, revisions
from crownwright.book.conflicts import Conflict
from crownwright.quantity.problems import Problem
from crownwright.service.desk.begin_job import text_trouble
from crownwright.service.desk.heading import heading_from
from crownwright.service.desk.merge import Merged, follow_moved, merge, same
from crownwright.service.desk.model import UNKNOWN, By, Change, Entry, Saved
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.paths import NOTHING, Part, follow, value_at
from crownwright.service.desk.signs import as_text, wrong_value
from crownwright.service.desk.words import in_words
from crownwright.service.jobfile import write_values
from crownwright.service.jobfile.syntax import parse_toml

MOST_CHANGES = 200
BIGGEST = 100_000  # signs of one entry as JSON
_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9-]{0,35}")


def save_entry(desk: Desk, by: By, entry: Entry) -> Saved | Problem:
    """Save an entry as a new revision and return how the job stands. What was acknowledged is on the disk.

    The same entry again changes nothing. A change to what another device changed since is not put over it: both sides are kept
    as a conflict. KeyError when there is no such job; a problem when the entry itself cannot be kept.
    """
    trouble = _trouble(entry)
    if trouble:
        return trouble
    with desk.book.writing() as c:
        row = jobs.hold(c, entry.job)
        seen = revisions.entry_seen(c, entry.id)
        if seen is not None:
            if revisions.job_of_entry(c, entry.id) != entry.job:
                return Problem("entry", "an entry of that id was for another job", "Send it under an id of its own")
            return Saved(row, row.head, again=True, conflicts=conflicts.from_entry(c, entry.id))
        head = revisions.numbered(c, entry.job, row.head)
        base = _base(c, entry, row.head)
        values = parse_toml(head.text, "job.toml")
        if values.problems:
            return Problem("job", "the job's text has lines that cannot be read", "Put them right in the job file first")
        seen_values = values.values if base == row.head else parse_toml(revisions.numbered(c, entry.job, base).text, "").values
        own = _own(c, entry.job, base, row.head, by.device)
        merged = merge(values.values, seen_values, _with_unit_kept(entry.changes, values.values), own)
        return _keep(c, desk, by, entry, head, merged)


def _keep(c: Connection, desk: Desk, by: By, entry: Entry, head: revisions.Revision, merged: Merged) -> Saved | Problem:
    stamp = desk.stamp(by)
    number = head.number
    if merged.done:
        text = write_values(merged.values)
        trouble = text_trouble(text)
        if trouble:
            return trouble
        revisions.add(c, entry.job, number, text, heading_from(merged.values), stamp, in_words(merged.done))
        number += 1
    revisions.note_entry(c, entry.id, entry.job, number, _as_sent(entry), stamp)
    met = tuple(
        Conflict(f"{entry.id}.{k}", entry.job, clash.path, _json(clash.theirs), _json(clash.mine), stamp.device, stamp.at)
        for k, clash in enumerate(merged.clashes)
    )
    for conflict in met:
        conflicts.keep(c, conflict)
    return Saved(jobs.need(c, entry.job), number, conflicts=met, problems=merged.problems)


def _with_unit_kept(changes: tuple[Change, ...], values: dict[str, Any]) -> tuple[Change, ...]:
    """The changes; where a job with readings in bare inches becomes metric, with the word that its bare numbers are inches."""
    to_metric = any(change.path == "units" and change.value == "metric" for change in changes)
    told = "bare_numbers" in values or any(change.path == "bare_numbers" for change in changes)
    if not to_metric or told or values.get("units", "us") != "us" or not values.get("readings"):
        return changes
    return (*changes, Change("bare_numbers", "in"))


def _base(c: Connection, entry: Entry, head: int) -> int:
    return entry.base if 1 <= entry.base <= head else head


def _own(c: Connection, job: str, base: int, head: int, device: str) -> Callable[[tuple[Part, ...]], bool]:
    """Whether a place was last changed, since ``base``, from this same device."""

    chain: list[tuple[str, dict[str, Any]]] = []  # read only where a change seems to meet another, and then once

    def own(path: tuple[Part, ...]) -> bool:
        if head == base:
            return True
        if not chain:
            chain.extend((r.device, parse_toml(r.text, "").values) for r in revisions.texts(c, job, base - 1) if r.number <= head)
        first = chain[0][1]
        before = follow(first, path)
        at = [value_at(values, follow_moved(first, values, path, before)) for _, values in chain]
        changed = [k for k in range(1, len(at)) if not same(at[k], at[k - 1])]
        return bool(changed) and all(chain[k][0] == device for k in changed)

    return own


def _trouble(entry: Entry) -> Problem | None:
    if not _ID.fullmatch(entry.id):
        return Problem("entry", "that is no id for an entry", "Make one of letters, figures and dashes, at most 36")
    if not 0 < len(entry.changes) <= MOST_CHANGES:
        return Problem("entry", f"an entry holds 1 to {MOST_CHANGES} changes", "Send them one after another")
    for change in entry.changes:
        wrong = _wrong_change(change)
        if wrong:
            return Problem(as_text(change.path, 60), wrong, "Type it again in plain words or figures")
    if len(_as_sent(entry)) > BIGGEST:
        return Problem("entry", "the entry is too long to be typed by hand", "Send it in parts")
    return None


def _wrong_change(change: Change) -> str | None:
    told = [change.path, *([] if change.remove else [change.value])]
    saw = [] if change.was is UNKNOWN or change.was is None else [change.was]
    return next((wrong for value in (*told, *saw) if (wrong := wrong_value(value))), None)


def _as_sent(entry: Entry) -> str:
    rows = [
        {"path": c.path, **({"remove": True} if c.remove else {"value": c.value}), **({} if c.was is UNKNOWN else {"was": c.was})}
        for c in entry.changes
    ]
    return json.dumps(
        {"base": entry.base, "typed_at": as_text(entry.typed_at, 40), "changes": rows}, ensure_ascii=False, default=str
    )


def _json(value: Any) -> str:
    return json.dumps(None if value is NOTHING else value, ensure_ascii=False, default=str)


def read_entry(job: str, raw: Any) -> Entry | Problem:
    """Read an entry from what a phone sent: {"id", "base", "typed_at", "changes": [{"path", "value" | "remove", "was"}]}."""
    changes = raw.get("changes") if isinstance(raw, dict) else None
    if not isinstance(changes, list) or not all(isinstance(c, dict) and isinstance(c.get("path"), str) for c in changes):
        return Problem("entry", "that is no entry", 'Send {"id": ..., "base": ..., "changes": [{"path": ..., "value": ...}]}')
    base = raw.get("base", 0)
    made = tuple(Change(c["path"], c.get("value"), c.get("remove") is True, c.get("was", UNKNOWN)) for c in changes)
    return Entry(as_text(raw.get("id"), 100), job, base if type(base) is int else 0, made, as_text(raw.get("typed_at"), 40))
