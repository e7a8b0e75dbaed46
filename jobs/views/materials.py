from django.http import Http404, HttpResponse
from django.utils.timezone import localdate
from django.views.decorators.http import require_safe

from firm import may
from firm.views.pages import OurRequest, page_or_part
from jobs.queries.materials import coming_needs, orders_under_way


@require_safe
def materials(request: OurRequest) -> HttpResponse:
    if not may.order_materials(request.user):
        raise Http404
    today = localdate()
    context = {
        "rows": coming_needs(today),
        "orders": orders_under_way(),
        "today": today,
    }
    return page_or_part(
        request,
        "jobs/material/materials.html",
        "jobs/material/_materials.html",
        context,
    )
