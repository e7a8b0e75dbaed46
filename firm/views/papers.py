from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from firm.documents.letter import file_name
from firm.engine.refusal import Refused
from firm.models import Paper
from firm.queries.papers import paper_bytes, paper_for
from firm.views.pages import OurRequest

NO_PAPER = "There is no such paper, or it is not one that you may see."


@require_GET
def paper(request: OurRequest, paper_id: int) -> HttpResponse:
    return paper_response(request, paper_for(request.user, paper_id))


def paper_response(request: HttpRequest, found: Paper | None) -> HttpResponse:
    """Show a paper to somebody who may read it, exactly as it was printed."""
    if found is None:
        raise Http404(NO_PAPER)
    try:
        pdf = paper_bytes(found)
    except Refused as refusal:
        page = "firm/paper/not_there.html"
        context = {"paper": found, "sentence": refusal.text}
        return render(request, page, context, status=503 if found.is_made else 404)
    answer = HttpResponse(pdf, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{_ascii_name(found.title)}"'
    answer["Cache-Control"] = "private, no-store"
    return answer


def _ascii_name(title: str) -> str:
    return file_name(title.encode("ascii", "ignore").decode())
