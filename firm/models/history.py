from django.db import models


class HistoryQuerySet(models.QuerySet["HistoryLine"]):
    def about(self, kind: str, pk: int) -> "HistoryQuerySet":
        return self.filter(about_kind=kind, about_id=pk)


class HistoryLine(models.Model):
    """Who did what, when: written by every action, never changed or removed."""

    at = models.DateTimeField()
    by = models.ForeignKey("firm.Person", models.PROTECT, null=True)
    by_words = models.CharField(
        max_length=120, blank=True, help_text="Who it was when nobody was signed in."
    )
    about_kind = models.CharField(max_length=20)
    about_id = models.BigIntegerField()
    event = models.CharField(max_length=40)
    words = models.TextField()

    objects = HistoryQuerySet.as_manager()

    class Meta:
        ordering = ["-at", "-pk"]
        indexes = [
            models.Index(fields=["about_kind", "about_id"], name="history_about"),
        ]

    def __str__(self) -> str:
        return self.words
