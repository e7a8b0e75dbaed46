"""A printed paper: wanted by an action, made once, kept by its digest."""

from datetime import datetime

from django.core.serializers.json import DjangoJSONEncoder
from django.db import models
from django.urls import reverse


class PaperQuerySet(models.QuerySet["Paper"]):
    def about(self, kind: str, pk: int) -> "PaperQuerySet":
        return self.filter(about_kind=kind, about_id=pk)

    def due(self, now: datetime) -> "PaperQuerySet":
        return self.filter(state=Paper.State.WANTED, next_try_at__lte=now)

    def lapsed(self, now: datetime) -> "PaperQuerySet":
        return self.filter(state=Paper.State.PRINTING, claimed_until__lt=now)


class Paper(models.Model):
    """One PDF: printed from a snapshot, and never printed again."""

    class State(models.TextChoices):
        WANTED = "wanted", "Wanted"
        PRINTING = "printing", "Being printed"
        MADE = "made", "Made"
        FAILED = "failed", "Could not be printed"

    kind = models.CharField(max_length=32)
    about_kind = models.CharField(max_length=20)
    about_id = models.BigIntegerField()
    title = models.CharField(max_length=160)
    snapshot = models.JSONField(encoder=DjangoJSONEncoder)
    snapshot_digest = models.CharField(max_length=64)
    state = models.CharField(max_length=8, choices=State, default=State.WANTED)
    why = models.TextField(blank=True)
    digest = models.CharField(
        max_length=64, blank=True, help_text="SHA-256 of the PDF, and its place."
    )
    size_bytes = models.PositiveIntegerField(null=True, blank=True)
    wanted_at = models.DateTimeField()
    made_at = models.DateTimeField(null=True, blank=True)
    next_try_at = models.DateTimeField()
    claim = models.PositiveIntegerField(default=0)
    claimed_until = models.DateTimeField(null=True, blank=True)
    tries = models.PositiveSmallIntegerField(default=0)

    objects = PaperQuerySet.as_manager()

    class Meta:
        ordering = ["-wanted_at", "-pk"]
        indexes = [
            models.Index(fields=["state", "next_try_at"], name="paper_due"),
        ]
        constraints = [
            models.UniqueConstraint(
                fields=["kind", "about_kind", "about_id", "snapshot_digest"],
                name="paper_once_a_snapshot",
            ),
            models.CheckConstraint(
                condition=models.Q(state__in=["wanted", "printing", "made", "failed"]),
                name="paper_state_known",
            ),
            models.CheckConstraint(
                condition=models.Q(state="made")
                & ~models.Q(digest="")
                & models.Q(made_at__isnull=False, size_bytes__isnull=False)
                | ~models.Q(state="made") & models.Q(digest=""),
                name="paper_made_has_its_digest",
            ),
            models.CheckConstraint(
                condition=models.Q(state="printing", claimed_until__isnull=False)
                | ~models.Q(state="printing") & models.Q(claimed_until__isnull=True),
                name="paper_printing_has_a_lease",
            ),
        ]

    def __str__(self) -> str:
        return self.title

    def get_absolute_url(self) -> str:
        return reverse("firm:paper", args=[self.pk])

    @property
    def is_made(self) -> bool:
        return self.state == self.State.MADE
