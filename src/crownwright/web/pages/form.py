"""The form: its plan, every piece, the order it goes together and comes off in, what to saw and what to buy."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from crownwright.plan.model import Plan
from crownwright.service.desk.model import JobRow
from crownwright.service.desk.open_desk import Desk
from crownwright.sheets.papers.lists import cut_list_sections
from crownwright.web.pages.planned import Shows, router_of
from crownwright.web.sheets import Sheet
from crownwright.web.views.choices import FORM


def _lists(_desk: Desk, _job: JobRow, plan: Plan) -> Mapping[str, Any]:
    """The cut list as it stands on its paper."""
    return {"sections": cut_list_sections(plan)}


SHOWS = Shows(
    sheet=Sheet("form", "The form", "boards, blocks and straps; what to saw and what to buy"),
    pictures=("form-plan",),
    later=(
        ("pieces", "Pieces of the form"),
        ("assembly", "Putting it together"),
        ("stripping", "Taking it off"),
        ("cut-bars", "What is sawn from each board"),
    ),
    main=("form.diagonal.AC", "form.diagonal.BD", "form.straps", "form.strap_length", "form.weight", "form.girth"),
    heads=(
        ("Inside edges and diagonals", ("form.soffit_board", "form.sidewall", "form.quarter_round", "form.diagonal")),
        ("Gaps, packing and bed", ("form.gap", "form.packing", "form.bed", "form.bead")),
        (
            "Straps and blocks",
            ("form.strap", "form.girth", "form.block", "checks.clamp"),
        ),
        ("Spans and sag", ("form.span", "form.wall_span", "form.sticks_out", "checks.board")),
        ("Screws", ("form.screws", "checks.screws")),
        ("Lumber and cloth", ("form.cut_list", "form.weight", "form.oil", "form.skirt")),
        ("The rest", ("form.",)),
    ),
    choices=FORM,
    own="form_lists.html",
    extra=_lists,
)
SHEETS = (SHOWS.sheet,)
router = router_of(SHOWS)
