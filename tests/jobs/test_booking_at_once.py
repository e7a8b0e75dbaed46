"""Sixteen people press the same half-day at the same moment, each a process."""

import multiprocessing
from datetime import date
from multiprocessing.synchronize import Barrier

import pytest
from django.db import connections

from firm.engine.refusal import Refused
from firm.models import Person
from jobs.actions.booking import book_in
from jobs.engine.slots import Half
from jobs.models import BookedHalf, Booking, Job
from tests import make
from tests.making import diary

PEOPLE = 16
MONDAY = date(2026, 3, 9)
processes = multiprocessing.get_context("fork")


def press(job_id: int, crew_id: int, ready: Barrier, answers) -> None:
    office = Person.objects.get(role="office")
    ready.wait(timeout=60)
    try:
        book_in(
            job_id, crew_id=crew_id, start=Half(MONDAY, "am"), by=office, now=make.NOW
        )
        answers.put("booked")
    except Refused as refusal:
        answers.put(str(refusal))
    finally:
        connections.close_all()


@pytest.mark.slow
@pytest.mark.django_db(transaction=True)
def test_one_of_sixteen_gets_the_half_day_and_the_others_a_sentence():
    make.firm()
    office, crew = make.office(), make.crew()
    jobs = [diary.won_job() for _ in range(PEOPLE)]
    assert office.role == "office"
    answers, ready = processes.Queue(), processes.Barrier(PEOPLE)
    # A connection does not survive being shared by two processes.
    connections.close_all()
    presses = [
        processes.Process(target=press, args=(job.pk, crew.pk, ready, answers))
        for job in jobs
    ]
    for each in presses:
        each.start()
    said = [answers.get(timeout=120) for _ in presses]
    for each in presses:
        each.join(timeout=60)
    assert said.count("booked") == 1
    refusals = {words for words in said if words != "booked"}
    winner = Job.objects.get(stage="booked")
    assert refusals == {
        (
            f"Blue crew is already on job {winner.number} Mon 9 Mar morning."
            " Pick another day or another crew."
        )
    }
    assert Booking.objects.count() == 1
    assert BookedHalf.objects.count() == 3
