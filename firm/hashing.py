"""Passwords: Argon2 at a cost that twenty people signing in at once can bear."""

from threading import BoundedSemaphore

from django.contrib.auth.hashers import Argon2PasswordHasher

# Each hash holds 64 MiB, so four at a time keep a small machine standing.
_ROOM = BoundedSemaphore(4)


class MeasuredArgon2(Argon2PasswordHasher):
    """Above the floor of 19 MiB and two passes that OWASP's storage sheet sets."""

    memory_cost = 65_536
    time_cost = 3
    parallelism = 1

    def encode(self, password: str, salt: str) -> str:
        with _ROOM:
            encoded: str = super().encode(password, salt)
            return encoded

    def verify(self, password: str, encoded: str) -> bool:
        with _ROOM:
            return bool(super().verify(password, encoded))
