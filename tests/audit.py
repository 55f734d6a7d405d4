"""The pinned dependencies held against the published advisories (the OSV database), where that can be reached.

An advisory stops the run and is named. A database that does not answer does not stop it, since a machine without a way out must
still be able to test; it is said in so many words, and ``CROWNWRIGHT_AUDIT=must`` makes it stop too.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

MUST = "CROWNWRIGHT_AUDIT"
PATIENCE = 180  # s for all questions together


@dataclass(frozen=True, slots=True)
class Audit:
    """How many packages the database was ``asked`` about (none where it was not reached), and what is ``known`` of them."""

    asked: int
    known: tuple[str, ...] = ()
    why: str = ""

    def lines(self, name: str) -> tuple[str, ...]:
        """What to tell about a lock file of this name."""
        if not self.asked:
            return (f"{name}: NOT held against the published advisories: {self.why}",)
        return (f"{name}: {self.asked} packages held against the published advisories, {len(self.known)} with one", *self.known)

    @property
    def passes(self) -> bool:
        """Whether the run may go on."""
        return not self.known and (self.asked > 0 or os.environ.get(MUST) != "must")


def audit(lock: Path, more: Sequence[str] = ()) -> Audit:
    """Ask about every package of a lock file, at its pinned version. ``more`` goes to pip-audit as it is."""
    command = [sys.executable, "-m", "pip_audit", "-r", str(lock), "--disable-pip", "--require-hashes", "-s", "osv"]
    quiet = ["--format", "json", "--progress-spinner", "off", "--timeout", "10"]
    try:
        done = subprocess.run([*command, *quiet, *more], capture_output=True, text=True, timeout=PATIENCE, check=False)
    except subprocess.TimeoutExpired:
        return Audit(0, why=f"no answer within {PATIENCE} s")
    if not done.stdout.strip():
        fault = (done.stderr.strip().splitlines() or [""])[-1].partition(":")[0].rpartition(".")[2]
        return Audit(0, why=f"the database did not answer ({fault or f'it stopped with {done.returncode}'})")
    return read(done.stdout)


def read(answer: str) -> Audit:
    """What an answer says: a package that was passed over was not asked about."""
    told = [one for one in json.loads(answer)["dependencies"] if "vulns" in one]
    known = tuple(
        f"  {one['name']} {one['version']}: {found['id']}"
        + (f", mended in {', '.join(found['fix_versions'])}" if found["fix_versions"] else ", not mended yet")
        for one in told
        for found in one["vulns"]
    )
    return Audit(len(told), known, "" if told else "it knows none of these packages")


def audit_all(locks: Sequence[Path]) -> bool:
    """Audit lock files and tell what came of it; whether the run may go on."""
    answers = []
    for lock in locks:
        answers.append(audit(lock))
        print(*answers[-1].lines(lock.name), sep="\n", flush=True)
        if not answers[-1].asked:
            break  # the next would not be answered either
    return all(answer.passes for answer in answers)


if __name__ == "__main__":
    raise SystemExit(0 if audit_all([Path(name) for name in sys.argv[1:]]) else 1)
