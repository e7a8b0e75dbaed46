from django.db import models


class NumberSeries(models.Model):
    """The next number of one kind of paper: no gaps, no repeats."""

    name = models.CharField(max_length=24, unique=True)
    next_number = models.PositiveIntegerField(default=1)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(next_number__gte=1), name="series_starts_at_one"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name} next {self.next_number}"
