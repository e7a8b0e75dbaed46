"""Signed links: one paper, for a while, by a key that is nowhere kept."""

import hashlib
import logging
from datetime import timedelta

import pytest
from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.core.cache import cache
from django.http import HttpResponse
from django.urls import include, path
from django.utils import timezone

from firm import urls as firm_urls
from firm.actions.links import make_link, revoke_links
from firm.models import SignedLink
from firm.queries.links import linked_id

pytestmark = [pytest.mark.django_db, pytest.mark.urls(__name__)]


@login_not_required
def paper_page(request):
    found = linked_id(request.session, "quote", now=timezone.now())
    return HttpResponse(f"quote {found}")


urlpatterns = [
    path("letter/quote/", include(([path("", paper_page, name="letter")], "quotes"))),
    path("letter/bill/", include(([path("", paper_page, name="letter")], "invoices"))),
    path("", include((firm_urls.firm_pages, "firm"))),
    path("sign-in/", include(firm_urls.sign_in)),
]


@pytest.fixture(autouse=True)
def no_misses_yet():
    cache.clear()


def link(*, days=30, about_id=12, purpose="quote"):
    now = timezone.now()
    expires_at = now + timedelta(days=days)
    url = make_link(purpose=purpose, about_id=about_id, expires_at=expires_at, now=now)
    return url.removeprefix(settings.FIRM_ADDRESS)


def test_the_database_keeps_the_digest_and_never_the_key():
    address = link()
    key = address.split("/")[2]
    kept = SignedLink.objects.get()
    assert len(key) >= 43
    assert kept.digest == hashlib.sha256(key.encode()).hexdigest()
    assert key not in str(SignedLink.objects.values().get())


def test_the_first_look_swaps_the_key_for_a_plain_address(client):
    answer = client.get(link())
    assert (answer.status_code, answer["Location"]) == (303, "/letter/quote/")
    assert answer["Referrer-Policy"] == "no-referrer"
    assert client.get("/letter/quote/").content == b"quote 12"


def test_a_link_opens_its_own_purpose_and_no_other(client):
    client.get(link(purpose="bill", about_id=12))
    assert client.get("/letter/quote/").content == b"quote None"


def test_a_head_opens_nothing(client):
    answer = client.head(link())
    assert answer.status_code == 303
    assert client.get("/letter/quote/").content == b"quote None"


def test_a_hundred_looks_of_a_mail_scanner_change_no_link(client):
    address = link()
    before = SignedLink.objects.values().get()
    for _ in range(50):
        client.get(address, HTTP_PURPOSE="prefetch")
        client.head(address)
    assert SignedLink.objects.values().get() == before


def test_every_bad_key_gets_the_very_same_answer(client):
    expired, revoked = link(about_id=1), link(about_id=2)
    SignedLink.objects.filter(about_id=1).update(
        made_at=timezone.now() - timedelta(days=9),
        expires_at=timezone.now() - timedelta(seconds=1),
    )
    revoke_links(purpose="quote", about_id=2, now=timezone.now())
    unknown = "/l/" + "k" * 43 + "/"
    answers = [client.get(bad) for bad in (expired, revoked, unknown, "/l/short/")]
    assert {answer.status_code for answer in answers} == {404}
    assert len({answer.content for answer in answers}) == 1


def test_a_session_opened_by_a_link_ends_when_the_link_is_revoked(client):
    client.get(link())
    assert client.get("/letter/quote/").content == b"quote 12"
    revoke_links(purpose="quote", about_id=12, now=timezone.now())
    assert client.get("/letter/quote/").content == b"quote None"


def test_a_session_opened_by_a_link_ends_after_half_an_hour(client, time_machine):
    now = timezone.now()
    time_machine.move_to(now, tick=False)
    client.get(link())
    time_machine.move_to(now + timedelta(minutes=29, seconds=59), tick=False)
    assert client.get("/letter/quote/").content == b"quote 12"
    time_machine.move_to(now + timedelta(minutes=30), tick=False)
    assert client.get("/letter/quote/").content == b"quote None"


def test_twenty_misses_from_one_place_close_the_door_for_a_while(client):
    good = link()
    for guess in range(20):
        assert client.get(f"/l/guess{guess}/").status_code == 404
    assert client.get("/l/guess20/").status_code == 429
    assert client.get(good).status_code == 429
    assert client.get(good, REMOTE_ADDR="10.0.0.9").status_code == 303


def test_the_log_names_no_key(client, caplog):
    with caplog.at_level(logging.INFO):
        client.get("/l/" + "k" * 43 + "/")
    assert "Not Found: /l/…/" in caplog.text
    assert "kkk" not in caplog.text
