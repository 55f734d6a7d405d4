"""What a process that plans, or keeps plans, does before it loads anything: what pays for large work gets in the way of plans."""

from __future__ import annotations

import gc
import os

PACE = (10_000, 10, 100)
"""New objects before the youngest are looked through for cycles that nobody holds, and how often older ones are. A plan keeps
2,700 objects and no cycle, and parts of a hundred are kept: at the usual pace all were looked through once in sixty plans,
measured on two cores: an eighth of a second in which nothing is answered.
"""


def calm() -> None:
    """Let the linear algebra of this process run in one thread, matrices being small, and look for cycles at a slow pace.

    It must run before NumPy is loaded.
    """
    for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
        os.environ.setdefault(name, "1")
    gc.set_threshold(*PACE)


def begin_planning() -> None:
    """What a planning process does first. Its parent alone tells it to stop: Ctrl-C reaches both, and is the parent's business;
    and it does not outlive a parent that was killed.
    """
    import signal
    import threading

    calm()
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_follow_the_parent, daemon=True).start()


def _follow_the_parent() -> None:
    from multiprocessing import parent_process

    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(0)


def awake() -> None:
    """Load what a plan needs, so that the first plan asked for does not wait for it."""
    import crownwright.plan.plan_job  # noqa: F401
