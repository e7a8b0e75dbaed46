from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.timezone import localdate, now
from django.views.decorators.http import require_POST, require_safe

from firm import may
from firm.engine.refusal import Refused
from firm.views.pages import OurRequest, page_or_part
from jobs.actions.day_note import write_note
from jobs.forms.day_note import NoteForm
from jobs.models import Job
from jobs.queries import tomorrow as queries
from jobs.views.refusals import say


@require_safe
def tomorrow(request: OurRequest) -> HttpResponse:
    if not may.see_tomorrow(request.user):
        raise Http404
    today = localdate()
    crews = list(queries.crews_to_see(request.user))
    crew = queries.crew_asked_for(crews, request.GET.get("crew", ""))
    days = queries.week_of(crew, request.user, today) if crew else []
    context = {
        "crews": crews,
        "crew": crew,
        "days": days,
        "today": today,
        "next_on": queries.next_working_day(today),
    }
    return render(request, "jobs/tomorrow/tomorrow.html", context)


@require_safe
def sheet(request: OurRequest, job_id: int) -> HttpResponse:
    return _page(request, _job(request, job_id), NoteForm())


@require_POST
def new_note(request: OurRequest, job_id: int) -> HttpResponse:
    job = _job(request, job_id)
    form = NoteForm(request.POST)
    if form.is_valid():
        try:
            write_note(job.pk, **form.cleaned_data, by=request.user, now=now())
        except Refused as refusal:
            say(form, refusal)
        else:
            return redirect("jobs:sheet", job.pk)
    return _page(request, job, form)


def _job(request: OurRequest, job_id: int) -> Job:
    job = queries.sheet_job(request.user, job_id, now=now())
    if job is None:
        raise Http404("There is no such job on your pages.")
    return job


def _page(request: OurRequest, job: Job, form: NoteForm) -> HttpResponse:
    context = {
        "sheet": queries.sheet_for(job, today=localdate()),
        "form": form,
        "may_finish": may.finish_jobs(request.user),
        "is_office": may.book_crews(request.user),
        "today": localdate(),
    }
    return page_or_part(
        request,
        "jobs/tomorrow/sheet.html",
        "jobs/tomorrow/_sheet.html",
        context,
        invalid=bool(form.errors),
    )
