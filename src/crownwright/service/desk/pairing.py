"""Letting a phone in: a code shown on the machine that holds the book, good once and for a short while, few tries."""

from __future__ import annotations

import hashlib
import hmac
import secrets
import threading
import time
import uuid
from collections.abc import Callable
from dataclasses import dataclass, field

GOOD_FOR = 600.0  # s
TRIES = 5  # wrong codes before the code is void
WAIT = 30.0  # s; one address may be wrong this often in a minute, and everybody together
MOST_WRONG = 20


@dataclass(frozen=True, slots=True)
class PairingCode:
    """A code to type on the phone, and how many seconds it holds."""

    code: str
    good_for: int


@dataclass(slots=True)
class Pairing:
    """The code that holds just now, if any, and the wrong tries. Kept in memory: a restart makes every code void."""

    clock: Callable[[], float] = time.monotonic  # a clock that cannot be set
    _code: str = ""
    _until: float = 0.0
    _tries: int = 0
    _wrong: list[float] = field(default_factory=list)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def begin(self) -> PairingCode:
        """A new code; one shown before is void."""
        with self._lock:
            self._code, self._until, self._tries = f"{secrets.randbelow(10**8):08d}", self.clock() + GOOD_FOR, 0
            return PairingCode(self._code, round(GOOD_FOR))

    def held(self) -> PairingCode | None:
        """The code that holds just now, for whoever sits at the desk."""
        with self._lock:
            left = self._until - self.clock()
            return PairingCode(self._code, round(left)) if self._code and left > 0 else None

    def end(self) -> None:
        """Make the code void."""
        with self._lock:
            self._code = ""

    def wait(self) -> float:
        """Seconds until another code may be tried; 0 when it may be now."""
        with self._lock:
            return self._wait()

    def accept(self, code: str) -> bool:
        """Whether this is the code; then it is used up. Wrong too often, it is void, and nobody may try for a while."""
        with self._lock:
            if self._wait() or not self._code or self.clock() > self._until:
                return False
            right = hmac.compare_digest(self._code.encode(), "".join(code.split()).replace("-", "").encode("utf-8", "replace"))
            self._tries += 1
            if not right:
                self._wrong = [*self._wrong[-MOST_WRONG:], self.clock()]
            if right or self._tries >= TRIES:
                self._code = ""
            return right

    def _wait(self) -> float:
        recent = [at for at in self._wrong if self.clock() - at < WAIT]
        return max(0.0, recent[0] + WAIT - self.clock()) if len(recent) >= TRIES else 0.0


def new_token() -> tuple[str, str]:
    """A token for a device, and the hash under which the book knows it (256 random bits: no salt is needed)."""
    token = secrets.token_urlsafe(32)
    return token, hash_of(token)


def hash_of(token: str) -> str:
    """The hash of a token."""
    return hashlib.sha256(token.encode("utf-8", "replace")).hexdigest()


def new_id() -> str:
    """An id for a thing that is new in the book."""
    return str(uuid.uuid4())
