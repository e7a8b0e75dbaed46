from django.http import Http404, HttpResponse
from django.utils.timezone import now
from django.views.decorators.http import require_http_methods, require_safe

from firm import may
from firm.engine.refusal import Refused
from firm.engine.trade.materials import PRODUCTS
from firm.views.pages import OurRequest, go_to, page_or_part
from jobs.actions import merchant as actions
from jobs.forms.merchant import MerchantForm, PriceForm
from jobs.models import Merchant
from jobs.queries.merchant import merchants_for

PAGE, PART = "jobs/merchant/change.html", "jobs/merchant/_change_form.html"


@require_safe
def merchants(request: OurRequest) -> HttpResponse:
    if not may.see_prices(request.user):
        raise Http404
    context = {
        "merchants": [(m, m.prices.all()) for m in merchants_for(request.user)],
        "may_change": may.order_materials(request.user),
    }
    return page_or_part(
        request,
        "jobs/merchant/merchants.html",
        "jobs/merchant/_merchants.html",
        context,
    )


@require_http_methods(["GET", "POST"])
def merchant(request: OurRequest, merchant_id: int | None = None) -> HttpResponse:
    known = _merchant(request, merchant_id)
    form = MerchantForm(request.POST or None, initial=vars(known) if known else None)
    if form.is_valid():
        try:
            actions.save_merchant(
                merchant_id, **form.cleaned_data, by=request.user, now=now()
            )
        except Refused as refusal:
            form.add_error(refusal.field or None, str(refusal))
        else:
            return go_to(request, "jobs:merchants")
    context = {"form": form, "title": known or "Another merchant"}
    return page_or_part(request, PAGE, PART, context, invalid=bool(form.errors))


@require_http_methods(["GET", "POST"])
def price(request: OurRequest, merchant_id: int) -> HttpResponse:
    known = _merchant(request, merchant_id)
    form = PriceForm(request.POST or None)
    if form.is_valid():
        product = PRODUCTS[form.cleaned_data["item_code"]]
        try:
            actions.set_price(
                merchant_id,
                item_code=product.code,
                pack=product.pack_name,
                price_gbp=form.cleaned_data["price_gbp"],
                by=request.user,
                now=now(),
            )
        except Refused as refusal:
            form.add_error(refusal.field or None, str(refusal))
        else:
            return go_to(request, "jobs:merchants")
    context = {"form": form, "title": f"A price at {known}"}
    return page_or_part(request, PAGE, PART, context, invalid=bool(form.errors))


def _merchant(request: OurRequest, merchant_id: int | None) -> Merchant | None:
    if not may.order_materials(request.user):
        raise Http404
    if merchant_id is None:
        return None
    known = merchants_for(request.user).filter(pk=merchant_id).first()
    if known is None:
        raise Http404
    return known
