"""Pairing a device: a code shown once, that a device gives up for a secret of its own.

The code stands in the address after '#', which no browser sends: it is in no log. Codes are used
once and soon forgotten; a guess is answered slowly. Of a device's secret only a digest is kept.
"""

from __future__ import annotations

import hmac
import secrets
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from hashlib import sha256
from math import inf
from threading import Lock

from barstock.bench.log import Log

COOKIE = "barstock_device"
LASTS = 180 * 24 * 3600
"""How long a device stays paired [seconds]."""
CODE_LASTS = 600.0
"""How long a code may be used [seconds]."""
LETTERS = "ABCDEFGHJKMNPQRSTVWXYZ23456789"
"""What cannot be mistaken for something else."""
LENGTH = 12
"""Letters of a code: about 59 bits."""
FRESH = 1.0
"""How long the paired devices are remembered before the log is asked again [seconds]."""
TRIES = 20
"""Wrong codes within CODE_LASTS before all wait."""


def digest(secret: str) -> str:
    """What is kept of a secret."""
    return sha256(secret.encode()).hexdigest()


@dataclass
class Pairing:
    """The codes that are open, and the devices that are paired."""

    log: Log
    clock: Callable[[], float] = time.monotonic
    _codes: dict[str, float] = field(default_factory=dict)
    _wrong: list[float] = field(default_factory=list)
    _devices: dict[str, str] = field(default_factory=dict)
    _until: float = -inf
    _lock: Lock = field(default_factory=Lock)

    def code(self) -> str:
        """A new code; those before it stay open until they are used or too old."""
        new = "".join(secrets.choice(LETTERS) for _ in range(LENGTH))
        with self._lock:
            self._codes[new] = self.clock() + CODE_LASTS
        return new

    def pair(self, code: str, name: str) -> str | None:
        """The secret of a device newly paired; None where the code is wrong, used or too old."""
        given = "".join(letter for letter in code.upper() if letter in LETTERS)
        with self._lock:
            now = self.clock()
            self._wrong = [at for at in self._wrong if at > now - CODE_LASTS]
            self._codes = {c: until for c, until in self._codes.items() if until > now}
            if len(self._wrong) >= TRIES:
                return None
            found = next((c for c in self._codes if hmac.compare_digest(c, given)), None)
            if found is None:
                self._wrong.append(now)
                return None
            del self._codes[found]
        secret = secrets.token_urlsafe(32)
        self.log.pair(digest(secret), name)
        self._until = -inf
        return secret

    def part_with(self, mark: str) -> None:
        """Forget a device: it has to be paired again."""
        self.log.part_with(mark)
        self._until = -inf

    @property
    def stale(self) -> bool:
        """Is the log to be asked again who is paired?"""
        return self.clock() >= self._until

    def refresh(self) -> None:
        """Ask the log who is paired. Raises SQLAlchemyError where it is out of reach."""
        until = self.clock() + FRESH
        self._devices = self.log.devices()
        self._until = until

    def device(self, secret: str | None) -> str | None:
        """The name of the device that has this secret; None where none has."""
        return self._devices.get(digest(secret)) if secret else None


def spaced(code: str) -> str:
    """A code as it is read out.

    >>> spaced("ABCDEFGHJKMN")
    'ABCD EFGH JKMN'
    """
    return " ".join(code[n : n + 4] for n in range(0, len(code), 4))
