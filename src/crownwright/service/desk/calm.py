"""What a planning process does before it loads anything: a plan's matrices are small, threads for them only get in the way."""

from __future__ import annotations

import os


def calm() -> None:
    """Let the linear algebra of this process run in one thread. It must run before NumPy is loaded."""
    for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
        os.environ.setdefault(name, "1")


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
