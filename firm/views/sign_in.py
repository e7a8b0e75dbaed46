"""allauth's views, answering as the rest of the office does."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.template.response import TemplateResponse

View = Callable[..., HttpResponse]


def refused_is_422(view: View) -> View:
    """Answer 422 to typing that was refused; allauth itself answers 200."""

    @wraps(view)
    def answering(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        answer = view(request, *args, **kwargs)
        if isinstance(answer, TemplateResponse) and _form_has_faults(answer):
            answer.status_code = 422
        return answer

    return answering


def forgets_this_device(view: View) -> View:
    """Empty what the browser kept of the office once somebody has signed out."""

    @wraps(view)
    def answering(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        answer = view(request, *args, **kwargs)
        if request.method == "POST":
            answer["Clear-Site-Data"] = '"storage"'
        return answer

    return answering


def _form_has_faults(answer: TemplateResponse) -> bool:
    form = (answer.context_data or {}).get("form")
    return bool(form is not None and form.is_bound and form.errors)
