"""A linear and integer programming engine that says nothing on standard output."""

from __future__ import annotations

import os
from functools import cache
from importlib import import_module
from typing import Any


def engine() -> Any:
    """Return a fresh engine: one thread, fixed seed, silent."""
    made = library().Highs()
    for option, value in (("output_flag", False), ("parallel", "off"), ("threads", 1), ("random_seed", 0)):
        made.setOptionValue(option, value)
    return made


@cache
def library() -> Any:
    """Load the library and let it greet into nothing.

    It greets once a process, when the first engine is made: straight to file descriptor 1, before any option can be set. That
    would spoil a ``--json`` answer, so a first engine is made and thrown away with the descriptor turned aside.
    """
    highspy: Any = import_module("highspy")
    kept, sink = os.dup(1), os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(sink, 1)
        highspy.Highs()
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(sink)
    return highspy
