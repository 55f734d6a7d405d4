"""Write the table of findings into docs/repair.md, between its two marks, from the table that the program judges by."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from crownwright.quantity.lengths import print_length
from crownwright.quantity.units import INCH
from crownwright.repair.defects import Defect, Grade, defects
from crownwright.sources.bibliography import spell

PAGE = Path(__file__).resolve().parent / "repair.md"
BEGIN, END = "<!-- findings: made by docs/make_repair.py -->", "<!-- end of findings -->"


def size(metres: float) -> str:
    """A threshold as its source prints it: whole millimetres, or inches."""
    millimetres = metres * 1000
    if abs(millimetres - round(millimetres)) < 1e-6 and abs(metres / INCH * 64 - round(metres / INCH * 64)) > 1e-6:
        return f"{millimetres:.0f} mm"
    inches = metres / INCH
    return f"{inches:.3f} in." if inches < 0.05 else print_length(metres, "in.", 16)


def grade_words(kind: Defect, grade: Grade) -> str:
    """One grade in a cell: from where, what it is called, what it asks, whether it blocks."""
    begins = f"from {size(grade.begins)}" if kind.measure and grade.begins > 0 else ""
    across = f" or {size(grade.over_from)} {kind.over}" if grade.over_from else ""
    step = " or a step between its sides" if grade.offset else ""
    blocks = f" **Nothing is cast on it before it was seen by: {grade.see}.**" if grade.blocks else ""
    head = f"{begins}{across}{step}".strip()
    return f"{head + ': ' if head else ''}{grade.name} → {grade.call}.{blocks}"


def rows() -> Iterator[str]:
    """The table, a row a finding."""
    yield "| name | where | what it looks like | measure | grades | by whose measure |"
    yield "|---|---|---|---|---|---|"
    for kind in defects().values():
        grades = "<br>".join(grade_words(kind, grade) for grade in kind.grades)
        sources = "<br>".join(dict.fromkeys(spell(grade.cite) for grade in kind.grades))
        measure = kind.measure + (f"; over: {kind.over}" if kind.over else "") + ("; offset" if kind.offset else "")
        yield f"| `{kind.name}` | {kind.place} | {kind.says} | {measure} | {grades} | {sources} |"


def page(text: str) -> str:
    """The page with its table made anew."""
    before, rest = text.split(BEGIN, 1)
    after = rest.split(END, 1)[1]
    return f"{before}{BEGIN}\n\n" + "\n".join(rows()) + f"\n\n{END}{after}"


if __name__ == "__main__":
    PAGE.write_text(page(PAGE.read_text("utf-8")), "utf-8")
