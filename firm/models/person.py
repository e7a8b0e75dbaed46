from typing import Any, ClassVar

from django.contrib.auth.models import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models.functions import Lower


class PersonManager(BaseUserManager["Person"]):
    def create_user(
        self, email: str, password: str | None = None, **columns: Any
    ) -> "Person":
        person = self.model(email=email.strip().lower(), **columns)
        person.set_password(password)
        person.save()
        return person

    def clock(self) -> "Person":
        """Return the firm's own night-and-day person, who acts for tasks."""
        return self.get_or_create(
            role=Person.Role.CLOCK,
            defaults={
                "email": "clock@office.invalid",
                "name": "The office clock",
                "password": "!",
            },
        )[0]

    def staff(self) -> "models.QuerySet[Person]":
        return self.filter(is_active=True).exclude(role=Person.Role.CLOCK)


class Person(AbstractBaseUser):
    """Somebody who works in the firm and signs in with an email address."""

    class Role(models.TextChoices):
        OWNER = "owner", "Owner"
        OFFICE = "office", "Office"
        CREW_LEAD = "lead", "Crew lead"
        CREW = "crew", "Crew"
        BOOKKEEPER = "books", "Bookkeeper"
        CLOCK = "clock", "The office clock"

    email = models.EmailField(max_length=254, unique=True)
    name = models.CharField(max_length=80)
    phone = models.CharField(max_length=20, blank=True)
    role = models.CharField(max_length=6, choices=Role)
    crew = models.ForeignKey(
        "firm.Crew", models.PROTECT, null=True, blank=True, related_name="people"
    )
    is_active = models.BooleanField(default=True)

    USERNAME_FIELD = "email"
    REQUIRED_FIELDS: ClassVar[list[str]] = ["name", "role"]

    objects = PersonManager()

    class Meta:
        ordering = ["name"]
        constraints = [
            models.UniqueConstraint(
                Lower("email"),
                name="person_email_once",
                violation_error_message="Somebody already signs in with that address.",
            ),
            models.CheckConstraint(
                condition=models.Q(role__in=["owner", "office", "lead", "crew"])
                | models.Q(role__in=["books", "clock"]),
                name="person_role_known",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def first_name(self) -> str:
        return self.name.split(" ", 1)[0]

    @property
    def is_on_the_tools(self) -> bool:
        return self.role in {self.Role.CREW_LEAD, self.Role.CREW}
