"""The two homes that steps run in, each in folders and services of its own."""

import contextlib
import os
import tempfile
from collections.abc import Iterator
from functools import cached_property

from firm.management.services import postgres_cluster, redis_server
from firm.management.verifying.step import Surroundings


class Homes:
    """Begins PostgreSQL and Redis when first needed, and ends them with itself."""

    def __init__(self) -> None:
        self._to_end = contextlib.ExitStack()

    def __enter__(self) -> "Homes":
        return self

    def __exit__(self, *_: object) -> None:
        self._to_end.close()

    @cached_property
    def database_url(self) -> str:
        return self._to_end.enter_context(postgres_cluster())

    @cached_property
    def redis_url(self) -> str:
        return self._to_end.enter_context(redis_server())

    @contextlib.contextmanager
    def surroundings(self, home: str) -> Iterator[Surroundings]:
        """Give an environment with nothing of the developer's own firm in it."""
        with tempfile.TemporaryDirectory(prefix="firm-verify-") as folder:
            clean = {
                name: value
                for name, value in os.environ.items()
                if not name.startswith(("FIRM_", "DJANGO_"))
            }
            clean |= {"FIRM_BOOTSTRAP": "0", "FIRM_HOME": f"{folder}/home"}
            if home == "served":
                clean |= self.served()
            yield clean

    def served(self) -> Surroundings:
        return {
            "FIRM_DATABASE_URL": self.database_url,
            "FIRM_BROKER_URL": self.redis_url,
            # The tests make and drop a database of this name themselves.
            "FIRM_TEST_DATABASE_URL": f"{self.database_url}_tests",
            "FIRM_TEST_REDIS_URL": self.redis_url,
        }
