from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.utils.timezone import now
from django.views.decorators.http import require_http_methods, require_safe

from firm import may
from firm.engine.refusal import Refused
from firm.views.pages import OurRequest, go_to, page_or_part
from jobs.actions.customer import CustomerFacts, edit_customer
from jobs.forms.customer import CustomerForm
from jobs.queries import customer as queries
from jobs.views.refusals import say

A_PAGE = 50


@require_safe
def customers(request: OurRequest) -> HttpResponse:
    if not may.see_customers(request.user):
        raise Http404
    words, after = request.GET.get("q", ""), request.GET.get("after", "")
    rows, next_key = queries.customer_list(request.user, words, after, A_PAGE)
    context = {"customers": rows, "words": words, "next_key": next_key}
    return page_or_part(
        request, "jobs/customer/list.html", "jobs/customer/_list.html", context
    )


@require_safe
def customer(request: OurRequest, customer_id: int) -> HttpResponse:
    found = queries.customer_for(request.user, customer_id)
    context = {
        "customer": found,
        "jobs": queries.jobs_of(found),
        "history": queries.history_of(found),
        "may_change": may.take_enquiries(request.user),
    }
    return render(request, "jobs/customer/customer.html", context)


@require_http_methods(["GET", "POST"])
def edit(request: OurRequest, customer_id: int) -> HttpResponse:
    if not may.take_enquiries(request.user):
        raise Http404(queries.NOT_FOUND)
    found = queries.customer_for(request.user, customer_id)
    form = CustomerForm(request.POST or None, initial=vars(found))
    if form.is_valid():
        try:
            facts = CustomerFacts(**form.cleaned_data)
            edit_customer(found.pk, facts, by=request.user, now=now())
        except Refused as refusal:
            say(form, refusal)
        else:
            return go_to(request, found)
    return page_or_part(
        request,
        "jobs/customer/edit.html",
        "jobs/customer/_edit_form.html",
        {"customer": found, "form": form},
        invalid=bool(form.errors),
    )
