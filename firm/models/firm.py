from decimal import Decimal

from django.db import models


class Firm(models.Model):
    """The firm itself: one row, read by every paper and letter."""

    name = models.CharField(max_length=80)
    address = models.TextField(help_text="One line each, as on an envelope.")
    postcode = models.CharField(max_length=8)
    phone = models.CharField(max_length=20)
    email = models.EmailField()
    is_vat_registered = models.BooleanField(default=True)
    vat_number = models.CharField(max_length=12, blank=True)
    quote_valid_days = models.PositiveSmallIntegerField(default=30)
    payment_days = models.PositiveSmallIntegerField(default=14)
    void_threshold_m2 = models.DecimalField(
        max_digits=4, decimal_places=2, default=Decimal("2.00")
    )
    drying_counts_clear_days = models.BooleanField(default=True)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=models.Q(pk=1), name="firm_is_one"),
            models.CheckConstraint(
                condition=models.Q(is_vat_registered=False) | ~models.Q(vat_number=""),
                name="firm_registered_has_vat_number",
                violation_error_message="A VAT-registered firm needs its VAT number.",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class Payee(models.Model):
    """The account that customers pay into; a change is a new row, never an edit."""

    account_name = models.CharField(max_length=80)
    sort_code = models.CharField(max_length=8)
    account_number = models.CharField(max_length=8)
    active_from_at = models.DateTimeField()

    class Meta:
        ordering = ["-active_from_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(sort_code__regex=r"^[0-9]{2}-[0-9]{2}-[0-9]{2}$"),
                name="payee_sort_code_shape",
                violation_error_message="Give the sort code as 00-00-00.",
            ),
            models.CheckConstraint(
                condition=models.Q(account_number__regex=r"^[0-9]{8}$"),
                name="payee_account_number_shape",
                violation_error_message="Give the account number as eight digits.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.account_name}, ending {self.account_number[-4:]}"


class FirmFigure(models.Model):
    """The firm's own figure in place of one that the trade data holds."""

    code = models.CharField(max_length=24, unique=True)
    value = models.DecimalField(max_digits=12, decimal_places=4)
    reason = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["code"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(value__gte=0),
                name="firm_figure_not_negative",
                violation_error_message="A figure of the firm's cannot be below zero.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.code} = {self.value.normalize():f}"
