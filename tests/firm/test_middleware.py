import pytest
from django.test import Client

from tests import make

pytestmark = [pytest.mark.django_db, pytest.mark.urls("tests.screens.faulty")]

# Directive names: W3C, Content Security Policy Level 3, section 6.
DIRECTIVES = {
    "default-src": "'none'",
    "script-src": "'self'",
    "style-src": "'self'",
    "img-src": "'self' data: blob:",
    "font-src": "'self'",
    "connect-src": "'self'",
    "worker-src": "'self'",
    "manifest-src": "'self'",
    "form-action": "'self'",
    "frame-ancestors": "'none'",
    "base-uri": "'none'",
    "object-src": "'none'",
}


def policy_of(answer) -> dict[str, str]:
    parts = answer["Content-Security-Policy"].split(";")
    return dict(part.strip().split(" ", 1) for part in parts)


@pytest.mark.parametrize("address", ["/sign-in/", "/nowhere/", "/echo/?q=%00"])
def test_every_answer_carries_the_whole_policy(client, address):
    assert policy_of(client.get(address)) == DIRECTIVES


def test_every_answer_carries_the_other_headers(client):
    answer = client.get("/sign-in/")
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Referrer-Policy"] == "same-origin"
    assert answer["Cross-Origin-Opener-Policy"] == "same-origin"
    assert answer["X-Frame-Options"] == "DENY"
    assert "geolocation=()" in answer["Permissions-Policy"]
    assert "Access-Control-Allow-Origin" not in answer.headers


def test_a_signed_in_page_is_kept_nowhere(client):
    client.force_login(make.owner())
    assert "no-store" in client.get("/who/")["Cache-Control"]


def test_static_files_may_be_kept(client):
    style = client.get("/static/firm/css/office.css")
    assert style.status_code == 200
    assert "no-store" not in style.get("Cache-Control", "")
    style.close()


@pytest.mark.parametrize(
    ("site", "status"),
    [("same-origin", 200), ("none", 200), ("cross-site", 403)],
)
def test_a_post_from_another_site_is_refused(client, site, status):
    answer = client.post("/echo/", {"words": "x"}, headers={"Sec-Fetch-Site": site})
    assert answer.status_code == status


def test_a_browser_that_names_no_site_is_let_by(client):
    assert client.post("/echo/", {"words": "x"}).content == b"x"


def test_a_link_from_another_site_still_opens(client):
    answer = client.get("/echo/", headers={"Sec-Fetch-Site": "cross-site"})
    assert answer.status_code == 200


def test_somebody_signed_in_is_let_in(client):
    client.force_login(make.owner())
    assert client.get("/who/").content == b"Olive Trowell"


def test_a_stranger_is_sent_to_the_door(client):
    assert client.get("/who/")["Location"] == "/sign-in/?next=/who/"


def test_a_leaver_is_out_on_the_very_next_request(client):
    office = make.office()
    client.force_login(office)
    assert client.get("/who/").status_code == 200
    office.is_active = False
    office.save()
    assert client.get("/who/")["Location"] == "/sign-in/?next=/who/"


def test_somebody_whose_work_became_the_clocks_is_out_too(client):
    office = make.office()
    client.force_login(office)
    office.role = "clock"
    office.save()
    assert client.get("/who/").status_code == 302
    assert "_auth_user_id" not in client.session


def test_a_new_role_counts_on_the_very_next_request(client):
    person = make.office()
    client.force_login(person)
    person.name = "Fay Hawker-Float"
    person.save()
    assert client.get("/who/").content == b"Fay Hawker-Float"


def test_a_post_needs_the_token_of_its_page():
    strict = Client(enforce_csrf_checks=True)
    assert strict.post("/echo/", {"words": "x"}).status_code == 403


def test_a_part_asked_for_after_the_session_ended_opens_the_door_whole(client):
    asked = {"HX-Request": "true", "HX-Current-URL": "http://testserver/who/?page=2"}
    answer = client.get("/who/", headers=asked)
    assert answer["HX-Redirect"] == "/sign-in/?next=%2Fwho%2F"
    client.force_login(make.owner())
    assert "HX-Redirect" not in client.get("/who/", headers=asked)


def test_what_a_page_cannot_do_yet_is_a_sentence_and_no_fault(client):
    client.force_login(make.owner())
    answer = client.get("/refuses/")
    assert answer.status_code == 422
    assert "The firm has no van." in answer.content.decode()
