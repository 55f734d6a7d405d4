"""Code sets as data: adoption, silence, local rules, unknown names, and every citation in the bibliography."""

from __future__ import annotations

import pytest

from crownwright.codes.cap_rules import RULES, conflicts, local_rule, read_rule, rule, rule_set, rule_sets
from crownwright.quantity.units import INCH
from crownwright.sources.bibliography import entries, spell


def test_the_sets_a_job_may_name():
    wanted = {
        "us-model",
        "us-model-ibc",
        "irc_2018",
        "ibc_2018",
        "astm_c1283",
        "nfpa_211_2019",
        "michigan_2015",
        "ontario_332_12",
        "england",
        "practice",
    }
    assert wanted <= set(rule_sets())


@pytest.mark.parametrize("name", rule_sets())
def test_every_rule_of_every_set_can_be_cited_and_bounds_or_asks_something(name):
    for found in rule_set(name).rules.values():
        for one in found:
            assert one.name in RULES
            assert one.cite.document in entries()
            assert spell(one.cite)
            assert one.says
            assert (one.asks is not None) != (one.at_least is not None or one.at_most is not None)


def test_own_rule_goes_before_the_adopted_one_and_two_adopted_stand_side_by_side():
    assert [one.cite.document for one in rule_set("michigan_2015").all("drip")] == ["michigan_2015"]
    assert {one.cite.document for one in rule_set("us-model").all("liner_proud")} == {"astm_c1283", "nfpa_211_2019"}


def test_a_set_may_be_silent():
    assert rule_set("ontario_332_12").all("slope") == ()
    assert rule_set("ontario_332_12").limits("slope") == (None, None)
    with pytest.raises(KeyError, match=r"no rule in ontario_332_12 'slope'; there are: .*drip"):
        rule("ontario_332_12", "slope")


def test_unknown_names_are_named_with_what_there_is():
    with pytest.raises(KeyError, match=r"no rule set 'texas'; there are: .*michigan_2015"):
        rule_set("texas")
    with pytest.raises(KeyError, match="no cap rule 'colour'"):
        rule_set("us-model").all("colour")
    with pytest.raises(KeyError, match="no unit 'cubits'"):
        read_rule("overhang", {"says": "x", "at_least": 1, "unit": "cubits"}, "entered")
    with pytest.raises(KeyError, match="no bound 'at_best'"):
        local_rule("overhang.at_best", 1.0)


def test_local_limits_replace_the_sets_own_and_leave_the_rest():
    local = rule_set("us-model", {"overhang": 3 * INCH, "liner_proud.at_most": 6 * INCH})
    assert local.limits("overhang") == (3 * INCH, None)
    assert local.limits("liner_proud") == (None, 6 * INCH)
    assert local.all("slope") == rule_set("us-model").all("slope")
    assert local.all("overhang")[0].cite.standing == "entered"


def test_where_sources_differ_all_are_listed():
    documents = {one.cite.document for _, one in conflicts("drip_from_wall")}
    assert {"astm_c1283", "michigan_2015", "ontario_332_12", "pd_6697", "bia_tn36a"} <= documents
