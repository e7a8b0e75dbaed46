from django.db import models


class SignedLink(models.Model):
    """A key that opens one paper to somebody with no account.

    Only the digest of the key is kept, so the database opens nothing.
    """

    class Purpose(models.TextChoices):
        QUOTE = "quote", "Read and answer a quote"
        BILL = "bill", "Read a bill"

    digest = models.CharField(max_length=64, unique=True)
    purpose = models.CharField(max_length=8, choices=Purpose)
    about_id = models.BigIntegerField()
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        indexes = [models.Index(fields=["purpose", "about_id"], name="link_about")]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(expires_at__gt=models.F("made_at")),
                name="link_ends_after_it_is_made",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.purpose} {self.about_id}"
