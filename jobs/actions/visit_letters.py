"""What a customer is told about a visit: booked, tomorrow, moved, called off."""

from datetime import datetime, time

from django.utils.timezone import make_aware

from firm.actions.tray import leave_notice, stop_notices
from firm.models import Firm, Notice, Person
from firm.queries.firm import the_firm
from firm.templatetags.figures import clock, phone
from jobs.models import Visit
from jobs.queries.calendar import working_days_around

REMIND_AT = time(17)


def confirm(visit: Visit, *, was_moved: bool, now: datetime) -> None:
    """Leave the confirmation, and the reminder if there is an evening before."""
    if not visit.job.customer.email:
        return
    firm = the_firm()
    opening = (
        f"Your visit has moved. {visit.person.name} now comes"
        if was_moved
        else f"Thank you for asking us. {visit.person.name} is coming"
    )
    _leave(
        "visit-confirmed",
        visit,
        subject=f"{firm.name}: {visit.person.first_name} comes on {_when(visit)}",
        text=_letter(visit, firm, f"{opening} to look at the work on {_when(visit)}."),
        due_at=now,
        now=now,
    )
    reminder_at = _evening_before(visit)
    if reminder_at > now:
        _leave(
            "visit-tomorrow",
            visit,
            subject=f"{firm.name}: reminder of the visit on {_when(visit)}",
            text=_letter(
                visit,
                firm,
                f"A reminder: {visit.person.name} is coming to look at the work"
                f" on {_when(visit)}.",
            ),
            due_at=reminder_at,
            now=now,
        )


def say_it_is_off(visit: Visit, *, now: datetime) -> None:
    """Leave a letter that nobody is coming after all."""
    if not visit.job.customer.email:
        return
    firm = the_firm()
    _leave(
        "visit-off",
        visit,
        subject=f"{firm.name}: the visit on {_when(visit)} is called off",
        text=_letter(visit, firm, f"The visit on {_when(visit)} is called off."),
        due_at=now,
        now=now,
    )


def take_back(visit: Visit, because: str, *, now: datetime) -> None:
    """Stop the letters about a visit that nobody has begun to send."""
    stop_notices(about=("visit", visit.pk), because=because, now=now)


def reason_to_stand_down(notice: Notice, now: datetime) -> str | None:  # noqa: ARG001 - the tray asks every check in the same way
    visit = Visit.objects.filter(pk=notice.about_id).first()
    if visit is None or visit.state == Visit.State.OFF:
        return "The visit was moved or called off."
    if visit.state == Visit.State.DONE:
        return "The visit has been made."
    return None


def _leave(
    kind: str,
    visit: Visit,
    *,
    subject: str,
    text: str,
    due_at: datetime,
    now: datetime,
) -> None:
    customer = visit.job.customer
    leave_notice(
        key=f"{kind}:{visit.pk}",
        kind=kind,
        to_name=customer.name,
        to_address=customer.email,
        subject=subject,
        text=text,
        about=("visit", visit.pk),
        job_id=visit.job_id,
        due_at=due_at,
        expires_at=_starts_at(visit),
        now=now,
    )


def _letter(visit: Visit, firm: Firm, opening: str) -> str:
    job = visit.job
    place = ", ".join([*job.site.address.splitlines(), job.site.postcode])
    return (
        f"Dear {job.customer.name},\n\n{opening}\n\n"
        f"Where: {place}\nWhat: {job.what} (job {job.number})\n\n"
        f"If that does not suit you, ring {phone(firm.phone)}"
        f"{_or(visit.person)} or answer this letter.\n\n{firm.name}\n"
    )


def _or(person: Person) -> str:
    if not person.phone:
        return ""
    return f", or {person.first_name} on {phone(person.phone)},"


def _when(visit: Visit) -> str:
    return f"{visit.on:%A %-d %B} at {clock(visit.at)}"


def _starts_at(visit: Visit) -> datetime:
    return make_aware(datetime.combine(visit.on, visit.at))


def _evening_before(visit: Visit) -> datetime:
    """Return five o'clock on the working day before, when somebody is there to ring."""
    before = working_days_around(visit.on).add(visit.on, -1)
    return make_aware(datetime.combine(before, REMIND_AT))
