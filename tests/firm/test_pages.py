"""Pages stand in for any page: an error page for the whole, a part for the part."""

from typing import Any

import pytest
from django.http import HttpRequest, HttpResponse
from django.test import RequestFactory
from django_htmx.middleware import HtmxMiddleware

from firm.views.pages import go_to, page_or_part

PAGE, PART = "errors/404.html", "_parts/back.html"
CONTEXT = {"url": "/jobs/", "label": "All jobs"}


class Thing:
    def get_absolute_url(self) -> str:
        return "/jobs/7/"


def asked(**headers: str) -> HttpRequest:
    request = RequestFactory().get("/", headers=headers)
    HtmxMiddleware(lambda _: HttpResponse())(request)
    return request


def answer(request: HttpRequest, **options: Any) -> HttpResponse:
    return page_or_part(request, PAGE, PART, CONTEXT, **options)


def test_a_browser_gets_the_whole_page():
    page = answer(asked())
    assert page.status_code == 200
    assert b"<html" in page.content


def test_htmx_gets_the_part_alone():
    part = answer(asked(HX_Request="true"))
    assert part.content.strip() == b'<a class="back" href="/jobs/">All jobs</a>'


def test_htmx_restoring_history_gets_the_whole_page():
    page = answer(asked(HX_Request="true", HX_History_Restore_Request="true"))
    assert b"<html" in page.content


def test_a_boosted_link_gets_the_whole_page():
    page = answer(asked(HX_Request="true", HX_Boosted="true"))
    assert b"<html" in page.content


@pytest.mark.parametrize("headers", [{}, {"HX_Request": "true"}])
def test_refused_typing_answers_422(headers):
    assert answer(asked(**headers), invalid=True).status_code == 422


def test_a_cache_may_not_mix_pages_and_parts():
    assert "HX-Request" in answer(asked())["Vary"]


def test_a_browser_is_sent_on_with_303():
    sent = go_to(asked(), Thing())
    assert (sent.status_code, sent["Location"]) == (303, "/jobs/7/")


def test_htmx_is_told_to_go_there():
    sent = go_to(asked(HX_Request="true"), "/jobs/")
    assert (sent.status_code, sent["HX-Redirect"]) == (200, "/jobs/")


def test_a_name_of_an_address_leads_there_too():
    assert go_to(asked(), "account_login")["Location"] == "/sign-in/"
