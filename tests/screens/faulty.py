"""Addresses that go wrong in each way, so that tests can look at the answers."""

from typing import NoReturn

from django.contrib.auth.decorators import login_not_required
from django.core.exceptions import PermissionDenied
from django.db import OperationalError
from django.http import Http404, HttpRequest, HttpResponse
from django.urls import path

from firm import urls
from firm.engine.refusal import Refused
from firm.models import Person

handler400, handler403 = urls.handler400, urls.handler403
handler404, handler500 = urls.handler404, urls.handler500


class Lost(Exception):
    """Stands where a driver's own exception does."""

    def __init__(self, sqlstate: str) -> None:
        super().__init__(sqlstate)
        self.sqlstate = sqlstate


@login_not_required
def fault(request: HttpRequest) -> NoReturn:
    raise ZeroDivisionError


@login_not_required
def locked(request: HttpRequest) -> NoReturn:
    raise OperationalError("database is locked")


@login_not_required
def lost(request: HttpRequest, sqlstate: str) -> NoReturn:
    raise OperationalError("in words of the driver") from Lost(sqlstate)


@login_not_required
def withdrawn(request: HttpRequest) -> NoReturn:
    raise Http404("That quote was withdrawn.")


@login_not_required
def no_such_person(request: HttpRequest) -> NoReturn:
    raise Http404("No Person matches the given query.")


@login_not_required
def owners_only(request: HttpRequest) -> NoReturn:
    raise PermissionDenied("Only the owner changes the crews.")


def refuses(request: HttpRequest) -> NoReturn:
    raise Refused("The firm has no van.")


@login_not_required
def echo(request: HttpRequest) -> HttpResponse:
    return HttpResponse(request.POST.get("words", "nothing"))


def who(request: HttpRequest) -> HttpResponse:
    assert isinstance(request.user, Person)
    return HttpResponse(request.user.name)


urlpatterns = [
    *urls.urlpatterns,
    path("fault/", fault),
    path("locked/", locked),
    path("lost/<sqlstate>/", lost),
    path("withdrawn/", withdrawn),
    path("no-such-person/", no_such_person),
    path("owners-only/", owners_only),
    path("refuses/", refuses),
    path("echo/", echo),
    path("who/", who),
]
