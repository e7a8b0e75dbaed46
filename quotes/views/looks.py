from django.http import HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from firm.engine.refusal import Refused
from firm.views.pages import OurRequest, go_to, page_or_part
from quotes.actions.look import LookFacts, change_look, finish_look, start_look
from quotes.forms.look import LookForm, PressForm
from quotes.models import Look
from quotes.queries.look import is_started, job_to_look_at, look_at, look_words
from quotes.queries.sheet import look_sheet
from quotes.queries.spec_sheet import spec_sheet
from quotes.views.second import came_second


@require_GET
def look(request: OurRequest, job_id: int) -> HttpResponse:
    job = job_to_look_at(request.user, job_id)
    if not is_started(job):
        form = LookForm(initial={"version": 0})
        return _start_page(request, {"job": job, "form": form})
    return _look_page(request, job_id)


@require_http_methods(["POST"])
def start(request: OurRequest, job_id: int) -> HttpResponse:
    job = job_to_look_at(request.user, job_id)
    form = LookForm(request.POST)
    if form.is_valid():
        try:
            facts = LookFacts(**form.facts())
            started = start_look(
                job_id, facts=facts, by=request.user, now=timezone.now()
            )
        except Refused as refusal:
            form.refuse(refusal)
        else:
            return go_to(request, started)
    return _start_page(request, {"job": job, "form": form}, invalid=True)


@require_http_methods(["GET", "POST"])
def change(request: OurRequest, job_id: int) -> HttpResponse:
    found = look_at(request.user, job_id)
    context = {"job": found.job, "look": found}
    form = LookForm(request.POST or None, initial=_initial(found))
    if form.is_valid():
        try:
            change_look(
                job_id,
                facts=LookFacts(**form.facts()),
                version=form.cleaned_data["version"],
                by=request.user,
                now=timezone.now(),
            )
        except Refused as refusal:
            form.refuse(refusal)
            found = look_at(request.user, job_id)
            context |= came_second(refusal, form, look=found, saved=look_words(found))
        else:
            return go_to(request, found)
    return page_or_part(
        request,
        "quotes/look/change.html",
        "quotes/look/_change_form.html",
        context | {"form": form},
        invalid=bool(form.errors),
    )


@require_POST
def finish(request: OurRequest, job_id: int) -> HttpResponse:
    found = look_at(request.user, job_id)
    form = PressForm(request.POST)
    if form.is_valid():
        try:
            version = form.cleaned_data["version"]
            finish_look(job_id, version=version, by=request.user, now=timezone.now())
        except Refused as refusal:
            return _look_page(request, job_id, refused=refusal.text)
        return go_to(request, found.job)
    return _look_page(request, job_id, refused="Press “Finish the look” again.")


@require_GET
def spec(request: OurRequest, job_id: int) -> HttpResponse:
    found = look_at(request.user, job_id)
    return page_or_part(
        request,
        "quotes/look/spec.html",
        "quotes/look/_spec.html",
        {"job": found.job, "look": found, "sheet": spec_sheet(found)},
    )


def _look_page(request: OurRequest, job_id: int, *, refused: str = "") -> HttpResponse:
    found = look_at(request.user, job_id)
    return page_or_part(
        request,
        "quotes/look/look.html",
        "quotes/look/_look.html",
        {
            "job": found.job,
            "look": found,
            "sheet": look_sheet(found),
            "refused": refused,
        },
        invalid=bool(refused),
    )


def _start_page(
    request: OurRequest, context: dict[str, object], *, invalid: bool = False
) -> HttpResponse:
    return page_or_part(
        request,
        "quotes/look/start.html",
        "quotes/look/_start_form.html",
        context,
        invalid=invalid,
    )


def _initial(found: Look) -> dict[str, object]:
    return {
        "building_year": found.building_year,
        "is_listed": found.is_listed,
        "basis": found.basis,
        "sample": found.sample,
        "sample_report": found.sample_report,
        "note": found.note,
        "version": found.version,
    }
