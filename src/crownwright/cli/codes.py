"""What the command line says with its exit code."""

from __future__ import annotations

from enum import IntEnum


class Code(IntEnum):
    """Exit codes, as documented in docs/command-line.md."""

    DONE = 0
    NOT_READY = 1
    ASKED_WRONG = 2
    BAD_JOB = 3
    NOT_WRITTEN = 4
    OUR_FAULT = 70
    STOPPED = 130

    @property
    def says(self) -> str:
        """What the code means."""
        return _SAYS[self]


_SAYS = {
    Code.DONE: "done; where a job was planned or its readings checked, nothing stands against building it",
    Code.NOT_READY: "done, but the job is not ready: the readings do not close, or something keeps it from being built",
    Code.ASKED_WRONG: "the command was typed wrong, or asks for something that is not there",
    Code.BAD_JOB: "the job file cannot be read or has faults; every one is listed",
    Code.NOT_WRITTEN: "a file could not be written",
    Code.OUR_FAULT: "a fault of Crownwright itself",
    Code.STOPPED: "stopped by hand (Ctrl-C)",
}
