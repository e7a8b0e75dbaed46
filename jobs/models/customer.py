from django.db import models
from django.db.models.functions import Lower
from django.urls import reverse


class CustomerQuerySet(models.QuerySet["Customer"]):
    def like(self, words: str) -> "CustomerQuerySet":
        """Return those whose name, phone, email or postcode holds the words."""
        digits = "".join(mark for mark in words if mark.isdigit())
        squeezed = words.replace(" ", "").upper()
        match = (
            models.Q(name__icontains=words)
            | models.Q(email__icontains=words)
            | models.Q(postcode_key__startswith=squeezed)
            | models.Q(sites__postcode_key__startswith=squeezed)
        )
        if len(digits) >= 4:
            match |= models.Q(phone__contains=digits.removeprefix("0"))
        return self.filter(match).distinct()


class Customer(models.Model):
    """Somebody who asks for work and pays for it."""

    class Kind(models.TextChoices):
        HOUSEHOLDER = "home", "Householder"
        CONTRACTOR = "main", "Main contractor"
        BUSINESS = "firm", "Business or landlord"

    kind = models.CharField(max_length=4, choices=Kind, default=Kind.HOUSEHOLDER)
    name = models.CharField(max_length=120)
    phone = models.CharField(max_length=20, blank=True, help_text="As +44…")
    email = models.EmailField(blank=True)
    address = models.TextField(blank=True)
    postcode = models.CharField(max_length=8, blank=True)
    postcode_key = models.CharField(max_length=8, blank=True, editable=False)
    made_at = models.DateTimeField()

    objects = CustomerQuerySet.as_manager()

    class Meta:
        ordering = ["name"]
        indexes = [
            models.Index(fields=["phone"], name="customer_phone"),
            models.Index(fields=["postcode_key"], name="customer_postcode"),
        ]
        constraints = [
            models.UniqueConstraint(
                Lower("name"),
                "phone",
                condition=~models.Q(phone=""),
                name="customer_once",
                violation_error_message=(
                    "Somebody of that name with that number is in the book already."
                ),
            ),
            models.CheckConstraint(
                condition=~models.Q(phone="", email=""),
                name="customer_can_be_reached",
                violation_error_message="Give a phone number or an email address.",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        return reverse("jobs:customer", args=[self.pk])

    @property
    def is_consumer(self) -> bool:
        return self.kind == self.Kind.HOUSEHOLDER


class Site(models.Model):
    """A place where plaster goes on."""

    customer = models.ForeignKey(Customer, models.PROTECT, related_name="sites")
    address = models.TextField()
    postcode = models.CharField(max_length=8)
    postcode_key = models.CharField(max_length=8, editable=False)
    way_in = models.CharField(max_length=200, blank=True)
    parking = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["postcode_key", "pk"]

    def __str__(self) -> str:
        return f"{self.address.splitlines()[0]}, {self.postcode}"

    @property
    def district(self) -> str:
        """Return the outward half of the postcode, enough to plan a round."""
        return self.postcode.split(" ", 1)[0]
