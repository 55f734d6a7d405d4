"""Write docs/schema.json, and the tables of keys in docs/job-file.md, from the model that reads job files."""

from __future__ import annotations

import json
from itertools import groupby
from pathlib import Path

from crownwright.service.jobfile.schema import Key, job_keys, job_schema, table_notes

DOCS = Path(__file__).resolve().parent
BEGIN, END = "<!-- keys: made by make_job_file.py -->\n", "<!-- end of keys -->\n"
LISTS = {
    "readings.tapes",
    "readings.offsets",
    "readings.drops",
    "readings.flues",
    "quick.flues",
    "surroundings.higher",
    "form.stock",
    "rules",
}


def schema_text() -> str:
    """The schema as it stands in docs/schema.json."""
    return json.dumps(job_schema(), indent=2, ensure_ascii=False) + "\n"


def key_tables() -> str:
    """A table of keys for every table of a job file, in the order of the job."""
    notes = table_notes()
    return "\n".join(_table(name, list(keys), notes[name]) for name, keys in groupby(job_keys(), key=lambda key: key.table))


def with_tables(page: str) -> str:
    """The page with its tables of keys made again."""
    before, rest = page.split(BEGIN)
    return before + BEGIN + "\n" + key_tables() + "\n" + END + rest.split(END)[1]


def _table(name: str, keys: list[Key], note: str) -> str:
    title = "At the top of the file" if not name else f"`[{name}]`" if name not in LISTS else f"Each line of `{name}`"
    rows = [f"| `{key.name}` | {'needed' if key.needed else _usual(key)} | {_cell(key.says)} |" for key in keys]
    return "\n".join([f"### {title}", "", note, "", "| key | left out | what it says |", "|---|---|---|", *rows, ""])


def _usual(key: Key) -> str:
    return f"`{key.usual}`" if key.usual else ""


def _cell(text: str) -> str:
    return (text[:1].upper() + text[1:]).replace("|", "\\|")


def main() -> None:
    """Write both."""
    (DOCS / "schema.json").write_text(schema_text(), "utf-8")
    page = DOCS / "job-file.md"
    page.write_text(with_tables(page.read_text("utf-8")), "utf-8")


if __name__ == "__main__":
    main()
