from django.http import HttpResponse
from django.utils.timezone import localdate, now
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from firm.engine.refusal import Refused
from firm.views.pages import OurRequest, go_to, page_or_part
from jobs.actions import order as actions
from jobs.forms.order import ArrivedForm, OrderForm
from jobs.models import MaterialOrder
from jobs.queries import order as queries
from jobs.queries.materials import drop_day, needs_of
from jobs.views.refusals import press, say


@require_http_methods(["GET", "POST"])
def new(request: OurRequest, job_id: int) -> HttpResponse:
    job = queries.job_to_order_for(request.user, job_id)
    known = needs_of(job, localdate())
    wanted_on = drop_day(known.needed_on, localdate()) if known.needed_on else None
    form = OrderForm(
        request.POST or None,
        needs=[line.need for line in known.to_order],
        initial={"wanted_on": wanted_on},
    )
    if form.is_valid():
        try:
            order = actions.draft_order(
                job.pk,
                merchant_id=form.cleaned_data["merchant"].pk,
                wanted_on=form.cleaned_data["wanted_on"],
                packs=form.packs,
                by=request.user,
                now=now(),
            )
        except Refused as refusal:
            say(form, refusal)
        else:
            return go_to(request, order)
    return page_or_part(
        request,
        "jobs/order/new.html",
        "jobs/order/_new_form.html",
        {"job": job, "known": known, "form": form},
        invalid=bool(form.errors),
    )


@require_safe
def order(request: OurRequest, order_id: int) -> HttpResponse:
    found = queries.order_for(request.user, order_id)
    form = ArrivedForm(lines=queries.lines_of(found))
    return _page(request, found, form)


@require_POST
def send(request: OurRequest, order_id: int) -> HttpResponse:
    found = queries.order_for(request.user, order_id)
    return press(
        request,
        lambda: actions.send_order(found.pk, by=request.user, now=now()),
        found,
    )


@require_POST
def call_off(request: OurRequest, order_id: int) -> HttpResponse:
    found = queries.order_for(request.user, order_id)
    return press(
        request,
        lambda: actions.call_off_order(found.pk, by=request.user, now=now()),
        found.job,
    )


@require_POST
def arrived(request: OurRequest, order_id: int) -> HttpResponse:
    found = queries.order_for(request.user, order_id)
    form = ArrivedForm(request.POST, lines=queries.lines_of(found))
    if form.is_valid():
        lines = {
            pk: actions.Arrived(packs=packs, trouble=trouble)
            for pk, (packs, trouble) in form.lines.items()
        }
        try:
            actions.tick_off_order(found.pk, lines=lines, by=request.user, now=now())
        except Refused as refusal:
            say(form, refusal)
        else:
            return go_to(request, found)
    return _page(request, found, form)


def _page(request: OurRequest, found: MaterialOrder, form: ArrivedForm) -> HttpResponse:
    context = {
        "order": found,
        "lines": queries.lines_of(found),
        "form": form,
        "hit": queries.who_it_hits(found),
    }
    return page_or_part(
        request,
        "jobs/order/order.html",
        "jobs/order/_order.html",
        context,
        invalid=bool(form.errors),
    )
