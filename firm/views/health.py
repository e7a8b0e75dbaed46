from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, JsonResponse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from firm.queries.pulse import SILENT_AFTER, worker_silent_for


@login_not_required
@never_cache
@require_safe
def health(request: HttpRequest) -> JsonResponse:  # noqa: ARG001 - what Django hands
    """Tell a monitor that pages are served and that a worker works."""
    silent_for = worker_silent_for(timezone.now())
    is_working = silent_for is not None and silent_for <= SILENT_AFTER
    seconds = None if silent_for is None else int(silent_for.total_seconds())
    return JsonResponse(
        {
            "state": "ok" if is_working else "the worker is silent",
            "worker_seconds": seconds,
        },
        status=200 if is_working else 503,
    )
