from django.core.exceptions import PermissionDenied
from django.http import HttpResponse
from django.utils.timezone import localdate, now
from django.views.decorators.http import require_http_methods, require_safe

from firm import may
from firm.engine.refusal import Refused
from firm.queries.firm import the_firm
from firm.views.pages import OurRequest, go_to, page_or_part
from jobs.models import Job
from quotes.actions.acceptance import accept_quote
from quotes.actions.quote import ONLY_THE_OFFICE, send_quote, write_quote
from quotes.forms.quote import HeardYesForm, SendForm, WriteForm, usual_end
from quotes.models import QuoteVersion
from quotes.queries import quote as queries
from quotes.queries.specified import stops

PAGE, PART = "quotes/quote/quote.html", "quotes/quote/_quote.html"


@require_safe
def quote(request: OurRequest, job_id: int) -> HttpResponse:
    job = queries.job_to_quote(request.user, job_id)
    return page_or_part(request, PAGE, PART, _context(request, job))


@require_http_methods(["POST"])
def write(request: OurRequest, job_id: int) -> HttpResponse:
    job = queries.job_to_quote(request.user, job_id)
    if not may.send_quotes(request.user):
        raise PermissionDenied(ONLY_THE_OFFICE)
    form = WriteForm(request.POST)
    if form.is_valid():
        try:
            write_quote(
                job.pk,
                vat_kind=form.cleaned_data["vat_kind"],
                by=request.user,
                today=localdate(),
                now=now(),
            )
        except Refused as refusal:
            form.add_error(None, str(refusal))
        else:
            return go_to(request, f"/jobs/{job.pk}/quote/")
    context = _context(request, job) | {"write_form": form}
    return page_or_part(request, PAGE, PART, context, invalid=True)


@require_http_methods(["POST"])
def send(request: OurRequest, version_id: int) -> HttpResponse:
    version = queries.version_for(request.user, version_id)
    form = SendForm(request.POST)
    if form.is_valid():
        try:
            send_quote(
                version.pk,
                valid_until_on=form.cleaned_data["valid_until_on"],
                by=request.user,
                today=localdate(),
                now=now(),
            )
        except Refused as refusal:
            form.add_error(refusal.field or None, str(refusal))
        else:
            return go_to(request, version.quote)
    context = _context(request, version.quote.job) | {"send_form": form}
    return page_or_part(request, PAGE, PART, context, invalid=True)


@require_http_methods(["POST"])
def heard_yes(request: OurRequest, version_id: int) -> HttpResponse:
    """Note a yes that came by phone or on paper."""
    version = queries.version_for(request.user, version_id)
    form = HeardYesForm(request.POST)
    if form.is_valid():
        try:
            accept_quote(
                version.pk,
                **form.cleaned_data,
                asks_early_start=False,
                from_address=None,
                taken_by=request.user,
                today=localdate(),
                now=now(),
            )
        except Refused as refusal:
            form.add_error(refusal.field or None, str(refusal))
        else:
            return go_to(request, version.quote)
    context = _context(request, version.quote.job) | {"yes_form": form}
    return page_or_part(request, PAGE, PART, context, invalid=True)


@require_safe
def read(request: OurRequest, version_id: int) -> HttpResponse:
    """Show a version as the customer reads it, with nothing to press."""
    version = queries.version_to_read(request.user, version_id)
    context = {"version": version, "shot": version.snapshot, "is_office": True}
    return page_or_part(
        request, "quotes/letter/letter.html", "quotes/letter/_letter.html", context
    )


def _context(request: OurRequest, job: Job) -> dict[str, object]:
    versions = list(queries.versions_of(job))
    newest = versions[0] if versions else None
    standing = next((v for v in versions if v.state == QuoteVersion.State.SENT), None)
    end = usual_end(localdate(), days=the_firm().quote_valid_days)
    return {
        "job": job,
        "versions": versions,
        "newest": newest,
        "shot": newest.snapshot if newest else None,
        "acceptance": queries.acceptance_of(job),
        "stops": stops(job),
        "may_send": may.send_quotes(request.user),
        "write_form": WriteForm(initial={"vat_kind": "standard"}),
        "send_form": SendForm(initial={"valid_until_on": end}),
        "standing": standing,
        "yes_form": HeardYesForm(initial={"digest": standing.digest})
        if standing
        else None,
    }
