"""A textured coating counts as asbestos until a laboratory has said otherwise."""

import pytest
from django.db import IntegrityError

from firm.engine.refusal import Refused
from quotes.actions.look import LookFacts, change_look
from quotes.models import Look
from quotes.queries.specified import stops
from tests import make

pytestmark = pytest.mark.django_db


def textured_job():
    job = make.quotable_job()
    job.look.rooms.get().walls.update(background=make.TEXTURED)
    return job


def sampled(job, sample: str, report: str = "Lab 4411") -> None:
    change_look(
        job.pk,
        facts=LookFacts(building_year=1978, sample=sample, sample_report=report),
        version=make.version_of(job.look),
        by=make.office(),
        now=make.NOW,
    )


def test_unsampled_texture_stops_the_quote():
    assert any("wall A" in stop for stop in stops(textured_job()))


def test_a_negative_sample_lets_it_be_quoted():
    job = textured_job()
    sampled(job, "negative")
    assert stops(job) == ()


def test_a_positive_sample_stops_it_for_good():
    job = textured_job()
    sampled(job, "positive")
    assert stops(job)


def test_a_result_without_its_report_is_refused():
    job = textured_job()
    with pytest.raises(Refused, match="laboratory's report"):
        sampled(job, "negative", report=" ")
    assert stops(job)


def test_the_database_wants_the_report_too():
    job = textured_job()
    with pytest.raises(IntegrityError):
        Look.objects.filter(job=job).update(sample="negative", sample_report="")
