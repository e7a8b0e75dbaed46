from datetime import date

from django.db import models


class CrewQuerySet(models.QuerySet["Crew"]):
    def working(self) -> "CrewQuerySet":
        return self.filter(is_active=True)


class Crew(models.Model):
    """A plasterer and a mate who go out together."""

    name = models.CharField(max_length=40, unique=True)
    plasterers = models.PositiveSmallIntegerField(default=1)
    labourers = models.PositiveSmallIntegerField(default=1)
    is_active = models.BooleanField(default=True)

    objects = CrewQuerySet.as_manager()

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(plasterers__gte=1),
                name="crew_has_a_plasterer",
                violation_error_message="A crew needs at least one plasterer.",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class TimeOffQuerySet(models.QuerySet["TimeOff"]):
    def touching(self, first_on: date, last_on: date) -> "TimeOffQuerySet":
        return self.filter(first_on__lte=last_on, last_on__gte=first_on)


class TimeOff(models.Model):
    """Days on which a crew does not work, whatever the reason."""

    crew = models.ForeignKey(Crew, models.CASCADE, related_name="time_off")
    first_on = models.DateField()
    last_on = models.DateField()
    reason = models.CharField(max_length=80, blank=True)

    objects = TimeOffQuerySet.as_manager()

    class Meta:
        ordering = ["first_on"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(last_on__gte=models.F("first_on")),
                name="time_off_ends_after_it_starts",
                violation_error_message="The last day off is before the first.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.crew} off {self.first_on:%-d %b} to {self.last_on:%-d %b}"
