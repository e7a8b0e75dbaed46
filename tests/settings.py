"""The firm's settings in a home of its own, with quick passwords."""

import atexit
import os
import shutil
import tempfile

HOME = tempfile.mkdtemp(prefix="firm-tests-")
atexit.register(shutil.rmtree, HOME, ignore_errors=True)

for name in [name for name in os.environ if name.startswith("FIRM_")]:
    if not name.startswith("FIRM_TEST_"):
        del os.environ[name]
os.environ["FIRM_HOME"] = HOME
# A file even embedded: in memory every thread would share one connection.
os.environ["FIRM_DATABASE_URL"] = os.environ.get(
    "FIRM_TEST_DATABASE_URL", f"sqlite:///{HOME}/firm.sqlite3"
)
os.environ["FIRM_BROKER_URL"] = os.environ.get("FIRM_TEST_REDIS_URL", "memory://")

from firm.settings import *  # noqa: E402, F403 - the environment above comes first

# One name for both, so that a process started by a test finds the test's database.
DATABASES["default"]["TEST"] = {"NAME": DATABASES["default"]["NAME"]}  # noqa: F405
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
