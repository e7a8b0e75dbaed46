from django.http import Http404, HttpResponse
from django.utils.timezone import localdate
from django.views.decorators.http import require_safe

from firm import may
from firm.views.pages import OurRequest, page_or_part
from jobs.forms.booking import DiaryForm
from jobs.queries.booking import won_not_booked
from jobs.queries.diary import USUAL_WEEKS, diary_of


@require_safe
def diary(request: OurRequest) -> HttpResponse:
    if not may.see_the_diary(request.user):
        raise Http404
    form = DiaryForm(request.GET or None)
    asked = form.cleaned_data if form.is_valid() else {}
    today = localdate()
    shown = diary_of(
        asked.get("on") or today, asked.get("weeks") or USUAL_WEEKS, today=today
    )
    context = {
        "diary": shown,
        "form": DiaryForm(initial={"on": shown.first_on, "weeks": shown.weeks}),
        "asked": form,
        "waiting": won_not_booked(),
        "may_book": may.book_crews(request.user),
        "today": today,
    }
    return page_or_part(
        request,
        "jobs/diary/diary.html",
        "jobs/diary/_diary.html",
        context,
        invalid=bool(form.errors),
    )
