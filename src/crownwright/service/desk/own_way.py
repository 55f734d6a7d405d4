"""What own finished jobs taught, kept till it is learned again: hours of every price go by it, and a job takes its yield from it.

It is kept as the table of jobs it was learned from, so that anybody can read what it rests on.
"""

from __future__ import annotations

from crownwright.quantity.problems import Problem
from crownwright.service.desk.finished_jobs import lessons_of_book
from crownwright.service.desk.kept_lessons import kept_lessons
from crownwright.service.desk.model import By, Change, Entry, Saved
from crownwright.service.desk.open_desk import Desk
from crownwright.service.desk.pairing import new_id
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.desk.shelf import LESSONS, shelve
from crownwright.service.learn_from_jobs import Lessons, by_own_jobs, table_of


def learn_and_keep(desk: Desk) -> Lessons:
    """Learn from the finished jobs of the book, and keep it: prices made from now on take their hours from it."""
    found = lessons_of_book(desk)
    shelve(desk, LESSONS, "finished-jobs.csv", table_of(found).encode())
    return found


def take_own_yield(desk: Desk, by: By, job: str) -> Saved | Problem:
    """Write into a job what a bag gives by own finished jobs, and how far that wanders; its plan counts bags by it from then on.

    It is a change like any other: it stands in the job's history and can be undone.
    """
    kept = kept_lessons(desk)
    bags = kept.of("bags") if kept is not None else None
    if kept is None or bags is None or not bags.jobs:
        return Problem("own yield", "no finished job says yet how many bags it took", "Write it into finished jobs, then learn")
    of = plan_of(desk, job, cut_list=False)
    if of.opened.job is None:
        return of.opened.problems[0]
    mine = by_own_jobs(of.opened.job, kept, again=True).concrete
    changes = (
        Change("concrete.own_yield", round(mine.own_yield, 4)),
        Change("concrete.yield_sd", f"{mine.yield_sd * 100:.2f} %"),
    )
    return save_entry(desk, by, Entry(new_id(), job, of.revision.number, changes))
