from django.db import models
from django.http import Http404

from firm import may
from firm.models import Notice, NoticeAttempt, Person
from firm.models.notice import NoticeQuerySet

A_PAGE = 50


def notices_for_job(job_id: int) -> NoticeQuerySet:
    of_the_job = models.Q(job_id=job_id) | models.Q(about_kind="job", about_id=job_id)
    return Notice.objects.filter(of_the_job).select_related("paper")


def waiting() -> NoticeQuerySet:
    """Letters that will go, the next one first."""
    return Notice.objects.waiting().select_related("paper").order_by("due_at", "pk")


def stuck() -> NoticeQuerySet:
    """Letters that wait for somebody to decide."""
    return Notice.objects.for_a_person().select_related("paper")


def settled(*, before: Notice | None = None) -> NoticeQuerySet:
    """Letters that went or were stopped, the latest first, from one row on."""
    done = [Notice.State.SENT, Notice.State.STOPPED]
    letters = Notice.objects.filter(state__in=done).order_by("-settled_at", "-pk")
    if before is None:
        return letters
    earlier = models.Q(settled_at__lt=before.settled_at)
    same_time = models.Q(settled_at=before.settled_at, pk__lt=before.pk)
    return letters.filter(earlier | same_time)


def letter_for(person: Person, notice_id: int) -> Notice:
    """Return a letter to somebody who may see the tray; else it is not found."""
    letter = Notice.objects.select_related("paper").filter(pk=notice_id).first()
    if letter is None or not may.see_the_tray(person):
        raise Http404("There is no such letter in the tray.")
    return letter


def attempts_of(letter: Notice) -> models.QuerySet[NoticeAttempt]:
    return NoticeAttempt.objects.filter(notice=letter)
