import pytest

from jobs.actions.job import mark_lost
from quotes.queries.quote import quotes_out
from tests import make
from tests.quotes.test_quote import sent

pytestmark = pytest.mark.django_db


def test_nobody_waits_for_an_answer_about_a_job_that_is_lost():
    version = sent()
    assert list(quotes_out(make.TODAY)) == [version]
    mark_lost(version.quote.job_id, because="Too dear", by=make.office(), now=make.NOW)
    assert list(quotes_out(make.TODAY)) == []
