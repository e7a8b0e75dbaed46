"""A letter on its way out, and every attempt to hand it to the post."""

from datetime import datetime

from django.db import models
from django.urls import reverse


class NoticeQuerySet(models.QuerySet["Notice"]):
    def about(self, kind: str, pk: int) -> "NoticeQuerySet":
        return self.filter(about_kind=kind, about_id=pk)

    def not_gone(self) -> "NoticeQuerySet":
        """Letters that nobody has begun to send and that may still be stopped."""
        return self.filter(state__in=[Notice.State.WAITING, Notice.State.HELD])

    def waiting(self) -> "NoticeQuerySet":
        return self.filter(state__in=Notice.ON_THE_WAY)

    def in_hand(self) -> "NoticeQuerySet":
        return self.filter(state__in=[Notice.State.CLAIMED, Notice.State.SENDING])

    def lapsed(self, now: datetime) -> "NoticeQuerySet":
        return self.in_hand().filter(claimed_until__lt=now)

    def due(self, now: datetime) -> "NoticeQuerySet":
        """Letters that may go now: a paper they carry has been made."""
        has_its_paper = models.Q(paper=None) | models.Q(paper__state="made")
        return self.filter(
            has_its_paper, state=Notice.State.WAITING, next_try_at__lte=now
        )

    def without_paper(self) -> "NoticeQuerySet":
        """Waiting letters whose paper could not be printed."""
        return self.filter(state=Notice.State.WAITING, paper__state="failed")

    def for_a_person(self) -> "NoticeQuerySet":
        """Letters that wait for somebody to decide."""
        return self.filter(state__in=[Notice.State.FAILED, Notice.State.UNSURE])


class Notice(models.Model):
    """One letter to one person: left by an action, sent by a worker, once."""

    class State(models.TextChoices):
        WAITING = "waiting", "Waiting"
        HELD = "held", "Held"
        CLAIMED = "claimed", "Picked up"
        SENDING = "sending", "Being sent"
        SENT = "sent", "Went"
        STOPPED = "stopped", "Stopped"
        FAILED = "failed", "Refused"
        UNSURE = "unsure", "May have arrived"

    # Letters with a key inside that opens somebody's account: the desk sees that
    # they wait, never their words, and the words are not kept once they went.
    SEALED_KINDS = frozenset({"sign-in"})
    ON_THE_WAY = (State.WAITING, State.HELD, State.CLAIMED, State.SENDING)

    key = models.CharField(max_length=120, unique=True)
    kind = models.CharField(max_length=32)
    to_name = models.CharField(max_length=80)
    to_address = models.EmailField(max_length=254)
    subject = models.CharField(max_length=200)
    text = models.TextField()
    about_kind = models.CharField(max_length=20)
    about_id = models.BigIntegerField()
    job_id = models.BigIntegerField(null=True, blank=True, db_index=True)
    paper = models.ForeignKey(
        "firm.Paper", models.PROTECT, null=True, blank=True, related_name="notices"
    )
    message_id = models.CharField(max_length=120, unique=True)
    made_at = models.DateTimeField()
    due_at = models.DateTimeField()
    expires_at = models.DateTimeField(null=True, blank=True)
    next_try_at = models.DateTimeField()
    state = models.CharField(max_length=8, choices=State, default=State.WAITING)
    why = models.TextField(
        blank=True, help_text="Why it is where it is, in words for the office."
    )
    claim = models.PositiveIntegerField(
        default=0, help_text="Grows with each pick-up, so an old worker cannot write."
    )
    claimed_until = models.DateTimeField(null=True, blank=True)
    tries = models.PositiveSmallIntegerField(default=0)
    settled_at = models.DateTimeField(null=True, blank=True)

    objects = NoticeQuerySet.as_manager()

    class Meta:
        ordering = ["due_at", "pk"]
        indexes = [
            models.Index(fields=["state", "next_try_at"], name="notice_due"),
            models.Index(fields=["about_kind", "about_id"], name="notice_about"),
        ]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(
                    state__in=[
                        "waiting",
                        "held",
                        "claimed",
                        "sending",
                        "sent",
                        "stopped",
                        "failed",
                        "unsure",
                    ]
                ),
                name="notice_state_known",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    state__in=["claimed", "sending"], claimed_until__isnull=False
                )
                | (
                    ~models.Q(state__in=["claimed", "sending"])
                    & models.Q(claimed_until__isnull=True)
                ),
                name="notice_in_hand_has_a_lease",
            ),
            models.CheckConstraint(
                condition=~models.Q(state__in=["stopped", "failed", "unsure"])
                | ~models.Q(why=""),
                name="notice_that_stopped_says_why",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.subject} to {self.to_name}"

    def get_absolute_url(self) -> str:
        return reverse("firm:letter", args=[self.pk])

    @property
    def about(self) -> tuple[str, int]:
        return self.about_kind, self.about_id

    @property
    def is_sealed(self) -> bool:
        return self.kind in self.SEALED_KINDS

    @property
    def may_be_stopped(self) -> bool:
        return self.state in {self.State.WAITING, self.State.HELD}

    @property
    def is_for_a_person(self) -> bool:
        return self.state in {self.State.FAILED, self.State.UNSURE}


class NoticeAttempt(models.Model):
    """One time a worker took a letter up, how far it came and what was answered."""

    class Phase(models.TextChoices):
        CONNECT = "connect", "reaching the mail server"
        SIGN_IN = "sign-in", "signing in to the mail server"
        SENDER = "sender", "naming the sender"
        ADDRESS = "address", "naming the address"
        WORDS = "words", "handing over the words"
        ANSWER = "answer", "waiting for the answer"
        ANSWERED = "answered", "answered"

    notice = models.ForeignKey(Notice, models.CASCADE, related_name="attempts")
    claim = models.PositiveIntegerField()
    began_at = models.DateTimeField()
    ended_at = models.DateTimeField(null=True, blank=True)
    phase = models.CharField(max_length=8, choices=Phase, default=Phase.CONNECT)
    code = models.PositiveSmallIntegerField(null=True, blank=True)
    words = models.TextField(blank=True)

    class Meta:
        ordering = ["began_at", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["notice", "claim"], name="attempt_once_a_claim"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_phase_display()}: {self.words}"
