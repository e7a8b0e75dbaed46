from datetime import date
from decimal import Decimal

from django.db import models
from django.db.models import DecimalField, ExpressionWrapper, F, Q, Sum, Value
from django.db.models.functions import Coalesce
from django.urls import reverse

from firm.engine.refusal import Refused

NOTHING = Decimal("0.00")
# SQLite adds decimals as binary fractions, so a sum may be off by a hair.
HALF_A_PENNY = Decimal("0.005")


class BillQuerySet(models.QuerySet["Bill"]):
    def issued(self) -> "BillQuerySet":
        return self.filter(state=Bill.State.ISSUED)

    def with_balance(self) -> "BillQuerySet":
        """Add ``paid_gbp`` and ``owed_gbp``, re-added from the payments each time."""
        standing = Q(allocations__payment__reversal__isnull=True)
        money = DecimalField(max_digits=12, decimal_places=2)
        paid = Coalesce(
            Sum("allocations__amount_gbp", filter=standing),
            Value(NOTHING, output_field=money),
            output_field=money,
        )
        return self.annotate(  # type: ignore[no-redef]  # the class names what is added
            paid_gbp=paid
        ).annotate(
            owed_gbp=ExpressionWrapper(
                F("payable_gbp") - F("paid_gbp"), output_field=money
            )
        )

    def unpaid(self) -> "BillQuerySet":
        billed = self.issued().with_balance()
        return billed.filter(Q(owed_gbp__gt=HALF_A_PENNY))


class Bill(models.Model):
    """What a customer owes for a job. Issued, it never changes again."""

    class State(models.TextChoices):
        DRAFT = "draft", "Being written"
        ISSUED = "issued", "Issued"

    job = models.ForeignKey("jobs.Job", models.PROTECT, related_name="bills")
    customer = models.ForeignKey("jobs.Customer", models.PROTECT, related_name="bills")
    payee = models.ForeignKey("firm.Payee", models.PROTECT, related_name="+")
    state = models.CharField(max_length=6, choices=State, default=State.DRAFT)
    number = models.PositiveIntegerField(unique=True, null=True, blank=True)
    made_at = models.DateTimeField()
    issued_on = models.DateField(null=True, blank=True)
    tax_point_on = models.DateField(null=True, blank=True)
    due_on = models.DateField(null=True, blank=True)
    net_gbp = models.DecimalField(max_digits=10, decimal_places=2)
    vat_gbp = models.DecimalField(max_digits=10, decimal_places=2)
    gross_gbp = models.DecimalField(max_digits=10, decimal_places=2)
    payable_gbp = models.DecimalField(max_digits=10, decimal_places=2)
    snapshot = models.JSONField(help_text="Names, texts and terms as they were read.")
    paper = models.ForeignKey(
        "firm.Paper", models.PROTECT, null=True, blank=True, related_name="+"
    )

    # Added by with_balance().
    paid_gbp: Decimal
    owed_gbp: Decimal

    objects = BillQuerySet.as_manager()

    class Meta:
        ordering = ["-number", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(
                    state="draft",
                    number__isnull=True,
                    issued_on__isnull=True,
                )
                | Q(
                    state="issued",
                    number__isnull=False,
                    issued_on__isnull=False,
                    tax_point_on__isnull=False,
                    due_on__isnull=False,
                ),
                name="bill_number_comes_with_issue",
            ),
            models.CheckConstraint(
                condition=Q(
                    gross_gbp__gt=F("net_gbp") + F("vat_gbp") - HALF_A_PENNY,
                    gross_gbp__lt=F("net_gbp") + F("vat_gbp") + HALF_A_PENNY,
                ),
                name="bill_adds_up",
            ),
            models.CheckConstraint(
                condition=Q(payable_gbp__gte=0, net_gbp__gte=0, vat_gbp__gte=0),
                name="bill_not_negative",
            ),
            models.UniqueConstraint(
                fields=["job"],
                condition=Q(state="draft"),
                name="bill_one_draft_a_job",
                violation_error_message="A bill for this job is being written already.",
            ),
        ]

    def __str__(self) -> str:
        return f"Bill {self.number}" if self.number else "Bill being written"

    def get_absolute_url(self) -> str:
        return reverse("invoices:bill", args=[self.pk])

    @property
    def falls_due_on(self) -> date:
        """Return the due date, which the database makes every issued bill have."""
        if self.due_on is None:
            raise Refused("A bill falls due only once it has been issued.")
        return self.due_on


class BillLine(models.Model):
    """One line of a bill, with its own net sum and rate."""

    bill = models.ForeignKey(Bill, models.CASCADE, related_name="lines")
    position = models.PositiveSmallIntegerField()
    words = models.CharField(max_length=200)
    net_gbp = models.DecimalField(max_digits=10, decimal_places=2)
    vat_rate_pct = models.DecimalField(max_digits=5, decimal_places=2)

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(
                fields=["bill", "position"], name="bill_line_in_order"
            ),
        ]

    def __str__(self) -> str:
        return self.words


class BillHold(models.Model):
    """Why a bill is not chased: in dispute, promised, or paused by the office."""

    class Kind(models.TextChoices):
        DISPUTE = "dispute", "In dispute"
        PROMISE = "promise", "Promised by a day"
        PAUSE = "pause", "Not chased for now"

    bill = models.ForeignKey(Bill, models.CASCADE, related_name="holds")
    kind = models.CharField(max_length=8, choices=Kind)
    until_on = models.DateField(null=True, blank=True)
    words = models.CharField(max_length=200)
    set_by = models.ForeignKey("firm.Person", models.PROTECT, related_name="+")
    set_at = models.DateTimeField()
    lifted_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-set_at"]
        constraints = [
            models.UniqueConstraint(
                fields=["bill"],
                condition=Q(lifted_at__isnull=True),
                name="bill_one_hold_at_a_time",
                violation_error_message="This bill is on hold already.",
            ),
            models.CheckConstraint(
                condition=~Q(kind="promise") | Q(until_on__isnull=False),
                name="bill_promise_has_a_day",
                violation_error_message="Give the day they promised to pay by.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: {self.words}"
