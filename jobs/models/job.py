from django.db import models
from django.urls import reverse


class JobQuerySet(models.QuerySet["Job"]):
    def live(self) -> "JobQuerySet":
        return self.exclude(stage__in=[Job.Stage.DONE, Job.Stage.LOST])

    def at_stage(self, *stages: str) -> "JobQuerySet":
        return self.filter(stage__in=stages)

    def with_people(self) -> "JobQuerySet":
        return self.select_related("customer", "site")


class Job(models.Model):
    """One piece of work at one place, from the call to the finished wall."""

    class Stage(models.TextChoices):
        ENQUIRY = "enquiry", "Rang in"
        VISIT = "visit", "Visit booked"
        LOOKED = "looked", "Looked at"
        QUOTED = "quoted", "Quote is out"
        WON = "won", "Said yes"
        BOOKED = "booked", "In the diary"
        DONE = "done", "Finished"
        LOST = "lost", "Not going ahead"

    number = models.PositiveIntegerField(unique=True)
    customer = models.ForeignKey("jobs.Customer", models.PROTECT, related_name="jobs")
    site = models.ForeignKey("jobs.Site", models.PROTECT, related_name="jobs")
    what = models.CharField(max_length=120)
    stage = models.CharField(max_length=8, choices=Stage, default=Stage.ENQUIRY)
    wanted_by_on = models.DateField(null=True, blank=True)
    finished_on = models.DateField(null=True, blank=True)
    lost_because = models.CharField(max_length=200, blank=True)
    opened_at = models.DateTimeField()

    objects = JobQuerySet.as_manager()

    class Meta:
        ordering = ["-number"]
        indexes = [models.Index(fields=["stage"], name="job_stage")]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(
                    stage__in=[
                        *["enquiry", "visit", "looked", "quoted"],
                        *["won", "booked", "done", "lost"],
                    ]
                ),
                name="job_stage_known",
            ),
            models.CheckConstraint(
                condition=models.Q(stage="done", finished_on__isnull=False)
                | (~models.Q(stage="done") & models.Q(finished_on__isnull=True)),
                name="job_done_has_a_day",
                violation_error_message="A finished job needs the day it was finished.",
            ),
        ]

    def __str__(self) -> str:
        return f"Job {self.number}: {self.what}"

    def get_absolute_url(self) -> str:
        return reverse("jobs:job", args=[self.pk])


class Enquiry(models.Model):
    """What was said when the phone rang."""

    job = models.OneToOneField(Job, models.CASCADE, related_name="enquiry")
    said = models.TextField()
    others_on_site = models.CharField(max_length=200, blank=True)
    heard_of_us = models.CharField(max_length=80, blank=True)
    taken_by = models.ForeignKey("firm.Person", models.PROTECT, related_name="+")
    taken_at = models.DateTimeField()

    class Meta:
        ordering = ["-taken_at"]
        verbose_name_plural = "enquiries"

    def __str__(self) -> str:
        return f"Enquiry for {self.job}"
