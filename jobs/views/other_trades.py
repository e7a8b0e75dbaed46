from collections.abc import Callable

from django.http import HttpResponse
from django.utils.timezone import localdate, now
from django.views.decorators.http import require_http_methods, require_POST

from firm.engine.refusal import Refused
from firm.views.pages import OurRequest, go_to, page_or_part
from jobs.actions import other_trade as actions
from jobs.forms.other_trade import OtherTradeForm
from jobs.models import Job, OtherTrade
from jobs.queries.calendar import working_days_around
from jobs.queries.job import job_to_change, trade_for
from jobs.views.refusals import press, say


@require_http_methods(["GET", "POST"])
def new(request: OurRequest, job_id: int) -> HttpResponse:
    job = job_to_change(request.user, job_id)
    form = OtherTradeForm(request.POST or None)
    return _answer(
        request,
        form,
        job,
        None,
        lambda facts: actions.add_other_trade(
            job.pk, facts, by=request.user, now=now()
        ),
    )


@require_http_methods(["GET", "POST"])
def edit(request: OurRequest, trade_id: int) -> HttpResponse:
    trade = trade_for(request.user, trade_id)
    form = OtherTradeForm(request.POST or None, initial=vars(trade))
    return _answer(
        request,
        form,
        trade.job,
        trade,
        lambda facts: actions.edit_other_trade(
            trade.pk, facts, by=request.user, now=now()
        ),
    )


@require_POST
def late(request: OurRequest, trade_id: int, days: int) -> HttpResponse:
    """One tap: so many working days late."""
    trade = trade_for(request.user, trade_id)
    calendar = working_days_around(trade.ready_on or localdate())
    return press(
        request,
        lambda: actions.put_off_other_trade(
            trade.pk, days, calendar, by=request.user, now=now()
        ),
        trade.job,
    )


@require_POST
def drop(request: OurRequest, trade_id: int) -> HttpResponse:
    trade = trade_for(request.user, trade_id)
    return press(
        request,
        lambda: actions.drop_other_trade(trade.pk, by=request.user, now=now()),
        trade.job,
    )


def _answer(
    request: OurRequest,
    form: OtherTradeForm,
    job: Job,
    trade: OtherTrade | None,
    save: Callable[[actions.TradeFacts], object],
) -> HttpResponse:
    if form.is_valid():
        try:
            save(actions.TradeFacts(**form.cleaned_data))
        except Refused as refusal:
            say(form, refusal)
        else:
            return go_to(request, job)
    return page_or_part(
        request,
        "jobs/other_trade/edit.html",
        "jobs/other_trade/_edit_form.html",
        {"job": job, "trade": trade, "form": form},
        invalid=bool(form.errors),
    )
