"""The commands on money, with files alone, in the order of a deal: price, quote, invoice, change order, the price book."""

from __future__ import annotations

from argparse import ArgumentParser
from collections.abc import Callable

from crownwright.cli.billing import add_change_order, add_invoice
from crownwright.cli.pricing import add_price, add_price_book
from crownwright.cli.quoting import add_quote


def add_commands(command: Callable[..., ArgumentParser]) -> None:
    """Put the commands on money among the others; ``command`` adds one."""
    for add in (add_price, add_quote, add_invoice, add_change_order, add_price_book):
        add(command)
