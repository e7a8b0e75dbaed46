from datetime import date

from django.db import models


class BookingQuerySet(models.QuerySet["Booking"]):
    def standing(self) -> "BookingQuerySet":
        return self.filter(state=Booking.State.BOOKED)

    def touching(self, first_on: date, last_on: date) -> "BookingQuerySet":
        return self.filter(first_on__lte=last_on, last_on__gte=first_on)


class Booking(models.Model):
    """A crew put on a job for a run of half-days."""

    class State(models.TextChoices):
        BOOKED = "booked", "Booked"
        OFF = "off", "Called off"

    job = models.ForeignKey("jobs.Job", models.PROTECT, related_name="bookings")
    crew = models.ForeignKey("firm.Crew", models.PROTECT, related_name="bookings")
    state = models.CharField(max_length=6, choices=State, default=State.BOOKED)
    first_on = models.DateField()
    last_on = models.DateField()
    version = models.PositiveIntegerField(default=1)

    objects = BookingQuerySet.as_manager()

    class Meta:
        ordering = ["first_on", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(last_on__gte=models.F("first_on")),
                name="booking_ends_after_it_starts",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.crew} on {self.job} from {self.first_on:%-d %b}"


class BookedHalf(models.Model):
    """Half a day of a crew. The database gives each one away once."""

    class Half(models.TextChoices):
        MORNING = "am", "Morning"
        AFTERNOON = "pm", "Afternoon"

    booking = models.ForeignKey(Booking, models.CASCADE, related_name="halves")
    crew = models.ForeignKey("firm.Crew", models.PROTECT, related_name="+")
    on = models.DateField()
    half = models.CharField(max_length=2, choices=Half)

    class Meta:
        ordering = ["on", "half"]
        constraints = [
            models.UniqueConstraint(
                fields=["crew", "on", "half"],
                name="half_day_given_once",
                violation_error_message="The crew is on another job that half-day.",
            ),
            models.CheckConstraint(
                condition=models.Q(half__in=["am", "pm"]), name="half_is_am_or_pm"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.crew} {self.on:%-d %b} {self.half}"
