from django.db import models


class OtherTrade(models.Model):
    """Somebody else's work that ours waits for, or that waits for ours."""

    class Side(models.TextChoices):
        BEFORE = "before", "Before us"
        AFTER = "after", "After us"

    class Sure(models.TextChoices):
        PROMISED = "promised", "Promised"
        EXPECTED = "expected", "Expected"
        UNKNOWN = "unknown", "Not known"

    class Follows(models.TextChoices):
        MIST = "mist", "Mist coat"
        SECOND_FIX = "second", "Second fix"
        TILES = "tiles", "Tiling"
        NONE = "", "Nothing of ours"

    job = models.ForeignKey("jobs.Job", models.CASCADE, related_name="other_trades")
    side = models.CharField(max_length=6, choices=Side)
    trade = models.CharField(max_length=60)
    who = models.CharField(max_length=80, blank=True)
    phone = models.CharField(max_length=20, blank=True)
    ready_on = models.DateField(null=True, blank=True)
    sure = models.CharField(max_length=8, choices=Sure, default=Sure.UNKNOWN)
    follows = models.CharField(max_length=6, choices=Follows, blank=True)

    class Meta:
        ordering = ["side", "ready_on", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(sure="unknown", ready_on__isnull=True)
                | (~models.Q(sure="unknown") & models.Q(ready_on__isnull=False)),
                name="other_trade_date_or_unknown",
                violation_error_message="Give the day, or say that it is not known.",
            ),
        ]

    def __str__(self) -> str:
        return self.trade
