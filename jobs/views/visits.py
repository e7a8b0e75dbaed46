from django.http import HttpResponse
from django.utils.timezone import now
from django.views.decorators.http import require_http_methods, require_POST

from firm.engine.refusal import Refused
from firm.views.pages import OurRequest, go_to, page_or_part
from jobs.actions import visit as actions
from jobs.forms.visit import VisitForm
from jobs.models import Job, Visit
from jobs.queries.job import job_to_change
from jobs.queries.visit import Offer, offer_for, standing_visit, visit_for
from jobs.views.refusals import press, say


@require_http_methods(["GET", "POST"])
def book(request: OurRequest, job_id: int) -> HttpResponse:
    """Book the visit of a job, or move the one that stands."""
    job = job_to_change(request.user, job_id)
    visit = standing_visit(job)
    form = VisitForm(request.POST or None, offer=_offer(request, job, visit))
    if form.is_valid():
        try:
            _place(request, job, visit, form)
        except Refused as refusal:
            say(form, refusal)
            form.offer_times(_offer(request, job, visit))
        else:
            return go_to(request, job)
    return page_or_part(
        request,
        "jobs/visit/book.html",
        "jobs/visit/_book_form.html",
        {"job": job, "visit": visit, "form": form},
        invalid=bool(form.errors),
    )


@require_POST
def call_off(request: OurRequest, visit_id: int) -> HttpResponse:
    visit = visit_for(request.user, visit_id)
    return press(
        request,
        lambda: actions.call_off_visit(visit.pk, by=request.user, now=now()),
        visit.job,
    )


@require_POST
def done(request: OurRequest, visit_id: int) -> HttpResponse:
    visit = visit_for(request.user, visit_id)
    return press(
        request,
        lambda: actions.mark_visit_done(visit.pk, by=request.user, now=now()),
        visit.job,
    )


def _offer(request: OurRequest, job: Job, visit: Visit | None) -> Offer:
    asked = request.POST.get("visit_person") or request.GET.get("visit_person")
    person = asked or (str(visit.person_id) if visit else "")
    return offer_for(person, job.site.postcode, now(), not_job=job)


def _place(request: OurRequest, job: Job, visit: Visit | None, form: VisitForm) -> None:
    said = form.cleaned_data
    on, at = said["moment"]
    facts = actions.VisitFacts(person_id=said["visit_person"], on=on, at=at)
    if visit is None:
        actions.book_visit(job.pk, facts, by=request.user, now=now())
    else:
        actions.move_visit(visit.pk, facts, by=request.user, now=now())
