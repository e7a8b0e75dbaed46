from django.http import Http404, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from firm import may
from firm.desk.found import find
from firm.views.pages import OurRequest


@require_safe
def search(request: OurRequest) -> HttpResponse:
    if not may.see_customers(request.user):
        raise Http404
    words = request.GET.get("q", "")
    context = {"words": words.strip(), "found": find(request.user, words)}
    return render(request, "firm/search/search.html", context)
