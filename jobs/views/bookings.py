from datetime import date

from django.contrib import messages
from django.http import HttpResponse
from django.utils.timezone import localdate, now
from django.views.decorators.http import require_http_methods, require_POST

from firm import may
from firm.engine.refusal import Refused
from firm.views.pages import OurRequest, go_to, page_or_part
from jobs.actions import booking as actions
from jobs.actions.finish import finish_job, undo_finish
from jobs.engine.slots import Half
from jobs.forms.booking import AsIfForm, BookingForm, CallOffForm
from jobs.models import Booking, Job
from jobs.queries import booking as queries
from jobs.queries.tomorrow import job_to_finish
from jobs.views.refusals import press, say


@require_http_methods(["GET", "POST"])
def when(request: OurRequest, job_id: int) -> HttpResponse:
    """Put a job in the diary, or move the booking that stands."""
    job = queries.job_to_book(request.user, job_id)
    as_if = AsIfForm(request.GET or None)
    as_if_on = as_if.cleaned_data["as_if_on"] if as_if.is_valid() else None
    booking = queries.standing_booking(job)
    form = BookingForm(request.POST or None, initial=_initial(booking, as_if_on))
    if form.is_valid():
        try:
            _place(request, job, booking, form)
        except Refused as refusal:
            say(form, refusal)
        else:
            return go_to(request, job)
    found = queries.when_for(
        job, today=localdate(), as_if_on=as_if_on or _typed_as_if(form)
    )
    return page_or_part(
        request,
        "jobs/booking/when.html",
        "jobs/booking/_when.html",
        {"when": found, "job": job, "form": form, "as_if": as_if},
        invalid=bool(form.errors or as_if.errors),
    )


@require_POST
def call_off(request: OurRequest, booking_id: int) -> HttpResponse:
    booking = queries.booking_to_change(request.user, booking_id)
    form = CallOffForm(request.POST)
    version = form.cleaned_data["version"] if form.is_valid() else 0
    return press(
        request,
        lambda: actions.call_off_booking(
            booking.pk, version=version, by=request.user, now=now()
        ),
        booking.job,
    )


@require_POST
def finish(request: OurRequest, job_id: int) -> HttpResponse:
    job = job_to_finish(request.user, job_id, now=now())
    try:
        finish_job(job.pk, by=request.user, now=now())
    except Refused as refusal:
        messages.error(request, str(refusal))
    return go_to(request, job if may.book_crews(request.user) else "jobs:tomorrow")


@require_POST
def undo(request: OurRequest, job_id: int) -> HttpResponse:
    job = queries.job_to_book(request.user, job_id)
    return press(request, lambda: undo_finish(job.pk, by=request.user, now=now()), job)


def _initial(booking: Booking | None, as_if_on: date | None) -> dict[str, object]:
    known: dict[str, object] = {"as_if_on": as_if_on}
    if booking is not None:
        known |= {
            "crew": booking.crew_id,
            "on": booking.first_on,
            "version": booking.version,
        }
    return known


def _typed_as_if(form: BookingForm) -> date | None:
    return form.cleaned_data.get("as_if_on") if form.is_bound else None


def _place(
    request: OurRequest, job: Job, booking: Booking | None, form: BookingForm
) -> None:
    said = form.cleaned_data
    start = Half(said["on"], said["half"])
    crew_id, as_if_on = said["crew"].pk, said["as_if_on"]
    if booking is None:
        actions.book_in(
            job.pk,
            crew_id=crew_id,
            start=start,
            as_if_on=as_if_on,
            by=request.user,
            now=now(),
        )
    else:
        actions.move_booking(
            booking.pk,
            version=said["version"] or 0,
            crew_id=crew_id,
            start=start,
            as_if_on=as_if_on,
            by=request.user,
            now=now(),
        )
