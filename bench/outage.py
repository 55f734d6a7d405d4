"""Cut the network at 50 random moments of scripted roof visits: is every reading typed in the book, and none of them twice?

Run ``python -m bench.outage --write`` (``--cuts 50 --seed 7``). A phone's browser opens the roof page of an empty job and types
the readings of a top on the page's keypad, some put right, some added, two of them alike. Each visit has up to eight cuts at
moments and of kinds drawn by the seed (`tests.browser.outage.Cut`): requests fail at once; the book keeps what was sent but its
answer never arrives; nothing is heard until it is given up; the phone goes dark and the page is opened anew. There is no service
worker, as on plain HTTP in the mason's own network.
"""

from __future__ import annotations

import argparse
import tempfile
from collections import Counter
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright
from tests.browser.outage import VISIT, Outcome, visit
from tests.served import PHONE, launch, served

from crownwright.service.desk.open_desk import Desk, open_desk

TABLE = Path(__file__).parents[1] / "docs" / "bench" / "outage.md"
A_VISIT = 8  # cuts
SAYS = """# The network cut during a roof visit

Made by `python -m bench.outage --write` with Chromium: a phone types {typed} readings a visit while the network fails at random
moments. Answers lost: the book had kept the entry, and the phone never heard. Missing is what was typed and is not in the book at
the end, doubled what is in it more often than it was typed.

| seed | visits | cuts | answers lost | readings typed | missing | doubled | left waiting | conflicts |
|---|---|---|---|---|---|---|---|---|
"""


def visits(browser: Browser, desk: Desk, home: str, cuts: int, seed: int) -> list[Outcome]:
    """Visit after visit until so many cuts were made."""
    made: list[Outcome] = []
    while (done := sum(sum(one.cuts.values()) for one in made)) < cuts:
        context = browser.new_context(
            viewport={"width": PHONE[0], "height": PHONE[1]},
            has_touch=True,
            is_mobile=True,
            reduced_motion="reduce",
            service_workers="block",
        )
        context.set_default_timeout(30_000)
        made.append(visit(context, desk, home, seed * 1000 + len(made), min(A_VISIT, cuts - done)))
        context.close()
        print(made[-1])
    return made


def main() -> None:
    """Measure, and write the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cuts", type=int, default=50)
    parser.add_argument("--seed", type=int, default=7)
    parser.add_argument("--write", action="store_true")
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        desk = open_desk(Path(folder) / "jobs.book")
        with served(desk) as home:
            browser = launch(playwright)
            made = visits(browser, desk, home, args.cuts, args.seed)
            browser.close()
        desk.close()
    kinds: Counter[str] = sum((one.cuts for one in made), Counter())
    missing, doubled = (sum(len(getattr(one, name)) for one in made) for name in ("missing", "doubled"))
    waiting, conflicts, lost = (sum(getattr(one, name) for one in made) for name in ("waiting", "conflicts", "lost_answers"))
    typed = sum(one.typed for one in made)
    row = f"| {args.seed} | {len(made)} | {kinds.total()} | {lost} | {typed} | {missing} | {doubled} | {waiting} | {conflicts} |"
    told = ", ".join(f"{kind}: {count}" for kind, count in sorted(kinds.items()))
    print(row)
    if args.write:
        TABLE.write_text(f"{SAYS.format(typed=len(VISIT))}{row}\n\nKinds of cut: {told}.\n", "utf-8")


if __name__ == "__main__":
    main()
