from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils.timezone import localdate, now
from django.views.decorators.http import require_http_methods, require_safe

from firm import may
from firm.engine.refusal import Refused
from firm.views.pages import OurRequest, go_to, page_or_part
from jobs.actions.customer import CustomerFacts
from jobs.actions.enquiry import AskedFacts, Call, SiteFacts, take_enquiry
from jobs.actions.visit import VisitFacts
from jobs.forms.enquiry import EnquiryForm, SomebodyElseForm
from jobs.models import Customer, Job
from jobs.queries import customer as customers
from jobs.queries import enquiry as queries
from jobs.queries.visit import Offer, offer_for
from jobs.views.refusals import say

PAGE, PART = "jobs/enquiry/new.html", "jobs/enquiry/_new_form.html"
WHERE = ("address", "postcode", "way_in", "parking")
ASKED = ("what", "said", "wanted_by_on", "others_on_site", "heard_of_us")
# No name is longer, and a database refuses to look for a hundred thousand letters.
MOST_LETTERS = 120
# Buttons that fetch something into the form and save nothing.
LOOK, CHOOSE, PLACE, FORGET = "look", "choose", "place", "forget"


@require_safe
def enquiries(request: OurRequest) -> HttpResponse:
    if not may.take_enquiries(request.user):
        raise Http404
    waiting = queries.waiting_for(request.user, localdate())
    context = {
        "rang_in": waiting[Job.Stage.ENQUIRY],
        "visit_booked": waiting[Job.Stage.VISIT],
        "looked_at": waiting[Job.Stage.LOOKED],
    }
    return render(request, "jobs/enquiry/list.html", context)


@require_http_methods(["GET", "POST"])
def new(request: OurRequest) -> HttpResponse:
    if not may.take_enquiries(request.user):
        raise Http404
    if {LOOK, CHOOSE, PLACE, FORGET} & {*request.POST, *request.GET}:
        return _filled_in(request)
    known = queries.chosen(request.user, request.POST.get("customer", ""))
    form = EnquiryForm(
        request.POST or None, known=known, offer=_offer(request.POST.dict())
    )
    if form.is_valid():
        try:
            job = take_enquiry(_call(form.cleaned_data), by=request.user, now=now())
        except Refused as refusal:
            say(form, refusal)
            # A time that somebody else took meanwhile is no longer on offer.
            form.offer_times(_offer(request.POST.dict()))
        else:
            messages.success(request, f"Saved as job {job.number}.")
            return go_to(request, job)
    context = _context(request, form, known, request.POST.dict())
    return page_or_part(request, PAGE, PART, context, invalid=bool(form.errors))


@require_safe
def suggest(request: OurRequest) -> HttpResponse:
    """Return who the caller may be; the letters typed so far are all it is asked."""
    if not may.take_enquiries(request.user):
        raise Http404
    typed = request.GET.dict()
    context = {
        "suggested": _suggested(request, typed),
        "form": SomebodyElseForm(initial=typed),
    }
    return render(request, "jobs/enquiry/_known.html", context)


@require_safe
def visit_times(request: OurRequest) -> HttpResponse:
    """Return the times on offer for the postcode and the person picked so far."""
    if not may.take_enquiries(request.user):
        raise Http404
    typed = request.GET.dict()
    form = EnquiryForm(initial=typed, known=None, offer=_offer(typed))
    return render(request, "jobs/visit/_times.html", {"form": form})


def _filled_in(request: OurRequest) -> HttpResponse:
    """Fill the form from the book and look again, keeping all that was typed."""
    typed: dict[str, Any] = (request.POST or request.GET).dict()
    if FORGET in typed:
        typed |= dict.fromkeys(("customer", "name", "phone", "email", *WHERE), "")
    known = queries.chosen(
        request.user, str(typed.get(CHOOSE) or typed.get("customer", ""))
    )
    if known is not None and (CHOOSE in typed or PLACE in typed):
        typed |= queries.known_words(known, str(typed.get(PLACE, "")))
    form = EnquiryForm(initial=typed, known=known, offer=_offer(typed))
    context = _context(request, form, known, typed)
    return page_or_part(request, PAGE, PART, context)


def _context(
    request: OurRequest,
    form: EnquiryForm,
    known: Customer | None,
    typed: dict[str, Any],
) -> dict[str, Any]:
    return {
        "form": form,
        "known": known,
        "places": queries.places_of(known) if known else [],
        "suggested": [] if known else _suggested(request, typed),
    }


def _suggested(request: OurRequest, typed: dict[str, Any]) -> list[customers.Known]:
    name, phone, postcode = (
        str(typed.get(field, ""))[:MOST_LETTERS]
        for field in ("name", "phone", "postcode")
    )
    return customers.suggested(request.user, name, phone, postcode)


def _offer(typed: dict[str, Any]) -> Offer:
    person, postcode = typed.get("visit_person", ""), typed.get("postcode", "")
    return offer_for(str(person), str(postcode), now())


def _call(said: dict[str, Any]) -> Call:
    moment = said["moment"]
    visit = None
    if moment is not None:
        visit = VisitFacts(person_id=said["visit_person"], on=moment[0], at=moment[1])
    return Call(
        who=CustomerFacts(
            **{field: said[field] for field in ("name", "phone", "email", "kind")}
        ),
        where=SiteFacts(**{field: said[field] for field in WHERE}),
        asked=AskedFacts(**{field: said[field] for field in ASKED}),
        visit=visit,
        customer_id=said["customer"],
        is_somebody_else=said["somebody_else"],
    )
