"""The job file's [quote]: reads into choices, writes back the same, and tells every slip with its line."""

from __future__ import annotations

from crownwright.price.choices import Done, More, OldCap, QuoteOption
from crownwright.service.jobfile import parse_job, write_job
from crownwright.service.open_job import open_demo

QUOTE = """
[quote]
phone = "555 0142"
address = ["Weir Cottage", "Mill Lane 3"]
done = { bags = 12, hours = 23.5 }
old_cap = { thickness = "2 1/2", material = "mortar", share = "80 %" }
options = [
  { name = "Patch", way = "patch", scope = ["Patch what is loose."], more = [{ key = "labour mason", amount = 6 }] },
  { name = "Recast", way = "recast" },
]
"""


def test_the_quote_table_reads_and_writes_back_the_same() -> None:
    job, problems = parse_job(open_demo().text + QUOTE)
    assert job is not None, problems
    quote = job.quote
    assert quote.old_cap == OldCap(0.0635, material="mortar", share=0.8)
    assert quote.done == Done(12.0, 23.5)
    assert quote.options[0] == QuoteOption("Patch", "patch", ("Patch what is loose.",), more=(More("labour mason", "6"),))
    again, problems = parse_job(write_job(job))
    assert again is not None, problems
    assert again.quote == quote


def test_every_slip_in_it_is_told_at_once() -> None:
    slips = QUOTE.replace('"patch", scope', '"patchy", scope').replace("amount = 6", 'amount = "six"')
    slips = slips.replace('"mortar"', '"mud"').replace("bags = 12", "bags = -1")
    job, problems = parse_job(open_demo().text + slips)
    assert job is None
    told = " ".join(f"{p.where} {p.what}" for p in problems)
    for says in ("quote.options[1].way", "quote.options[1].more[1].amount", "mud", "quote.done.bags"):
        assert says in told
