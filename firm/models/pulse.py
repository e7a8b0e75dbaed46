from django.db import models


class Pulse(models.Model):
    """When a worker last showed that it takes up work and finishes it."""

    name = models.CharField(max_length=24, unique=True)
    beaten_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.name} at {self.beaten_at:%H:%M:%S}"
