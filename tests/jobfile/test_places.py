"""Lines of keys, against a TOML text whose every line says which it is."""

from __future__ import annotations

import tomllib
from typing import Any

from crownwright.service.jobfile.places import Path, key_lines, line_of

TEXT = '''a = 1
"b c".d = "2 # [x"
e = """
{ x = 9 }
\\""" \\
"""  # six
f = [ # seven
  8,
  { g = 9, h = [9, 9] }, # }
  """
ten""",
]
[i]
j = 14
[i.k]
l = \'\'\'15 ['\'\'\'
[[m]]
n = 18
[[m]]
n = 20
[m.o]
p = 22
[[m.q]]
r = 2026-01-02 10:00:00
[[m.q]]
r = 'x\\'
s = {}
'''
LINES: dict[Path, int] = {
    ("a",): 1,
    ("b c", "d"): 2,
    ("e",): 3,
    ("f",): 7,
    ("f", 0): 8,
    ("f", 1): 9,
    ("f", 1, "g"): 9,
    ("f", 1, "h", 1): 9,
    ("f", 2): 10,
    ("i",): 13,
    ("i", "j"): 14,
    ("i", "k"): 15,
    ("i", "k", "l"): 16,
    ("m",): 17,
    ("m", 0): 17,
    ("m", 0, "n"): 18,
    ("m", 1, "n"): 20,
    ("m", 1, "o", "p"): 22,
    ("m", 1, "q", 0, "r"): 24,
    ("m", 1, "q", 1, "r"): 26,
    ("m", 1, "q", 1, "s"): 27,
}


def test_every_key_has_its_line() -> None:
    found = key_lines(TEXT)
    assert {path: found.get(path) for path in LINES} == LINES


def test_every_value_the_standard_reader_gives_has_a_line() -> None:
    def paths(value: Any, path: Path = ()) -> set[Path]:
        inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
        return {path, *(p for key, part in inner for p in paths(part, (*path, key)))}

    assert paths(tomllib.loads(TEXT)) - {()} == set(key_lines(TEXT))


def test_what_has_no_line_has_that_of_what_holds_it() -> None:
    assert line_of(LINES, ("f", 1, "missing", 3)) == 9
    assert line_of(LINES, ("nothing",)) is None
