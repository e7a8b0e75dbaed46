from decimal import Decimal

from django.db import models
from django.urls import reverse

# SQLite adds decimals as binary fractions, so a sum may be off by a hair.
HALF_A_PENNY = Decimal("0.005")


class Quote(models.Model):
    """What the firm offers to do at one job; its versions hold the words and sums."""

    job = models.OneToOneField("jobs.Job", models.PROTECT, related_name="quote")
    number = models.PositiveIntegerField(unique=True)

    class Meta:
        ordering = ["-number"]

    def __str__(self) -> str:
        return f"Quote {self.number}"

    def get_absolute_url(self) -> str:
        return reverse("quotes:quote", args=[self.job_id])


class QuoteVersionQuerySet(models.QuerySet["QuoteVersion"]):
    def out(self) -> "QuoteVersionQuerySet":
        return self.filter(state=QuoteVersion.State.SENT)


class QuoteVersion(models.Model):
    """One quote as it was worked out, and once sent, exactly as it was sent."""

    class State(models.TextChoices):
        DRAFT = "draft", "Being written"
        SENT = "sent", "Sent"
        ACCEPTED = "accepted", "Accepted"
        DECLINED = "declined", "Turned down"
        REPLACED = "replaced", "Replaced by a later one"

    quote = models.ForeignKey(Quote, models.CASCADE, related_name="versions")
    version = models.PositiveSmallIntegerField()
    state = models.CharField(max_length=8, choices=State, default=State.DRAFT)
    made_at = models.DateTimeField()
    sent_at = models.DateTimeField(null=True, blank=True)
    valid_until_on = models.DateField(null=True, blank=True)
    snapshot = models.JSONField(
        help_text="All that page and paper show, and what acceptance hands down."
    )
    digest = models.CharField(max_length=64)
    net_gbp = models.DecimalField(max_digits=10, decimal_places=2)
    vat_gbp = models.DecimalField(max_digits=10, decimal_places=2)
    gross_gbp = models.DecimalField(max_digits=10, decimal_places=2)
    declined_because = models.CharField(max_length=300, blank=True)
    paper = models.ForeignKey(
        "firm.Paper", models.PROTECT, null=True, blank=True, related_name="+"
    )

    objects = QuoteVersionQuerySet.as_manager()

    class Meta:
        ordering = ["-version"]
        constraints = [
            models.UniqueConstraint(
                fields=["quote", "version"], name="quote_version_once"
            ),
            models.UniqueConstraint(
                fields=["quote"],
                condition=models.Q(state__in=["sent", "accepted"]),
                name="quote_one_version_stands",
                violation_error_message="Another version of this quote stands.",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    gross_gbp__gt=models.F("net_gbp")
                    + models.F("vat_gbp")
                    - HALF_A_PENNY,
                    gross_gbp__lt=models.F("net_gbp")
                    + models.F("vat_gbp")
                    + HALF_A_PENNY,
                ),
                name="quote_adds_up",
            ),
            models.CheckConstraint(
                condition=~models.Q(state__in=["sent", "accepted"])
                | models.Q(sent_at__isnull=False, valid_until_on__isnull=False),
                name="quote_sent_has_dates",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.quote}, version {self.version}"


class Acceptance(models.Model):
    """The customer's yes: once a quote, for the exact version that was read."""

    quote = models.OneToOneField(Quote, models.PROTECT, related_name="acceptance")
    version = models.ForeignKey(QuoteVersion, models.PROTECT, related_name="+")
    digest = models.CharField(max_length=64)
    typed_name = models.CharField(max_length=80)
    at = models.DateTimeField()
    from_address = models.GenericIPAddressField(null=True)
    asks_early_start = models.BooleanField(default=False)
    taken_by = models.ForeignKey(
        "firm.Person", models.PROTECT, null=True, related_name="+"
    )
    taken_how = models.CharField(max_length=120, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(taken_by__isnull=True, taken_how="")
                | (models.Q(taken_by__isnull=False) & ~models.Q(taken_how="")),
                name="acceptance_by_office_says_how",
                violation_error_message="Say how the customer said yes.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.typed_name} accepted {self.version}"


class Rates(models.Model):
    """What the firm charges: one row that only the owner changes."""

    plasterer_hour_gbp = models.DecimalField(max_digits=6, decimal_places=2)
    labourer_hour_gbp = models.DecimalField(max_digits=6, decimal_places=2)
    overhead_pct = models.DecimalField(max_digits=5, decimal_places=2)
    margin_pct = models.DecimalField(max_digits=5, decimal_places=2)
    minimum_charge_gbp = models.DecimalField(max_digits=8, decimal_places=2)

    class Meta:
        verbose_name_plural = "rates"
        constraints = [
            models.CheckConstraint(condition=models.Q(pk=1), name="rates_are_one"),
            models.CheckConstraint(
                condition=models.Q(
                    plasterer_hour_gbp__gte=0,
                    labourer_hour_gbp__gte=0,
                    overhead_pct__gte=0,
                    margin_pct__range=(0, 90),
                    minimum_charge_gbp__gte=0,
                ),
                name="rates_not_negative",
                violation_error_message="A rate is not below zero, a margin 0 to 90.",
            ),
        ]

    def __str__(self) -> str:
        return "The firm's rates"
