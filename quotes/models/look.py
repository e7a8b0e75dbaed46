"""The look at the job: what is on the walls, as it was measured and found."""

from decimal import Decimal

from django.db import models
from django.urls import reverse


class Suction(models.TextChoices):
    UNTESTED = "", "Not tested"
    LOW = "low", "Low: still wet after two minutes"
    MODERATE = "moderate", "Moderate: darkens slowly"
    HIGH = "high", "High: drawn in within half a minute"


class Look(models.Model):
    """What was seen at one job."""

    class Basis(models.TextChoices):
        TRUE = "true", "True surface: everything that is plastered"
        THROUGH = "through", "Measured through, no openings taken out"
        NRM2 = "nrm2", "NRM2: openings over 1.00 m² taken out"
        SMM7 = "smm7", "SMM7: openings over 0.50 m² taken out"
        FIRM = "firm", "The firm's own threshold"

    class Sample(models.TextChoices):
        NONE = "none", "Nothing sampled"
        NEGATIVE = "negative", "Sampled: no asbestos found"
        POSITIVE = "positive", "Sampled: asbestos found"

    job = models.OneToOneField("jobs.Job", models.CASCADE, related_name="look")
    building_year = models.PositiveSmallIntegerField(null=True, blank=True)
    is_listed = models.BooleanField(default=False)
    basis = models.CharField(max_length=8, choices=Basis, default=Basis.FIRM)
    sample = models.CharField(max_length=8, choices=Sample, default=Sample.NONE)
    sample_report = models.CharField(max_length=80, blank=True)
    note = models.TextField(blank=True)
    version = models.PositiveIntegerField(default=1)
    looked_by = models.ForeignKey("firm.Person", models.PROTECT, related_name="+")
    looked_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(sample="none") | ~models.Q(sample_report=""),
                name="look_sample_has_a_report",
                violation_error_message="Give the laboratory's report of the sample.",
            ),
            models.CheckConstraint(
                condition=models.Q(building_year__isnull=True)
                | models.Q(building_year__range=(1000, 2100)),
                name="look_building_year",
                violation_error_message="Give the year of the building, such as 1935.",
            ),
        ]

    def __str__(self) -> str:
        return f"Look at {self.job}"

    def get_absolute_url(self) -> str:
        return reverse("quotes:look", args=[self.job_id])


class Room(models.Model):
    """A room, entered as a rectangle or walked wall by wall."""

    class Shape(models.TextChoices):
        RECTANGLE = "rect", "Rectangle"
        WALKED = "walk", "Walked, wall by wall"

    look = models.ForeignKey(Look, models.CASCADE, related_name="rooms")
    position = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=60)
    shape = models.CharField(max_length=4, choices=Shape, default=Shape.RECTANGLE)
    height_mm = models.PositiveIntegerField()
    has_ceiling = models.BooleanField(default=True)
    ceiling_background = models.CharField(max_length=8, blank=True)
    ceiling_suction = models.CharField(max_length=8, choices=Suction, blank=True)
    chase_mm = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(height_mm__range=(1, 100_000)),
                name="room_height_in_reach",
                violation_error_message="Give the height in millimetres, such as 2400.",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class Wall(models.Model):
    """One wall of a room, with what it is made of and how it drinks."""

    room = models.ForeignKey(Room, models.CASCADE, related_name="walls")
    position = models.PositiveSmallIntegerField()
    length_mm = models.PositiveIntegerField()
    turn_deg = models.SmallIntegerField(
        default=90, help_text="90 into an inside corner, -90 round an outside one."
    )
    is_in = models.BooleanField(default=True)
    background = models.CharField(max_length=8)
    suction = models.CharField(max_length=8, choices=Suction, blank=True)
    hollow_pct = models.PositiveSmallIntegerField(default=0)
    out_of_true_mm = models.PositiveSmallIntegerField(default=0)
    crack_mm = models.DecimalField(max_digits=4, decimal_places=1, default=Decimal(0))

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(
                fields=["room", "position"], name="wall_in_its_place"
            ),
            models.CheckConstraint(
                condition=models.Q(length_mm__range=(1, 100_000)),
                name="wall_length_in_reach",
                violation_error_message="Give the length in millimetres, such as 3600.",
            ),
            models.CheckConstraint(
                condition=models.Q(hollow_pct__lte=100),
                name="wall_hollow_is_a_share",
                violation_error_message="Hollow is a share of the wall, 0 to 100.",
            ),
        ]

    def __str__(self) -> str:
        return f"wall {self.letter}"

    @property
    def letter(self) -> str:
        """Return A for the first wall, B for the next, AA after Z."""
        place, letters = self.position + 1, ""
        while place:
            place, rest = divmod(place - 1, 26)
            letters = chr(ord("A") + rest) + letters
        return letters


class Opening(models.Model):
    """A hole in a wall or ceiling, or a part that is left as it is."""

    class Kind(models.TextChoices):
        DOOR = "door", "Door"
        WINDOW = "window", "Window"
        FIRE = "fire", "Fire opening"
        HATCH = "hatch", "Hatch"
        ROOF_LIGHT = "light", "Roof light"
        LEFT = "left", "Left as it is: tiles, units, a radiator"

    class Reveals(models.TextChoices):
        NONE = "", "None of ours"
        JAMBS_AND_HEAD = "head", "Both sides and the head"
        ALL_ROUND = "all", "All round, sill too"

    room = models.ForeignKey(Room, models.CASCADE, related_name="openings")
    wall = models.ForeignKey(
        Wall, models.CASCADE, null=True, blank=True, related_name="openings"
    )
    kind = models.CharField(max_length=6, choices=Kind)
    width_mm = models.PositiveIntegerField()
    height_mm = models.PositiveIntegerField()
    left_mm = models.PositiveIntegerField(null=True, blank=True)
    sill_mm = models.PositiveIntegerField(null=True, blank=True)
    touches_edge = models.BooleanField(default=False)
    reveals = models.CharField(max_length=4, choices=Reveals, blank=True)
    reveal_depth_mm = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(
                    width_mm__range=(1, 100_000), height_mm__range=(1, 100_000)
                ),
                name="opening_size_in_reach",
                violation_error_message="Give both sizes in millimetres.",
            ),
            models.CheckConstraint(
                condition=models.Q(reveals="", reveal_depth_mm=0)
                | (~models.Q(reveals="") & models.Q(reveal_depth_mm__gte=1)),
                name="opening_reveal_has_a_depth",
                violation_error_message="Give the depth of the reveals, or none.",
            ),
        ]

    def __str__(self) -> str:
        kind = self.get_kind_display().partition(":")[0]
        return f"{kind} {self.width_mm} × {self.height_mm}"
