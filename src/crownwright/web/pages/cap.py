"""The cap: plan, sections, edge and elevation, its figures, and what is wanted of it."""

from __future__ import annotations

from crownwright.web.pages.planned import Shows, router_of
from crownwright.web.sheets import Sheet
from crownwright.web.views.choices import CAP

SHOWS = Shows(
    sheet=Sheet("cap", "The cap", "its size, fall, drip and joints, drawn and worked"),
    pictures=("cap-plan", "sections"),
    later=(("edge", "The edge"), ("elevation", "Before and after")),
    main=("cap.length", "cap.width", "cap.edge_thickness", "cap.fall", "cap.volume", "cap.weight"),
    heads=(
        ("Size and place", ("cap.length", "cap.width", "cap.turn", "cap.set_out")),
        ("Overhang", ("cap.overhang",)),
        (
            "Levels and fall",
            ("cap.soffit", "cap.edge", "cap.crest", "cap.bench", "cap.fall", "cap.cover", "cap.standing", "cap.round"),
        ),
        ("Flues and joint", ("cap.proud", "cap.joint", "cap.extension")),
        ("Drip", ("cap.drip",)),
        ("Steel", ("cap.steel",)),
        ("Concrete and weight", ("cap.volume", "cap.weight", "cap.box_rule", "cap.bed")),
        ("The rest", ("cap.",)),
    ),
    choices=CAP,
)
SHEETS = (SHOWS.sheet,)
router = router_of(SHOWS)
