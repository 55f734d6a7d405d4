"""Lines of iCalendar and vCard texts, written and read: escaping, folding, and their way back (RFC 5545, 3.1 and 3.3.11)."""

from __future__ import annotations

import re
from collections.abc import Iterator

FOLD = re.compile(r"\r?\n[ \t]")
LINE = re.compile(r"\r?\n")
ESCAPED = re.compile(r"\\(.)")


def escaped(text: str) -> str:
    """Return text as a value: backslash, comma, semicolon and line ends escaped (RFC 5545, 3.3.11).

    >>> escaped("Tallow, R.; top" + chr(10) + "ring first")
    'Tallow\\\\, R.\\\\; top\\\\nring first'
    """
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    text = "".join(c for c in text if c == "\n" or c >= " ")
    return text.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,").replace("\n", "\\n")


def folded(line: str) -> list[str]:
    """Return a line in parts of no more than 75 octets, all but the first led by a blank (RFC 5545, 3.1); no letter is cut.

    >>> [len(part.encode()) for part in folded("x" * 100)]
    [75, 26]
    """
    parts, part = [], ""
    for letter in line:
        if len((part + letter).encode()) > 75:
            parts.append(part)
            part = " "
        part += letter
    return [*parts, part]


def plain(value: str) -> str:
    """Return what a value says: the way back of `escaped`.

    >>> plain("Tallow\\\\, R.\\\\; top") == "Tallow, R.; top"
    True
    """
    return ESCAPED.sub(lambda found: "\n" if found[1] in "nN" else found[1], value)


def lines_of(text: str) -> Iterator[tuple[str, str, str]]:
    """Return name, parameters and value of every line of a text, unfolded; what is no such line is passed over."""
    for line in LINE.split(FOLD.sub("", text)):
        head, colon, value = line.partition(":")
        name, _, parameters = head.partition(";")
        if colon:
            yield name.upper(), parameters, value


def quoted(value: str) -> str:
    """Return a text as a parameter's value, in quotes; quotes, carets and line ends within it as RFC 6868 has them.

    >>> quoted('Marr "& Sons"')
    '"Marr ^\\'& Sons^\\'"'
    """
    value = "".join(c for c in value.replace("\r\n", "\n") if c == "\n" or c >= " ")
    return '"' + value.replace("^", "^^").replace("\n", "^n").replace('"', "^'") + '"'
