import re
import time
from urllib.parse import urlsplit

import pytest
from allauth.mfa.models import Authenticator
from allauth.mfa.totp.internal import auth as totp
from django.conf import settings
from django.core import mail
from django.core.cache import cache
from django.test import Client

from firm.models import Notice, Person
from firm.sign_in import NOT_TOGETHER, TOO_OFTEN, SecondFactor
from tests import make

pytestmark = pytest.mark.django_db
NEW = "horsehair lath and three coats"


@pytest.fixture(autouse=True)
def nobody_has_tried_before():
    cache.clear()


def come_in(client: Client, person: Person, password: str = make.PASSWORD):
    return client.post("/sign-in/", {"login": person.email, "password": password})


def is_in(client: Client) -> bool:
    return "_auth_user_id" in client.session


def text_of(answer) -> str:
    return " ".join(answer.content.decode().split())


def test_address_and_password_open_the_office(client):
    answer = come_in(client, make.owner())
    assert (answer.status_code, answer["Location"]) == (302, "/")
    assert is_in(client)


def test_the_address_may_be_typed_in_capitals(client):
    make.owner()
    client.post("/sign-in/", {"login": "Owner@Example.COM", "password": make.PASSWORD})
    assert is_in(client)


def test_after_signing_in_the_page_asked_for_opens(client):
    make.owner()
    sent = {"login": "owner@example.com", "password": make.PASSWORD, "next": "/tray/"}
    assert client.post("/sign-in/", sent)["Location"] == "/tray/"


def test_after_signing_in_no_other_site_opens(client):
    make.owner()
    sent = {"login": "owner@example.com", "password": make.PASSWORD}
    elsewhere = client.post("/sign-in/", sent | {"next": "https://example.com/"})
    assert elsewhere["Location"] == "/"


def test_a_wrong_password_keeps_the_address_typed(client):
    answer = come_in(client, make.owner(), "lime putty and goat hair")
    assert answer.status_code == 422
    assert NOT_TOGETHER in text_of(answer)
    assert 'value="owner@example.com"' in text_of(answer)
    assert "goat" not in text_of(answer)
    assert "<title>Error: Sign in" in text_of(answer)


def test_an_empty_form_says_what_is_missing(client):
    answer = client.post("/sign-in/", {})
    assert answer.status_code == 422
    assert "Type your email address." in text_of(answer)
    assert 'href="#id_login"' in text_of(answer)


def words_for(client: Client, email: str, password: str) -> str:
    answer = client.post("/sign-in/", {"login": email, "password": password})
    assert answer.status_code == 422
    assert not is_in(client)
    problem = re.search(r'role="alert">(.*?)</div>', text_of(answer))
    assert problem
    return problem[1]


def test_a_leaver_hears_what_a_stranger_hears(client):
    office = make.office()
    come_in(client, office)
    assert is_in(client)
    client.logout()
    office.is_active = False
    office.save()
    as_stranger = words_for(client, "nobody@example.com", make.PASSWORD)
    assert words_for(client, office.email, make.PASSWORD) == as_stranger


def test_the_office_clock_cannot_sign_in(client):
    clock = Person.objects.clock()
    clock.set_password(make.PASSWORD)
    clock.save()
    assert NOT_TOGETHER in words_for(client, clock.email, make.PASSWORD)


def test_after_five_wrong_tries_even_the_right_one_must_wait(client):
    # allauth's rate for one address: five failures in 300 seconds.
    owner = make.owner()
    for _ in range(5):
        come_in(client, owner, "wrong words again")
    answer = come_in(client, owner)
    assert TOO_OFTEN in text_of(answer)
    assert not is_in(client)


def test_nobody_signs_up(client):
    assert client.get("/sign-in/signup/").status_code == 404
    assert "signup" not in text_of(client.get("/sign-in/"))


def test_signing_out_takes_a_press_and_empties_the_device(client):
    client.force_login(make.owner())
    client.get("/sign-in/out/")
    assert is_in(client)
    answer = client.post("/sign-in/out/")
    assert not is_in(client)
    assert answer["Clear-Site-Data"] == '"storage"'


def letter_for(client: Client, email: str) -> Notice | None:
    answer = client.post("/sign-in/password/forgotten/", {"email": email}, follow=True)
    assert "Look in your letters" in text_of(answer)
    return Notice.objects.filter(to_address=email).first()


def link_in(letter: Notice) -> str:
    found = re.search(r"https?://\S+", letter.text)
    assert found
    assert found[0].startswith(settings.FIRM_ADDRESS)
    return urlsplit(found[0]).path


def test_a_forgotten_password_leaves_a_letter_in_the_tray(client):
    letter = letter_for(client, make.owner().email)
    assert letter
    assert letter.kind == "sign-in"
    assert letter.subject == "Choose a new password for the office"
    assert letter.text.startswith("Hello Olive,")
    assert (letter.expires_at - letter.due_at).total_seconds() == 1800
    assert mail.outbox == []


def test_the_links_origin_is_the_firms_and_not_the_requests(client):
    make.owner()
    client.post(
        "/sign-in/password/forgotten/",
        {"email": "owner@example.com"},
        headers={"Host": "localhost"},
    )
    assert link_in(Notice.objects.get()).startswith("/sign-in/password/new/")


@pytest.mark.parametrize("email", ["nobody@example.com", "clock@office.invalid"])
def test_an_address_that_cannot_sign_in_gets_no_letter(client, email):
    Person.objects.clock()
    assert letter_for(client, email) is None


def test_a_leaver_gets_no_letter(client):
    gone = make.person("office", is_active=False)
    assert letter_for(client, gone.email) is None


def new_password_page(client: Client, letter: Notice):
    return client.get(link_in(letter), follow=True)


def test_the_link_sets_a_new_password_once(client):
    owner = make.owner()
    letter = letter_for(client, owner.email)
    page = new_password_page(client, letter)
    here = page.request["PATH_INFO"]
    client.post(here, {"password1": NEW, "password2": NEW})
    owner.refresh_from_db()
    assert owner.check_password(NEW)
    assert "That link is spent" in text_of(new_password_page(Client(), letter))


def test_a_short_new_password_is_refused_and_the_old_one_stays(client):
    owner = make.owner()
    page = new_password_page(client, letter_for(client, owner.email))
    here = page.request["PATH_INFO"]
    answer = client.post(here, {"password1": "trowel", "password2": "trowel"})
    assert answer.status_code == 422
    owner.refresh_from_db()
    assert owner.check_password(make.PASSWORD)


def test_changing_a_password_asks_for_the_old_one(client):
    owner = make.owner()
    come_in(client, owner)
    sent = {"oldpassword": "not this", "password1": NEW, "password2": NEW}
    refused = client.post("/sign-in/password/", sent)
    assert refused.status_code == 422
    client.post("/sign-in/password/", sent | {"oldpassword": make.PASSWORD})
    owner.refresh_from_db()
    assert owner.check_password(NEW)


def code_for(secret: str) -> str:
    counter = int(time.time()) // 30
    return totp.format_hotp_value(totp.hotp_value(secret, counter))


def say_who_it_is(client: Client) -> None:
    client.post("/sign-in/again/", {"password": make.PASSWORD})


def with_second_step(client: Client) -> tuple[Person, str]:
    owner = make.owner()
    come_in(client, owner)
    say_who_it_is(client)
    page = client.get("/sign-in/app/")
    assert "data:image/svg+xml" in text_of(page)
    secret = page.context["form"].secret
    client.post("/sign-in/app/", {"code": code_for(secret)})
    client.logout()
    cache.clear()  # a code opens once in its half minute, and tests do not wait
    return owner, secret


def test_the_seed_lies_sealed_in_the_database(client):
    owner, secret = with_second_step(client)
    row = Authenticator.objects.get(user=owner, type=Authenticator.Type.TOTP)
    assert secret not in str(row.data)
    assert SecondFactor().decrypt(row.data["secret"]) == secret


def test_the_same_seed_is_never_sealed_the_same_twice():
    assert SecondFactor().encrypt("SEED") != SecondFactor().encrypt("SEED")


def test_a_seed_opens_after_the_firms_key_has_changed(settings):
    sealed = SecondFactor().encrypt("SEED")
    settings.SECRET_KEY_FALLBACKS = [settings.SECRET_KEY]
    settings.SECRET_KEY = "another key of the firm " * 3
    assert SecondFactor().decrypt(sealed) == "SEED"


def test_the_password_alone_no_longer_opens_the_office(client):
    owner, secret = with_second_step(client)
    answer = come_in(client, owner)
    assert answer["Location"].startswith("/sign-in/code/")
    assert not is_in(client)
    wrong = client.post("/sign-in/code/", {"code": "000000"})
    assert wrong.status_code == 422
    client.post("/sign-in/code/", {"code": code_for(secret)})
    assert is_in(client)


def test_a_spare_code_opens_the_office_once(client):
    owner, _ = with_second_step(client)
    row = Authenticator.objects.get(user=owner, type="recovery_codes")
    spare = row.wrap().get_unused_codes()[0]
    come_in(client, owner)
    client.post("/sign-in/code/", {"code": spare})
    assert is_in(client)
    client.logout()
    come_in(client, owner)
    assert client.post("/sign-in/code/", {"code": spare}).status_code == 422


def test_turning_on_the_second_step_asks_who_it_is_first(client):
    come_in(client, make.owner())
    assert client.get("/sign-in/app/")["Location"].startswith("/sign-in/again/")
    refused = client.post("/sign-in/again/", {"password": "not this"})
    assert refused.status_code == 422
    assert client.get("/sign-in/app/").status_code == 302
    say_who_it_is(client)
    assert client.get("/sign-in/app/").status_code == 200


def with_codes(client: Client) -> Person:
    owner, secret = with_second_step(client)
    come_in(client, owner)
    client.post("/sign-in/code/", {"code": code_for(secret)})
    say_who_it_is(client)
    return owner


def test_the_second_step_can_be_turned_off_again(client):
    owner = with_codes(client)
    client.post("/sign-in/app/off/")
    assert not Authenticator.objects.filter(user=owner).exists()


def test_new_spare_codes_take_the_place_of_the_old(client):
    with_codes(client)
    before = client.get("/sign-in/spare-codes/file/").content.split()
    client.post("/sign-in/spare-codes/new/")
    after = client.get("/sign-in/spare-codes/file/").content.split()
    assert len(after) == 10
    assert not set(before) & set(after)


@pytest.mark.parametrize(
    "address",
    [
        "/sign-in/yours/",
        "/sign-in/code/again/",
        "/sign-in/app/off/",
        "/sign-in/spare-codes/",
        "/sign-in/spare-codes/new/",
    ],
)
def test_every_page_of_the_second_step_is_in_our_own_words(client, address):
    with_codes(client)
    page = client.get(address)
    assert page.status_code == 200
    ours(text_of(page))


def test_signing_out_everywhere_else_keeps_this_device(client):
    come_in(client, make.owner())
    other = Client()
    come_in(other, make.owner())
    assert text_of(client.get("/sign-in/devices/")).count('scope="row"') == 2
    client.post("/sign-in/devices/")
    assert client.get("/sign-in/devices/").status_code == 200
    assert other.get("/sign-in/devices/").status_code == 302


@pytest.mark.parametrize(
    "address",
    [
        "/sign-in/out/",
        "/sign-in/again/",
        "/sign-in/password/",
        "/sign-in/yours/",
        "/sign-in/app/",
        "/sign-in/devices/",
    ],
)
def test_every_page_of_ones_sign_in_is_in_our_own_words(client, address):
    make.firm()
    come_in(client, make.owner())
    say_who_it_is(client)
    page = client.get(address)
    assert page.status_code == 200
    ours(text_of(page))


@pytest.mark.parametrize(
    "address",
    [
        "/sign-in/",
        "/sign-in/password/forgotten/",
        "/sign-in/password/forgotten/sent/",
        "/sign-in/password/new/1-set-password/",
        "/sign-in/password/new/done/",
    ],
)
def test_every_page_at_the_door_is_in_our_own_words(client, address):
    page = client.get(address)
    assert page.status_code == 200
    ours(text_of(page))


def ours(page: str) -> None:
    assert "firm/css/office.css" in page
    assert page.count("<h1>") == 1
    assert "style=" not in page
    assert not re.search(r"<script(?![^>]*src=)", page)
    for foreign in ("account", "Sign Up", 'placeholder="Password'):
        assert f">{foreign}" not in page
