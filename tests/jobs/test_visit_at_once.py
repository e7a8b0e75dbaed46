"""Two people on two phones take the same time: the database gives it away once."""

import threading
from datetime import time

import pytest
from django.db import connection

from firm.engine.refusal import Refused
from jobs.actions.visit import book_visit
from jobs.models import Job, Visit
from tests import make


@pytest.mark.django_db(transaction=True)
def test_of_two_bookings_at_once_one_gets_a_sentence():
    make.firm()
    office, facts = make.office(), make.visit_facts()
    others = [make.customer(f"Caller {n}", phone=f"+44163296020{n}") for n in range(4)]
    jobs = [make.job(of=customer) for customer in others]
    answers = at_once([lambda job=job: book(job, facts, office) for job in jobs])
    taken = "Olive has another visit on Mon 9 Mar at 9.30 am. Pick another time."
    assert sorted(answers) == [taken, taken, taken, "booked"]
    assert Visit.objects.get().at == time(9, 30)
    assert Job.objects.filter(stage="visit").count() == 1


def book(job, facts, office):
    try:
        book_visit(job.pk, facts, by=office, now=make.NOW)
    except Refused as refusal:
        return str(refusal)
    return "booked"


def at_once(acts):
    ready, answers = threading.Barrier(len(acts)), []

    def run(act):
        try:
            ready.wait(timeout=10)
            answers.append(act())
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=(act,)) for act in acts]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=30)
    return answers
