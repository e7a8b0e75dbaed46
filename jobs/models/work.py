"""What an accepted quote hands down: facts for crews, never a price."""

from decimal import Decimal

from django.db import models


class WorkItem(models.Model):
    """One surface to be plastered, as the crew needs to know it."""

    job = models.ForeignKey("jobs.Job", models.CASCADE, related_name="work_items")
    position = models.PositiveSmallIntegerField()
    room = models.CharField(max_length=60)
    what = models.CharField(max_length=200)
    layers = models.TextField(help_text="One layer a line, first on first.")
    is_ceiling = models.BooleanField(default=False)
    area_m2 = models.DecimalField(max_digits=8, decimal_places=3)
    suction = models.CharField(max_length=8)
    plasterer_hours = models.DecimalField(max_digits=7, decimal_places=3)
    labourer_hours = models.DecimalField(max_digits=7, decimal_places=3)
    drying_days = models.PositiveSmallIntegerField()
    drawing = models.TextField(blank=True, help_text="The elevation, as SVG.")
    drawing_words = models.TextField(blank=True)

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "position"], name="work_item_in_order"
            ),
            models.CheckConstraint(
                condition=models.Q(area_m2__gt=Decimal(0)),
                name="work_item_has_an_area",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.room}: {self.what}"


class JobCaution(models.Model):
    """A thing that can hurt somebody on this job, and who decides about it."""

    job = models.ForeignKey("jobs.Job", models.CASCADE, related_name="cautions")
    code = models.CharField(max_length=12)
    words = models.TextField()
    authority = models.TextField()

    class Meta:
        ordering = ["code"]
        constraints = [
            models.UniqueConstraint(fields=["job", "code"], name="job_caution_once"),
        ]

    def __str__(self) -> str:
        return self.code


class MaterialNeed(models.Model):
    """What a job uses up, in whole packs."""

    job = models.ForeignKey("jobs.Job", models.CASCADE, related_name="needs")
    item_code = models.CharField(max_length=16)
    item = models.CharField(max_length=80)
    quantity = models.DecimalField(max_digits=10, decimal_places=3)
    unit = models.CharField(max_length=8)
    pack = models.CharField(max_length=40)
    packs = models.PositiveIntegerField()

    class Meta:
        ordering = ["item_code", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "item_code", "pack"], name="need_once_a_job"
            ),
            models.CheckConstraint(
                condition=models.Q(packs__gte=1), name="need_at_least_a_pack"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.packs} × {self.pack} {self.item}"
