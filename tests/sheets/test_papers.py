"""Papers of the example jobs: headings and key numbers are text that can be selected, no letter is missing from the typeface,
the drawings are true to scale, the same plan gives the same bytes.
"""

import json
import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import numpy as np
import pypdfium2 as pdfium
import pytest
from fontTools.ttLib import TTFont
from tests.sheets.conftest import plan_of

from crownwright.quantity.display import show_figure
from crownwright.quantity.findings import Verdict, compare
from crownwright.quantity.problems import Problem
from crownwright.quantity.working import PRACTICE
from crownwright.sheets import fonts
from crownwright.sheets.drawings.frame import cap_frame
from crownwright.sheets.drawings.say import length
from crownwright.sheets.everything import drawings_of, files_of, papers_of
from crownwright.sheets.papers.lists import shopping_list
from crownwright.sheets.papers.press import Paper, pdf
from crownwright.sheets.papers.roofcard import blank_card, roof_card
from crownwright.sheets.papers.say import cautions, families, figure_row, formula_words
from crownwright.sheets.papers.summary import once_a_rule, summary
from crownwright.sources.bibliography import spell

NOON = 1_780_000_000


def paper(papers: tuple[Paper, ...], name: str) -> Paper:
    return next(p for p in papers if p.name == name)


@pytest.fixture(scope="session")
def demo_papers(demo) -> tuple[Paper, ...]:
    return papers_of(demo)


@pytest.fixture(scope="session")
def printed(demo_papers) -> Callable[..., bytes]:
    """PDF of one of the demo's papers, printed once."""

    @cache
    def pdf_of(name: str, size: str = "letter") -> bytes:
        return pdf(paper(demo_papers, name), size, NOON)

    return pdf_of


def text_of(data: bytes) -> str:
    """All text of a PDF, its line breaks as single spaces."""
    document = pdfium.PdfDocument(data)
    return re.sub(r"\s+", " ", " ".join(page.get_textpage().get_text_bounded() for page in document))


def flat(text: str) -> str:
    """Text without what a line break changes: spaces, and the hyphen a break may fall on; nor the marks of what is set high or
    low.
    """
    raised = re.sub(r"[_^]\(([^()]*)\)", r"\1", text)
    return re.sub(r"[^\w.,;:()=+/±°'\"]|_", "", raised)


@pytest.mark.parametrize("name", ["summary", "roof-card", "cut-list", "shopping-list", "drawings", "calculations"])
@pytest.mark.parametrize(("size", "wide", "high"), [("letter", 612.0, 792.0), ("a4", 595.28, 841.89)])
def test_each_paper_has_its_size_its_title_and_its_job_as_text(demo, demo_papers, printed, name, size, wide, high):
    data = printed(name, size)
    document = pdfium.PdfDocument(data)
    sides = sorted(document[0].get_size())
    assert sides == pytest.approx([wide, high], abs=0.01)
    assert demo.job.title in document.get_metadata_dict()["Title"]
    assert demo.job.title in text_of(data)
    if name != "drawings":
        assert paper(demo_papers, name).title in text_of(data)
        assert "A fall kills" in text_of(data)


def test_the_summary_answers_first_and_every_number_is_the_plans(demo, printed):
    text = text_of(printed("summary"))
    cap, pour = demo.cap, demo.concrete
    assert f"{length(cap.length, 'us')} × {length(cap.width, 'us')}" in text
    assert f"{pour.count.bags} bags" in text
    assert f"{sum(b.count for b in demo.form.cut.shopping)} boards" in text
    assert text.index("bags") < text.index("Short of a rule") < text.index("Not told") < text.index("Before you climb")
    for finding in demo.findings:
        if finding.verdict in (Verdict.SHORT, Verdict.CANNOT_TELL):
            assert flat(finding.subject[1:40]) in flat(text), finding


def test_the_calculation_sheet_has_every_figure_with_value_formula_and_source(demo, printed):
    text = flat(text_of(printed("calculations")))
    for figure in demo.figures:
        value = show_figure(figure, "us")
        for part in (figure.label[1:], figure.key, value, formula_words(figure.formula), spell(figure.cite)):
            assert flat(part) in text, (figure.key, part)


def test_figures_told_together_share_formula_source_and_range_and_none_is_lost(demo):
    rows = [figure_row(figure, "us") for figure in demo.figures]
    told = families(rows)
    assert [member["key"] for one in told for member in one["members"]] == [row["key"] for row in rows]
    assert len(told) < len(rows)
    by_key = {row["key"]: row for row in rows}
    for one in told:
        for member in one["members"]:
            assert all(by_key[member["key"]][part] == one[part] for part in ("formula", "source", "holds"))


def test_a_formula_is_set_in_the_signs_of_arithmetic():
    assert formula_words("sqrt((x_2 - x_1)^2) <= 2 x pi r") == "√((x_2 − x_1)²) ≤ 2 × π r"
    assert formula_words("w L^4/(384 E I), lb/ft3, 2x4, -x^20") == "w L⁴/(384 E I), lb/ft³, 2x4, -x^20"


def test_lists_have_every_piece_and_everything_to_buy(demo, printed):
    cut, shop = text_of(printed("cut-list")), text_of(printed("shopping-list"))
    for piece in demo.form.pieces:
        assert length(piece.length, "us") in cut
        assert piece.place in cut
    for proof in demo.form.cut.proofs:
        assert proof.section in cut
        assert ("proved" in cut) == proof.proved
    for buy in demo.form.cut.shopping:
        assert f"{buy.section}, {buy.length / 0.3048:.0f} ft" in shop
    assert f"{demo.concrete.count.bags} bags of dry concrete mix" in shop
    assert sum(int(n) for n in re.findall(r"(\d+) No\. \d+ wood screws", shop)) == sum(s.count for s in demo.form.screw_list)


def test_the_liner_to_buy_is_as_long_as_the_piece_set_on():
    """What is cut off the flue that stands, so that the joint lies inside the cap, is part of the piece."""
    plan = plan_of("repair-first")
    told = json.dumps(shopping_list(plan).content, ensure_ascii=False).replace('\\"', '"')
    for fit in plan.cap.flues:
        assert fit.cut_back > 0
        assert fit.piece == pytest.approx(plan.figure(f"cap.extension_piece.{fit.name}").value)
        assert f"length of flue liner, at least {length(fit.piece, plan.job.units)}" in told


def test_drawings_are_printed_true_to_scale(demo, printed):
    """The names of two flues lie as far apart on paper as the flues on the chimney, divided by the scale that is printed."""
    drawing = next(d for d in drawings_of(demo) if d.name == "cap-plan")
    document = pdfium.PdfDocument(printed("drawings"))
    page = next(page for page in document if "Plan of the cap" in page.get_textpage().get_text_bounded())
    text = page.get_textpage()
    assert drawing.scale_says in re.sub(r"\s+", " ", text.get_text_bounded())
    spots = []
    for flue in demo.survey.flues[:2]:
        start, count = text.search(flue.name).get_next()
        boxes = np.array([text.get_charbox(i) for i in range(start, start + count)])
        spots.append(((boxes[:, 0].min() + boxes[:, 2].max()) / 2, (boxes[:, 1].min() + boxes[:, 3].max()) / 2))
    paper_m = np.hypot(*np.subtract(*spots)) / 72 * 0.0254
    frame = cap_frame(demo.cap)
    true = np.hypot(*np.subtract(*(frame.point(flue.centre) for flue in demo.survey.flues[:2])))
    assert paper_m * drawing.scale == pytest.approx(
        true, abs=0.0005 * drawing.scale
    )  # half a mm on paper: letters differ in width


@pytest.mark.parametrize("size", ["letter", "a4"])
def test_every_sheet_of_drawings_is_one_page(example, size):
    drawings = paper(example.papers, "drawings")
    assert len(pdfium.PdfDocument(pdf(drawings, size, NOON))) == len(drawings.content["sheets"])


def test_papers_can_be_listened_to_and_leafed_through(demo_papers, printed):
    """Tagged (PDF/UA-1 is refused by the press otherwise), its language named, and a bookmark for each sheet of drawings."""
    for one in demo_papers:
        data = printed(one.name)
        document = pdfium.PdfDocument(data)
        assert pdfium.raw.FPDFCatalog_IsTagged(document)
        assert b"/Lang(en)" in data.replace(b" ", b"")
        marks = [mark.get_title() for mark in document.get_toc()]
        if one.name == "drawings":
            assert marks == [sheet["title"] for sheet in one.content["sheets"]]
        else:
            assert marks[0] == one.title


def test_everything_that_is_printed_is_in_the_typeface(example):
    known = set(TTFont(fonts.folder() / f"{fonts.FAMILY}-Regular.ttf").getBestCmap())
    for one in (*example.papers, blank_card("us"), blank_card("metric")):
        shown = json.dumps(dict(one.content), ensure_ascii=False)
        assert {letter for letter in shown if ord(letter) >= 32 and ord(letter) not in known} == set(), one.name


def test_the_same_plan_prints_the_same_bytes(demo, printed):
    assert pdf(paper(papers_of(demo), "cut-list"), "letter", NOON) == printed("cut-list")


def test_no_paper_says_that_anything_is_without_risk(example):
    for one in example.papers:
        said = json.dumps({key: value for key, value in one.content.items() if key != "job"})
        assert not re.search(r"\bsafe(ly)?\b", said, re.IGNORECASE), one.name


def test_after_a_doorstep_survey_the_roof_card_is_that_of_a_first_climb():
    """Nothing of the top was read: the card must not say that nothing is wanted."""
    text = text_of(pdf(roof_card(plan_of("doorstep")), "letter", NOON))
    assert "Nothing more is needed" not in text
    for asked in ("Tapes, point to point", "AC", "B to F1b", "Drops: how far", "Around it"):
        assert asked in text


def test_a_roof_card_shows_every_reading_as_typed(demo):
    text = flat(text_of(pdf(roof_card(demo), "letter", NOON)))
    for tape in demo.job.readings.tapes:
        assert flat(f"{tape.start} to {tape.end} {tape.reads.typed}") in text
    for offset in demo.job.readings.offsets:
        assert flat(f"{offset.side} at {offset.along.typed} {offset.out.typed}") in text


def test_a_roof_card_asks_for_what_is_missing_in_order(demo):
    text = text_of(pdf(roof_card(demo), "letter", NOON))
    places = [text.index(wanted.ask) for wanted in demo.survey.next_readings]
    assert places == sorted(places)
    stopped = replace(demo, survey=None, cap=None, form=None, problems=(Problem("tape AB", "reads 0", "Read it again"),))
    assert "reads 0. Read it again" in text_of(pdf(roof_card(stopped), "letter", NOON))


@pytest.mark.parametrize(("units", "corners", "flues"), [("us", 4, 1), ("metric", 3, 0), ("us", 8, 3)])
def test_a_blank_roof_card_has_a_box_for_every_tape(units, corners, flues):
    text = text_of(pdf(blank_card(units, corners, flues), "a4" if units == "metric" else "letter", NOON))
    assert {"AB", "BC", "CA"} <= set(text.split()) if corners == 3 else {"AB", "CD", "AC", "BD"} <= set(text.split())
    assert ("3 mm" in text) == (units == "metric")
    with pytest.raises(ValueError, match="3 to 8 corners"):
        blank_card("us", 2)


def test_what_blocks_comes_first_and_a_waiver_stays_on_the_paper(demo):
    blocking = compare(
        "x.y", "a rule of the test", PRACTICE, "the thing looked at", 1.0, at_least=2.0, action="Mend it", blocks=True
    )
    content = summary(replace(demo, findings=(*demo.findings, blocking))).content
    assert content["findings"][0]["subject"] == "The thing looked at"
    assert content["needs"][-1] == {"what": "The thing looked at: a rule of the test", "todo": "Mend it."}


def test_findings_of_one_rule_are_told_once_the_worst_first_to_be_seen():
    findings = [
        compare(f"x.{side}", "a rule", PRACTICE, f"side {side}", there, at_least=2.0, action="Mend it")
        for side, there in (("AB", 1.5), ("BC", 0.5), ("CD", 1.0))
    ]
    (told,) = once_a_rule(findings)
    assert told.provided == 0.5
    assert told.subject == "side BC; also side AB, side CD"


def test_every_file_comes_once_and_opens(demo):
    files = dict(files_of(demo, "letter", NOON))
    assert {name.split("/")[0] for name in files} == {"papers", "drawings", "solid"}
    assert all(data.startswith(b"%PDF") for name, data in files.items() if name.endswith(".pdf"))
    assert files["solid/all.glb"][:4] == b"glTF"
    assert {"solid/cap.stl", "solid/stone.stl", "solid/form.stl"} <= set(files)
    assert sum(name.endswith(".svg") for name in files) == sum(name.endswith(".dxf") for name in files) >= 10


def test_the_cautions_are_on_every_paper(demo_papers):
    for one in demo_papers:
        assert one.content["cautions"] == cautions("us")
