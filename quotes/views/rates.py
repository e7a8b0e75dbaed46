from django.http import Http404, HttpResponse
from django.utils.timezone import now
from django.views.decorators.http import require_http_methods

from firm import may
from firm.engine.refusal import Refused
from firm.views.pages import OurRequest, go_to, page_or_part
from quotes.actions.rates import set_rates
from quotes.forms.rates import RatesForm
from quotes.queries.priced import rates_or_none


@require_http_methods(["GET", "POST"])
def rates(request: OurRequest) -> HttpResponse:
    if not may.see_the_firm(request.user):
        raise Http404
    form = RatesForm(request.POST or None, instance=rates_or_none())
    if form.is_valid():
        try:
            set_rates(**form.cleaned_data, by=request.user, now=now())
        except Refused as refusal:
            form.add_error(None, str(refusal))
        else:
            return go_to(request, "firm:firm")
    context = {"form": form, "may_change": may.run_the_firm(request.user)}
    return page_or_part(
        request,
        "quotes/rates/rates.html",
        "quotes/rates/_rates_form.html",
        context,
        invalid=bool(form.errors),
    )
