"""Which texts can be the id of anything in a book. Others are in no book, and no database is asked for them."""

from __future__ import annotations

LONGEST = 40
MOST = 2**31 - 1  # a number of a revision, in the smaller of the two databases


def can_be_id(text: str) -> bool:
    """Whether a text can be an id at all.

    >>> can_be_id("e1.2"), can_be_id(""), can_be_id("a\\x00"), can_be_id("é"), can_be_id("x" * 41)
    (True, False, False, False, False)
    """
    return 0 < len(text) <= LONGEST and text.isascii() and text.isprintable()


def can_be_number(number: int) -> bool:
    """Whether a whole number can count revisions.

    >>> can_be_number(1), can_be_number(0), can_be_number(10**30)
    (True, False, False)
    """
    return 0 < number <= MOST
