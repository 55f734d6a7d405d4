"""The day it is where the firm works."""

from __future__ import annotations

from datetime import date
from zoneinfo import ZoneInfo

from crownwright.price.business import Business
from crownwright.service.desk.money_of import Books, books_of
from crownwright.service.desk.open_desk import Desk


def business_of(desk: Desk) -> Business:
    """The firm on the shelf; that of the example where none lies there or it cannot be read."""
    books = books_of(desk)
    return books.business if isinstance(books, Books) else Business()


def today_of(desk: Desk) -> date:
    """The day by the firm's own clock: late in the evening it is not yet tomorrow, whatever the time in Greenwich."""
    return desk.clock().astimezone(ZoneInfo(business_of(desk).zone)).date()
