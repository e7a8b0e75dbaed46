from datetime import time

from django.db import models

# When visits may start. Fixed times keep two visits from overlapping, so the
# database alone can refuse a clash.
VISIT_TIMES = (
    time(8, 0),
    time(9, 30),
    time(11, 0),
    time(13, 0),
    time(14, 30),
    time(16, 0),
    time(17, 30),
)


class VisitQuerySet(models.QuerySet["Visit"]):
    def standing(self) -> "VisitQuerySet":
        return self.filter(state=Visit.State.BOOKED)


class Visit(models.Model):
    """Going to see what is on the wall."""

    class State(models.TextChoices):
        BOOKED = "booked", "Booked"
        DONE = "done", "Seen"
        OFF = "off", "Called off"

    job = models.ForeignKey("jobs.Job", models.CASCADE, related_name="visits")
    person = models.ForeignKey("firm.Person", models.PROTECT, related_name="visits")
    on = models.DateField()
    at = models.TimeField()
    state = models.CharField(max_length=6, choices=State, default=State.BOOKED)

    objects = VisitQuerySet.as_manager()

    class Meta:
        ordering = ["on", "at"]
        constraints = [
            models.UniqueConstraint(
                fields=["person", "on", "at"],
                condition=models.Q(state="booked"),
                name="visit_one_place_at_a_time",
                violation_error_message="There is another visit at that time.",
            ),
            models.UniqueConstraint(
                fields=["job"],
                condition=models.Q(state="booked"),
                name="visit_one_standing_a_job",
                violation_error_message="This job has a visit booked already.",
            ),
            models.CheckConstraint(
                condition=models.Q(at__in=VISIT_TIMES),
                name="visit_at_a_visit_time",
                violation_error_message="Pick one of the visit times.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person} to {self.job} on {self.on:%-d %b} at {self.at:%H:%M}"
