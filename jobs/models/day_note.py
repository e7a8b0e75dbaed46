from django.db import models


class DayNote(models.Model):
    """Something a person wrote about a job on the day."""

    job = models.ForeignKey("jobs.Job", models.CASCADE, related_name="day_notes")
    by = models.ForeignKey("firm.Person", models.PROTECT, related_name="+")
    at = models.DateTimeField()
    words = models.TextField()

    class Meta:
        ordering = ["-at"]

    def __str__(self) -> str:
        return self.words[:60]
