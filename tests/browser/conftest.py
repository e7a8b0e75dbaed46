"""The firm opened for a browser, and the browsers of those who are not the office."""

from collections.abc import Iterator

import pytest
from django.utils.timezone import localdate
from playwright.sync_api import Browser, Page

from jobs.engine.slots import Half, run_of
from jobs.models import Job
from jobs.queries.calendar import working_days_around
from tests import conftest, make
from tests.browser.running import Running, let_sign_in, whole_firm


@pytest.fixture
def running() -> Iterator[Running]:
    """Open the firm: its people, prices, a neighbour's visit, and a crew at work."""
    make.firm()
    make.payee()
    blue, red = make.crew(), make.crew("Red crew")
    for role in ("owner", "office", "lead", "crew", "books"):
        out = {"lead", "crew"}
        let_sign_in(make.person(role, crew=blue if role in out else None))
    make.rates()
    make.prices()
    make.site(make.customer())
    nell = make.customer(
        "Nell Nextdoor", phone="+447700900456", email="nell@example.com"
    )
    make.visit(make.job("visit", of=nell), on=make.tomorrow())
    days = working_days_around(localdate())
    busy = make.won_job(of=nell)
    make.booking(busy, run_of(Half(make.tomorrow(), "am"), 4, days), crew=red)
    Job.objects.filter(pk=busy.pk).update(stage="booked")
    with whole_firm() as firm:
        yield firm


@pytest.fixture
def customer(chromium: Browser) -> Iterator[Page]:
    yield from conftest.quiet_page(chromium.new_context(viewport=conftest.PHONE))


@pytest.fixture
def crew(chromium: Browser) -> Iterator[Page]:
    yield from conftest.quiet_page(
        chromium.new_context(viewport=conftest.PHONE, has_touch=True, is_mobile=True)
    )
