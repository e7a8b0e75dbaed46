from django.http import HttpResponse
from django.shortcuts import redirect
from django.utils.timezone import localdate
from django.views.decorators.http import require_safe

from firm import may
from firm.desk.today import greeting, pieces_for
from firm.views.pages import OurRequest, page_or_part


@require_safe
def today(request: OurRequest) -> HttpResponse:
    """Show what needs doing; somebody on the tools goes straight to the sheets."""
    if request.user.is_on_the_tools:
        return redirect("jobs:tomorrow")
    context = {
        "greeting": greeting(localdate()),
        "pieces": pieces_for(request.user, today=localdate()),
        "may_take_enquiries": may.take_enquiries(request.user),
    }
    return page_or_part(
        request, "firm/today/today.html", "firm/today/_today.html", context
    )
