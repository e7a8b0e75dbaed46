"""The customer's side of a bill: no account, only the link that was sent."""

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.timezone import now
from django.views.decorators.http import require_safe

from firm.queries.links import linked_id
from firm.views.papers import paper_response
from invoices.queries.bill import letter_for

PAGE = "invoices/letter/letter.html"


@login_not_required
@require_safe
def letter(request: HttpRequest) -> HttpResponse:
    bill = letter_for(linked_id(request.session, "bill", now=now()))
    return render(request, PAGE, {"bill": bill, "shot": bill.snapshot})


@login_not_required
@require_safe
def paper(request: HttpRequest) -> HttpResponse:
    bill = letter_for(linked_id(request.session, "bill", now=now()))
    return paper_response(request, bill.paper)
