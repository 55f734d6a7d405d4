"""What a price takes from the condition record: joints not counted, a patched cap, a top to be read again, how long it lasts."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from crownwright.plan.model import Plan
from crownwright.plan.plan_job import plan_job
from crownwright.price.business import Business
from crownwright.price.changing import change_lines
from crownwright.price.choices import More, QuoteChoices, QuoteOption
from crownwright.price.deal import Accepted, Quote, Reason
from crownwright.price.dealing import accept, issue
from crownwright.price.pricing import allowance
from crownwright.price.rows import example_book
from crownwright.quantity.units import INCH
from crownwright.service.open_job import open_text
from crownwright.service.price_a_job import price_options, quote_a_plan
from crownwright.service.quote_record import JOINT

DAY = date(2026, 6, 12)
TEXT = (Path(__file__).parents[2] / "examples" / "repair-first.toml").read_text("utf-8")
PATCH, RECAST = QuoteOption("Patch", "patch"), QuoteOption("Recast", "recast")
REBUILD = QuoteOption("Rebuild", "recast and rebuild")
RULES = ("people.*", "checks.*", "price.examples", "code.*", "cap.*", "form.*", "repair.*", "strip.*", "problem.*")
REASONS = tuple(Reason(key, "a test", "E. Marr") for key in RULES)


def planned(text: str, *options: QuoteOption) -> Plan:
    job = open_text(text, "job.toml").job
    assert job is not None
    return plan_job(replace(job, quote=QuoteChoices(options)), cut_list=False)


def without_samples(text: str) -> str:
    return re.sub(r"samples = \[.*?\n\]\n", "", text, flags=re.S)


@pytest.fixture(scope="module")
def counted() -> Plan:
    return planned(TEXT, PATCH, RECAST, REBUILD)


def quoted(plan: Plan) -> Quote:
    made = quote_a_plan(plan, example_book(), Business(), DAY)
    assert isinstance(made, Quote), made
    return made


def test_joints_not_counted_on_a_patch_are_worked_from_face_courses_and_share() -> None:
    """Face AB as told 39 5/8 in., 8 courses of 2 1/4 + 3/8 in., bricks 8 in. long, 60 % of the joint:

    39.625 x 21 in. of face; joint on a square inch (8 + 3/8 + 2 1/4)/((8 + 3/8)(2 1/4 + 3/8)) = 0.48330 in.; x 0.6 = 241.3 in.
    A crack of 14 in. on face CD is repointed along its length: 255.3 in. in all.
    """
    plan = planned(without_samples(TEXT), RECAST)
    made = price_options(plan, example_book(), DAY)[0]
    joints = made.record.joints
    assert joints is not None
    assert joints.length is not None
    assert joints.length.mean / INCH == pytest.approx(255.3, abs=1.0)  # the face as adjusted differs from the tape by 1/16 in.
    assert not made.costing.firm
    assert "told by eye" in made.costing.rough
    keys = {one.key for one in made.figures}
    lines = [line for line in made.costing.lines if any("record.unsampled" in s for s in line.sources)]
    assert {line.key for line in lines} == {"portland", "hydrated lime", "mortar sand"}
    for source in (s for line in lines for s in line.sources if "record" in s):
        assert source.partition(":")[0] in keys, source
    quote = quoted(plan)
    assert quote.options[0].provisional
    unit = next(u for u in quote.unit_prices if u.what == JOINT)
    assert unit.unit == "ft"
    more, problems = change_lines(quote, example_book().on(DAY), [More(JOINT, "10")])
    assert problems == ()
    assert more[0].amount == unit.price * 10
    assert more[0].tax == "labour"


def test_no_share_told_is_anything_from_none_to_all_of_it() -> None:
    plan = planned(without_samples(TEXT).replace(', share = "60 %" },\n  { what = "spalled', ' },\n  { what = "spalled'), RECAST)
    joints = price_options(plan, example_book(), DAY)[0].record.joints
    assert joints is not None
    shown = next(f for f in joints.figures if f.key == "repair.unsampled.4")
    assert shown.value / INCH == pytest.approx(402.2 / 2, abs=1.0)
    assert shown.spread is not None
    assert shown.spread == pytest.approx(shown.value * 2 / 12**0.5)
    assert "not told" in joints.open_[0]


def test_what_the_record_lacks_is_named_and_never_made_up() -> None:
    text = without_samples(TEXT).replace('masonry = "brick"', 'masonry = "rubble stone"')
    text = re.sub(r"units = \{.*?\}\n", 'units = { hardness = "soft" }\n', text)
    plan = planned(text, RECAST)
    made = price_options(plan, example_book(), DAY)[0]
    joints = made.record.joints
    assert joints is not None
    assert joints.length is None
    assert joints.tasks == ()
    assert any("size of the units was not told" in says for says in joints.lacks)
    quote = quoted(plan)
    assert not quote.options[0].firm
    assert any("size of the units was not told" in says for says in quote.options[0].exclusions)


def test_joints_that_were_counted_are_priced_by_the_count_alone(counted: Plan) -> None:
    recast = price_options(counted, example_book(), DAY)[1]
    assert recast.record.joints is None
    stays = [any("loose top courses stay" in says for says in option.exclusions) for option in quoted(counted).options]
    assert stays == [True, True, False]
    assert recast.costing.firm


def test_a_rebuilt_top_is_an_allowance_until_it_is_read_again_and_may_be_signed(counted: Plan) -> None:
    """What the first survey is worth in the price: with the top's level unknown to half an inch, the band is the wider."""
    _, recast, rebuild = price_options(counted, example_book(), DAY)
    assert (recast.costing.firm, rebuild.costing.firm) == (True, False)
    net = rebuild.priced.price.net
    low, high = allowance(rebuild.costing, net)
    assert low < net < high
    assert counted.repair is not None
    assert counted.repair.between is not None
    bags = next(part for part in rebuild.costing.spread.parts if not part.shared)
    assert bags.sd == pytest.approx(counted.repair.between.bags.sd * 6.48)
    band = next(f for f in rebuild.figures if f.key.endswith("band.high"))
    assert "bags by the first survey" in [term.name for term in band.inputs]
    prices = example_book().on(DAY)
    sent, problems = issue(quoted(counted), counted, prices, "2026-0001", DAY, REASONS)
    assert sent is not None, problems
    assert isinstance(accept(sent, "Rebuild", "R. Tallow", DAY), Accepted)
    read_again = planned(TEXT.replace("rebuild = { courses = 4,", "rebuild = { courses = 4, done = true,"), REBUILD)
    assert price_options(read_again, example_book(), DAY)[0].costing.firm


def test_a_patch_is_worked_from_the_record_by_hand() -> None:
    """Two holes, 6 x 6 x 1/2 in. and 4 x 4 x 3/4 in.: 18 + 12 = 30 cubic inches; a crack of 20 in. wants sealing."""
    more = '  { what = "cap spall", measure = "1/2", over = "6" },\n  { what = "cap spall", measure = "3/4", over = "4" },\n'
    more += '  { what = "cap crack", measure = "1/32", over = "20" },\n  { what = "popouts", measure = "1/2" },\n'
    plan = planned(TEXT.replace("seen = [\n", "seen = [\n" + more), PATCH)
    made = price_options(plan, example_book(), DAY)[0]
    patches = made.record.patches
    assert patches is not None
    value = {f.key: f.value for f in patches.figures}
    assert value["repair.patching.volume"] / INCH**3 == pytest.approx(30.0)
    assert value["repair.patching.cracks"] / INCH == pytest.approx(20.0)
    assert [says.rpartition(": ")[0] for says in patches.lacks] == ["the cap, popouts"]
    assert {"mortar wash", "no drip"} <= set(patches.uncured)
    assert {"patch", "seal cracks"} <= {task.key.removeprefix("below, ") for task in made.costing.hours.tasks}
    assert {"rake", "repoint"} <= {task.key.removeprefix("below, ") for task in made.costing.hours.tasks}
    dues = [stage.due for stage in made.priced.price.stages]
    assert dues == ["when the quote is accepted", "when finished"], "a patch is not poured"
    told = replace(PATCH, more=(More("labour mason", "4"),))
    by_hand = price_options(planned(TEXT, told), example_book(), DAY)[0]
    assert by_hand.record.patches is None, "what the mason tells himself is not counted a second time"


def test_each_way_says_how_long_it_lasts_and_on_whose_word(counted: Plan) -> None:
    patch, recast, rebuild = (" ".join(option.years) for option in quoted(counted).options)
    assert "The patch lasts about 1 to 9 years (our judgement)" in patch
    assert "30 to 90 years (our judgement)" in recast
    assert "published range" in rebuild
    assert "the top courses, left as they are" in recast
    assert all("Over 50 years" in says for says in (patch, recast, rebuild))
