from django.db import models

from firm.models import Notice
from firm.models.notice import NoticeQuerySet


def notices_for_job(job_id: int) -> NoticeQuerySet:
    of_the_job = models.Q(job_id=job_id) | models.Q(about_kind="job", about_id=job_id)
    return Notice.objects.filter(of_the_job).select_related("paper")


def waiting() -> NoticeQuerySet:
    """Letters that will go, the next one first."""
    return Notice.objects.waiting().select_related("paper").order_by("due_at", "pk")


def stuck() -> NoticeQuerySet:
    """Letters that wait for somebody to decide."""
    return Notice.objects.for_a_person().select_related("paper")


def settled() -> NoticeQuerySet:
    """Letters that went or were stopped, the latest first."""
    done = [Notice.State.SENT, Notice.State.STOPPED]
    letters = Notice.objects.filter(state__in=done).select_related("paper")
    return letters.order_by("-settled_at", "-pk")
