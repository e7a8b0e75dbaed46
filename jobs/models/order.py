from decimal import Decimal

from django.db import models
from django.urls import reverse


class Merchant(models.Model):
    """A place that sells plaster and brings it."""

    name = models.CharField(max_length=80, unique=True)
    email = models.EmailField()
    phone = models.CharField(max_length=20, blank=True)
    lead_working_days = models.PositiveSmallIntegerField(default=2)
    is_active = models.BooleanField(default=True)

    class Meta:
        ordering = ["name"]

    def __str__(self) -> str:
        return self.name


class PackPrice(models.Model):
    """What a merchant asks for a pack, and how much is in it."""

    merchant = models.ForeignKey(Merchant, models.CASCADE, related_name="prices")
    item_code = models.CharField(max_length=16)
    pack = models.CharField(max_length=40)
    price_gbp = models.DecimalField(max_digits=8, decimal_places=2)

    class Meta:
        ordering = ["item_code", "price_gbp"]
        constraints = [
            models.UniqueConstraint(
                fields=["merchant", "item_code", "pack"], name="pack_price_once"
            ),
            models.CheckConstraint(
                condition=models.Q(price_gbp__gte=Decimal(0)),
                name="pack_price_not_negative",
                violation_error_message="A price cannot be below zero.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.item_code} {self.pack} £{self.price_gbp}"


class MaterialOrder(models.Model):
    """One order to one merchant with a drop at one site."""

    class State(models.TextChoices):
        DRAFT = "draft", "Being written"
        SENT = "sent", "Sent"
        ARRIVED = "arrived", "On site"
        OFF = "off", "Called off"

    number = models.PositiveIntegerField(unique=True, null=True, blank=True)
    merchant = models.ForeignKey(Merchant, models.PROTECT, related_name="orders")
    job = models.ForeignKey("jobs.Job", models.PROTECT, related_name="orders")
    state = models.CharField(max_length=8, choices=State, default=State.DRAFT)
    wanted_on = models.DateField()
    sent_at = models.DateTimeField(null=True, blank=True)
    paper = models.ForeignKey(
        "firm.Paper", models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(state__in=["draft", "off"])
                | models.Q(number__isnull=False, sent_at__isnull=False),
                name="sent_order_has_a_number",
            ),
        ]

    def __str__(self) -> str:
        return f"Order {self.number or 'being written'} to {self.merchant}"

    def get_absolute_url(self) -> str:
        return reverse("jobs:order", args=[self.pk])


class OrderLine(models.Model):
    """So many packs of one thing; a need is ordered once."""

    order = models.ForeignKey(MaterialOrder, models.CASCADE, related_name="lines")
    need = models.OneToOneField(
        "jobs.MaterialNeed", models.PROTECT, related_name="order_line"
    )
    packs = models.PositiveIntegerField()
    arrived_packs = models.PositiveIntegerField(null=True, blank=True)
    trouble = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(packs__gte=1), name="order_line_at_least_a_pack"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.packs} × {self.need.item}"
