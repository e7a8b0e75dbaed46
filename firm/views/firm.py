from collections.abc import Callable
from typing import Any

from django import forms
from django.http import Http404, HttpResponse
from django.utils.timezone import now
from django.views.decorators.http import require_http_methods, require_safe

from firm import may
from firm.actions import firm as actions
from firm.engine.refusal import Refused
from firm.engine.trade.labour import LABOUR_FIGURES
from firm.engine.trade.materials import MATERIAL_FIGURES
from firm.forms.firm import CrewForm, FigureForm, FirmForm, PayeeForm, TimeOffForm
from firm.queries import firm as queries
from firm.views.pages import OurRequest, go_to, page_or_part

TRADE = {row.code: row for row in (*LABOUR_FIGURES, *MATERIAL_FIGURES)}
PAGE, PART = "firm/firm/change.html", "firm/firm/_change_form.html"


@require_safe
def firm(request: OurRequest) -> HttpResponse:
    if not may.see_the_firm(request.user):
        raise Http404
    context = {
        "firm": queries.firm_or_none(),
        "payee": queries.newest_payee(),
        "staff": queries.staff(),
        "crews": [(crew, crew.time_off.all()) for crew in queries.crews()],
        "history": queries.firm_history(),
        "may_change": may.run_the_firm(request.user),
        "may_book": may.book_crews(request.user),
    }
    return page_or_part(request, "firm/firm/firm.html", "firm/firm/_firm.html", context)


@require_safe
def figures(request: OurRequest) -> HttpResponse:
    if not may.see_the_firm(request.user):
        raise Http404
    own = queries.own_figures()
    rows = [(row, own.get(code)) for code, row in TRADE.items()]
    context = {"rows": rows, "may_change": may.run_the_firm(request.user)}
    return page_or_part(
        request, "firm/firm/figures.html", "firm/firm/_figures.html", context
    )


@require_http_methods(["GET", "POST"])
def change_firm(request: OurRequest) -> HttpResponse:
    _owner_only(request)
    form = FirmForm(request.POST or None, instance=queries.firm_or_none())
    return _do(request, form, actions.set_firm, title="The firm's details")


@require_http_methods(["GET", "POST"])
def new_crew(request: OurRequest) -> HttpResponse:
    _owner_only(request)
    return _do(
        request, CrewForm(request.POST or None), actions.add_crew, title="Another crew"
    )


@require_http_methods(["GET", "POST"])
def set_payee(request: OurRequest) -> HttpResponse:
    _owner_only(request)
    if queries.newest_payee():
        raise Refused(actions.PAYEE_STAYS)
    form = PayeeForm(request.POST or None)
    return _do(request, form, actions.set_payee, title="Where customers pay")


@require_http_methods(["GET", "POST"])
def time_off(request: OurRequest) -> HttpResponse:
    if not may.book_crews(request.user):
        raise Http404
    form = TimeOffForm(request.POST or None)
    return _do(request, form, actions.give_time_off, title="Time off")


@require_http_methods(["GET", "POST"])
def change_figure(request: OurRequest, code: str) -> HttpResponse:
    _owner_only(request)
    if code not in TRADE:
        raise Http404
    form = FigureForm(
        request.POST or None, initial={"value": queries.own_figures().get(code)}
    )

    def act(**columns: Any) -> None:
        actions.set_figure(code=code, **columns)

    row = TRADE[code]
    title = f"{row.code}: the trade says {row.value} {row.unit}"
    return _do(request, form, act, title=title, then="firm:figures")


def _owner_only(request: OurRequest) -> None:
    if not may.run_the_firm(request.user):
        raise Http404


def _do(
    request: OurRequest,
    form: forms.BaseForm,
    action: Callable[..., object],
    *,
    title: str,
    then: str = "firm:firm",
) -> HttpResponse:
    if form.is_valid():
        try:
            action(**form.cleaned_data, by=request.user, now=now())
        except Refused as refusal:
            known = refusal.field if refusal.field in form.fields else None
            form.add_error(known, str(refusal))
        else:
            return go_to(request, then)
    context = {"form": form, "title": title, "then": then}
    return page_or_part(request, PAGE, PART, context, invalid=bool(form.errors))
