"""What more drops save."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from crownwright.cap.model import CapDesign
from crownwright.concrete.choices import ConcreteChoices
from crownwright.concrete.count import bags_for, pour_need
from crownwright.concrete.pour import pour_for
from crownwright.concrete.savings import Saving, reading_savings, sd_with_drops
from crownwright.quantity.uncertain import Uncertain

NEED = pour_need(Uncertain(0.175, 0.0175), 0.017)


def shrinking(more: int) -> float:
    return 0.0175 * (6 / (6 + more)) ** 0.5


def test_each_saving_is_what_the_count_says_and_one_drop_less_does_not_do_it() -> None:
    for saving in reading_savings(NEED, shrinking):
        at = replace(NEED, volume=Uncertain(0.175, shrinking(saving.more)))
        before = replace(NEED, volume=Uncertain(0.175, shrinking(saving.more - 1)))
        assert bags_for(at).bags == saving.bags
        assert bags_for(before).bags == saving.bags + 1
        assert saving.saved == bags_for(NEED).bags - saving.bags


def test_drops_that_shrink_nothing_save_nothing() -> None:
    assert reading_savings(NEED, lambda more: 0.0175) == ()
    assert reading_savings(NEED, lambda more: 0.05) == ()  # a survey that promises worse is not believed to cost bags


def test_only_the_share_of_the_top_shrinks() -> None:
    sd = sd_with_drops(0.005, 0.003, lambda more: 1 / (1 + more))
    assert sd(0) == pytest.approx(0.005)
    assert sd(10_000) == pytest.approx(0.004, rel=1e-6)


@pytest.mark.parametrize(
    ("saving", "sentence"),
    [(Saving(1, 0.0, 9, 1), "one more drop takes one bag off"), (Saving(14, 0.0, 9, 2), "14 more drops take two bags off")],
)
def test_sentences(saving: Saving, sentence: str) -> None:
    assert saving.sentence == sentence


def test_the_plan_carries_them_when_the_survey_is_asked(cap: Callable[..., CapDesign]) -> None:
    built = cap(6.4, 0.10)
    rough = replace(built, volume=replace(built.volume, from_top=built.volume.all.sd))
    assert pour_for(rough, ConcreteChoices()).savings == ()
    told = pour_for(rough, ConcreteChoices(), spread_with=lambda more: (6 / (6 + more)) ** 0.5).savings
    assert told
    assert told[0].saved == 1
