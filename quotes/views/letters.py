"""The customer's side of a quote: no account, only the link that was sent."""

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.timezone import localdate, now
from django.views.decorators.http import require_POST, require_safe

from firm.engine.refusal import Refused
from firm.queries.links import linked_id
from firm.views.papers import paper_response
from quotes.actions.acceptance import accept_quote, decline_quote
from quotes.forms.quote import NoForm, YesForm
from quotes.models import QuoteVersion
from quotes.queries.quote import letter_for

PAGE = "quotes/letter/letter.html"


@login_not_required
@require_safe
def letter(request: HttpRequest) -> HttpResponse:
    version = _version(request)
    return render(request, PAGE, _context(version))


@login_not_required
@require_POST
def accept(request: HttpRequest) -> HttpResponse:
    version = _version(request)
    form = YesForm(request.POST)
    if form.is_valid():
        try:
            accept_quote(
                version.pk,
                **form.cleaned_data,
                from_address=request.META.get("REMOTE_ADDR") or None,
                today=localdate(),
                now=now(),
            )
        except Refused as refusal:
            form.add_error(refusal.field or None, str(refusal))
        else:
            return redirect("quotes:letter")
    context = _context(version) | {"yes_form": form, "is_invalid": True}
    return render(request, PAGE, context, status=422)


@login_not_required
@require_POST
def decline(request: HttpRequest) -> HttpResponse:
    version = _version(request)
    form = NoForm(request.POST)
    if form.is_valid():
        try:
            decline_quote(version.pk, **form.cleaned_data, now=now())
        except Refused as refusal:
            form.add_error(refusal.field or None, str(refusal))
        else:
            return redirect("quotes:letter")
    context = _context(version) | {"no_form": form, "is_invalid": True}
    return render(request, PAGE, context, status=422)


@login_not_required
@require_safe
def paper(request: HttpRequest) -> HttpResponse:
    return paper_response(request, _version(request).paper)


def _version(request: HttpRequest) -> QuoteVersion:
    return letter_for(linked_id(request.session, "quote", now=now()))


def _context(version: QuoteVersion) -> dict[str, object]:
    is_open = version.state == QuoteVersion.State.SENT
    is_late = (
        version.valid_until_on is not None and version.valid_until_on < localdate()
    )
    return {
        "version": version,
        "shot": version.snapshot,
        "is_open": is_open and not is_late,
        "is_late": is_open and is_late,
        "yes_form": YesForm(initial={"digest": version.digest}),
        "no_form": NoForm(initial={"digest": version.digest}),
    }
