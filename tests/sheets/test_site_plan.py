"""The site plan: every topic of a day, a box for every flue before and after, and never a verdict that nothing can happen."""

import json

from crownwright.sheets.papers.press import pdf
from crownwright.sheets.papers.site import TOPICS, site_plan


def test_every_topic_is_told_and_every_finding_on_people_stands_on_it(example):
    content = site_plan(example.plan).content
    assert {topic["topic"] for topic in content["topics"]} >= set(TOPICS.values())
    assert all(topic["rows"] or topic["untold"] for topic in content["topics"] if topic["topic"] in TOPICS.values())
    shown = {rule["key"] for topic in content["topics"] for row in topic["rows"] for rule in row["rules"]}
    people = {f.key for f in example.plan.findings if f.key.startswith("people.")}
    assert {key for key in people - shown if not key.startswith(("people.covered", "people.uncovered"))} == set()
    assert [flue["name"] for flue in content["flues"]] == [flue.name for flue in example.plan.survey.flues]


def test_what_to_do_is_told_once_and_every_rule_keeps_its_own_amounts(demo):
    rows = [row for topic in site_plan(demo).content["topics"] for row in topic["rows"]]
    told = [(row["subject"], row["verdict"], row["action"]) for row in rows]
    assert len(set(told)) == len(told)
    wind = next(row for row in rows if row["subject"] == "Wind on the roof")
    assert {rule["required"] for rule in wind["rules"]} == {"at most 25.0 mph", "at most 30.0 mph"}


def test_it_never_says_the_word_and_prints(demo):
    paper = site_plan(demo)
    assert "safe" not in json.dumps(dict(paper.content)).lower().replace("safety", "")
    assert pdf(paper, "a4", 1_780_000_000).startswith(b"%PDF")
