from decimal import Decimal

from django.db import models
from django.db.models import Q


class Payment(models.Model):
    """Money that came in."""

    class Method(models.TextChoices):
        BANK = "bank", "Bank transfer"
        CARD = "card", "Card"
        CASH = "cash", "Cash"
        CHEQUE = "cheque", "Cheque"

    customer = models.ForeignKey(
        "jobs.Customer", models.PROTECT, related_name="payments"
    )
    received_on = models.DateField()
    amount_gbp = models.DecimalField(max_digits=10, decimal_places=2)
    method = models.CharField(max_length=6, choices=Method, default=Method.BANK)
    reference = models.CharField(max_length=80, blank=True)
    form_key = models.UUIDField(
        unique=True, help_text="Made with the form, so that pressing twice enters once."
    )
    entered_by = models.ForeignKey("firm.Person", models.PROTECT, related_name="+")
    entered_at = models.DateTimeField()

    # Added by payments_with_rest().
    left_gbp: Decimal

    class Meta:
        ordering = ["-received_on", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(amount_gbp__gt=Decimal(0)),
                name="payment_more_than_nothing",
                violation_error_message="A payment is more than nothing.",
            ),
        ]

    def __str__(self) -> str:
        return f"£{self.amount_gbp} on {self.received_on:%-d %b %Y}"


class Allocation(models.Model):
    """The part of a payment that pays a bill."""

    payment = models.ForeignKey(Payment, models.PROTECT, related_name="allocations")
    bill = models.ForeignKey(
        "invoices.Bill", models.PROTECT, related_name="allocations"
    )
    amount_gbp = models.DecimalField(max_digits=10, decimal_places=2)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["payment", "bill"], name="allocation_once_a_pair"
            ),
            models.CheckConstraint(
                condition=Q(amount_gbp__gt=Decimal(0)),
                name="allocation_more_than_nothing",
            ),
        ]

    def __str__(self) -> str:
        return f"£{self.amount_gbp} to {self.bill}"


class Reversal(models.Model):
    """A payment taken back: it bounced, or it was entered by mistake."""

    payment = models.OneToOneField(Payment, models.PROTECT, related_name="reversal")
    because = models.CharField(max_length=200)
    by = models.ForeignKey("firm.Person", models.PROTECT, related_name="+")
    at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.payment} taken back: {self.because}"
