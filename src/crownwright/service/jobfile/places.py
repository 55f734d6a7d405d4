"""On which line of a TOML text each key stands: the standard reader gives values without places, and a fault needs its line."""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from collections.abc import Mapping
from contextlib import suppress

Path = tuple[str | int, ...]

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_KEY = re.compile(r"""[A-Za-z0-9_-]+|"(?:[^"\\\n]|\\.)*"|'[^'\n]*'""")
_DOT = re.compile(r"[ \t]*\.[ \t]*")
_STRING = re.compile(
    r'"""(?:[^\\]|\\.)*?"{3,5}(?!")|' + r"'''.*?'{3,5}(?!')|" + r'"(?:[^"\\\n]|\\.)*"|' + r"'[^'\n]*'",
    re.DOTALL,
)
_SCALAR = re.compile(r"[^,\]}#\r\n]*")


def key_lines(text: str) -> dict[Path, int]:
    """The line (from 1) of every key, table and list item in a TOML text that the standard reader accepts.

    A path is made of keys and, in lists, places counted from 0.

    >>> key_lines('title = "x"\\n[readings]\\ntapes = [\\n  { start = "A" },\\n]')[("readings", "tapes", 0, "start")]
    4
    """
    scan = _Scan(text)
    with suppress(_LostError, RecursionError):  # a place that cannot be found is left out; the fault is still told, by its key
        scan.document()
    return scan.found


def line_of(lines: Mapping[Path, int], path: Path) -> int | None:
    """The line of a path, or of the nearest thing that holds it."""
    while path:
        if path in lines:
            return lines[path]
        path = path[:-1]
    return None


class _LostError(Exception):
    """The scan met what it does not know."""


class _Scan:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.found: dict[Path, int] = {}
        self.items: dict[Path, int] = {}  # how many [[tables]] of this path so far
        self.breaks = [m.start() for m in re.finditer("\n", text)]

    def document(self) -> None:
        table: Path = ()
        while self.blank() < len(self.text):
            if self.text.startswith("[", self.at):
                table = self.header()
            else:
                self.pair(table)

    def blank(self) -> int:
        self.at = self.match(_BLANK).end()
        return self.at

    def match(self, pattern: re.Pattern[str]) -> re.Match[str]:
        found = pattern.match(self.text, self.at)
        if not found:
            raise _LostError
        return found

    def mark(self, path: Path) -> None:
        self.found.setdefault(path, bisect_right(self.breaks, self.at - 1) + 1)

    def header(self) -> Path:
        double = self.text.startswith("[[", self.at)
        start, self.at = self.at, self.at + 1 + double
        self.blank()
        keys = self.keys()
        path = self.inside_lists(keys[:-1])
        path = (*path, keys[-1])
        end = self.text.find("]", self.at) + 1 + double
        self.at = start
        if double:
            self.items[path] = self.items.get(path, 0) + 1
            self.mark(path)
            path = (*path, self.items[path] - 1)
        else:
            path = self.inside_lists((*keys,))
        self.mark(path)
        self.at = end
        return path

    def inside_lists(self, keys: tuple[str, ...]) -> Path:
        """The path of a header; where a part is a list of tables, its last item is meant."""
        path: Path = ()
        for key in keys:
            path = (*path, key)
            if path in self.items:
                path = (*path, self.items[path] - 1)
        return path

    def keys(self) -> tuple[str, ...]:
        keys = []
        while True:
            found = self.match(_KEY)
            keys.append(_plain_key(found[0]))
            self.at = found.end()
            dot = _DOT.match(self.text, self.at)
            if not dot:
                return tuple(keys)
            self.at = dot.end()

    def pair(self, table: Path) -> None:
        start = self.at
        keys = self.keys()
        after, self.at = self.at, start
        for n in range(1, len(keys) + 1):
            self.mark((*table, *keys[:n]))
        self.at = self.text.index("=", after) + 1
        self.blank()
        self.value((*table, *keys))

    def value(self, path: Path) -> None:
        opening = self.text[self.at : self.at + 1]
        if opening == "[":
            self.group(path, "]")
        elif opening == "{":
            self.group(path, "}")
        elif opening in ("'", '"'):
            self.at = self.match(_STRING).end()
        else:
            self.at = self.match(_SCALAR).end()

    def group(self, path: Path, closing: str) -> None:
        """A list or an inline table."""
        self.at += 1
        count = 0
        while True:
            self.blank()
            if self.text.startswith(closing, self.at):
                self.at += 1
                return
            if closing == "}":
                self.pair(path)
            else:
                self.mark((*path, count))
                self.value((*path, count))
                count += 1
            self.blank()
            if self.text.startswith(",", self.at):
                self.at += 1
            elif not self.text.startswith(closing, self.at):
                raise _LostError


def _plain_key(key: str) -> str:
    return str(next(iter(tomllib.loads(f"{key} = 0")))) if key[0] in "\"'" else key
