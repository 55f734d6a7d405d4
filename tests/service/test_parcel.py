"""What goes from one process to another comes out as it went in."""

from __future__ import annotations

import pickle
from dataclasses import dataclass, field, fields, is_dataclass
from functools import cached_property

import numpy as np
import pytest

from crownwright.quantity.findings import Verdict
from crownwright.service.desk.parcel import packed, unpacked
from crownwright.service.desk.planner import plan_text
from crownwright.service.open_job import open_demo


@dataclass(frozen=True, slots=True)
class Above:
    name: str
    shared: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Under(Above):
    verdict: Verdict = Verdict.OK
    made: int = field(init=False, default=7)

    def __post_init__(self):
        if self.name == "never again":  # what went in once is not judged anew
            object.__setattr__(self, "name", "passed")


@dataclass(frozen=True)
class Keeps:
    n: int

    @cached_property
    def twice(self):
        return 2 * self.n


@dataclass(slots=True)
class Open:
    n: int


def same(one, other):
    """Values, kinds and the bits of arrays, all the way down."""
    if type(one) is not type(other):
        return False
    if isinstance(one, np.ndarray):
        return one.dtype == other.dtype and one.tobytes() == other.tobytes()
    if is_dataclass(one):
        return all(same(getattr(one, f.name), getattr(other, f.name)) for f in fields(one))
    if isinstance(one, tuple | list):
        return len(one) == len(other) and all(map(same, one, other))
    return bool(one == other)


def test_a_whole_plan_comes_out_as_it_went_in():
    answer = plan_text(open_demo().text, False)
    assert same(unpacked(packed(answer)), answer)


def test_what_is_shared_is_shared_still():
    floats = (1.0, 2.0)
    one, other = unpacked(packed((Above("a", floats), Above("b", floats))))
    assert one.shared is other.shared


def test_fields_of_the_kind_above_and_those_that_nobody_gives_go_too():
    sent = Under("never again", (0.5,), Verdict.SHORT)
    there = unpacked(packed(sent))
    assert there == sent
    assert (there.made, there.name, there.verdict) == (7, "passed", Verdict.SHORT)


@pytest.mark.parametrize("sent", [Keeps(3), Open(4), Above("a"), None, {"a": (Above("b"),)}, Verdict.OK], ids=repr)
def test_other_kinds_go_as_ever(sent):
    assert unpacked(packed(sent)) == sent == pickle.loads(packed(sent))


def test_what_was_worked_out_of_a_thing_goes_with_it():
    sent = Keeps(3)
    assert sent.twice == 6
    assert "twice" in vars(unpacked(packed(sent)))
