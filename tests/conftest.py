"""What every test may ask for: a browser window, and the two homes' marks."""

import os
import shutil
from collections.abc import Iterator

import hypothesis
import pytest
from django.db import connection
from django.test import TransactionTestCase
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from firm.models import guards

# A busy machine is slow, not wrong; and a run of CI can be run again alike.
hypothesis.settings.register_profile(
    "house", deadline=None, derandomize="CI" in os.environ
)
hypothesis.settings.load_profile("house")

# Looking for doctests there would run the settings a second time.
collect_ignore = ["settings.py"]

CHROMIUM_FLAGS = [
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
DESK = {"width": 1280, "height": 800}
PHONE = {"width": 375, "height": 812}
# A refused form answers 422 by design, and Chromium logs every answer above 399.
EXPECTED_CONSOLE_LINE = "the server responded with a status of 422"


def pytest_collection_modifyitems(
    config: pytest.Config, items: list[pytest.Item]
) -> None:
    """Leave out the tests of the served home when its services are not there."""
    if "FIRM_TEST_DATABASE_URL" in os.environ:
        return
    left_out = [item for item in items if item.get_closest_marker("served")]
    items[:] = [item for item in items if item not in left_out]
    config.hook.pytest_deselected(items=left_out)


@pytest.fixture(scope="session", autouse=True)
def _guards_step_aside_between_tests() -> Iterator[None]:
    """Let Django empty the tables after a test; it puts the guards back itself."""
    empty_the_tables = TransactionTestCase._fixture_teardown

    def step_aside(case: TransactionTestCase) -> None:
        take_guards_off()
        empty_the_tables(case)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(TransactionTestCase, "_fixture_teardown", step_aside)
        yield


def take_guards_off() -> None:
    """Drop the triggers of tables that only ever grow."""
    with connection.cursor() as cursor:
        for guard in guards.KNOWN.values():
            on_table = "" if connection.vendor == "sqlite" else f" ON {guard.table}"
            cursor.execute(f"DROP TRIGGER IF EXISTS {guard.name}{on_table}")


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    """Debian's own Chromium, without a window."""
    program = shutil.which("chromium")
    if program is None:
        pytest.fail("Chromium is not installed: python3 manage.py verify brings it.")
    # Playwright keeps a loop running in this thread, which Django takes for async.
    with pytest.MonkeyPatch.context() as patch, sync_playwright() as playwright:
        patch.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
        browser = playwright.chromium.launch(
            executable_path=program, args=CHROMIUM_FLAGS
        )
        yield browser
        browser.close()


@pytest.fixture
def desk(chromium: Browser) -> Iterator[Page]:
    """A page as wide as the office's screen."""
    yield from quiet_page(chromium.new_context(viewport=DESK))


@pytest.fixture
def phone(chromium: Browser) -> Iterator[Page]:
    """A page as wide as a small phone held upright."""
    context = chromium.new_context(viewport=PHONE, has_touch=True, is_mobile=True)
    yield from quiet_page(context)


@pytest.fixture
def without_script(chromium: Browser) -> Iterator[Page]:
    """A page in a browser that runs no script."""
    context = chromium.new_context(viewport=DESK, java_script_enabled=False)
    yield from quiet_page(context)


def quiet_page(context: BrowserContext) -> Iterator[Page]:
    """Give a page, then fail if anything in its window complained."""
    complaints: list[str] = []
    context.on(
        "console",
        lambda line: complaints.append(line.text) if line.type == "error" else None,
    )
    context.on("weberror", lambda fault: complaints.append(str(fault.error)))
    yield context.new_page()
    context.close()
    unexpected = [line for line in complaints if EXPECTED_CONSOLE_LINE not in line]
    assert unexpected == [], "the browser's console must stay empty"
