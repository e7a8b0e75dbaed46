import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

pytestmark = [pytest.mark.django_db, pytest.mark.urls("tests.screens.faulty")]


@pytest.fixture
def visitor():
    return Client(raise_request_exception=False)


def words_of(answer) -> str:
    return " ".join(answer.content.decode().split())


def test_a_fault_of_ours_is_owned_and_has_a_reference(visitor, caplog):
    answer = visitor.get("/fault/")
    assert answer.status_code == 500
    assert "The fault is ours" in words_of(answer)
    reference = re.search(r"figure\">([0-9a-f]{8})<", answer.content.decode())
    assert reference
    assert reference[1] in caplog.text


def test_two_faults_have_two_references(visitor):
    assert visitor.get("/fault/").content != visitor.get("/fault/").content


def test_a_rival_who_is_saving_is_named_and_nothing_was_saved(visitor):
    answer = visitor.get("/locked/")
    assert answer.status_code == 503
    assert answer["Retry-After"] == "5"
    assert "Someone else is saving. Press again: nothing was saved." in words_of(answer)


# PostgreSQL 15, Appendix A, "PostgreSQL Error Codes": lock_not_available,
# query_canceled, deadlock_detected, serialization_failure.
@pytest.mark.parametrize("sqlstate", ["55P03", "57014", "40P01", "40001"])
def test_postgresql_losing_to_a_rival_says_the_same(visitor, sqlstate):
    answer = visitor.get(f"/lost/{sqlstate}/")
    assert answer.status_code == 503
    assert "Someone else is saving" in words_of(answer)


def test_a_lost_connection_never_claims_that_nothing_was_saved(visitor):
    # 08006 is connection_failure: the commit may have gone through.
    answer = visitor.get("/lost/08006/")
    assert answer.status_code == 503
    assert "nothing was saved" not in words_of(answer)
    assert "look whether the last thing was saved" in words_of(answer)


def test_a_missing_page_is_said_to_be_missing(visitor):
    answer = visitor.get("/nowhere/")
    assert answer.status_code == 404
    assert "Nothing is here" in words_of(answer)


def test_a_view_may_say_why_nothing_is_there(visitor):
    assert "That quote was withdrawn." in words_of(visitor.get("/withdrawn/"))


def test_words_that_django_made_up_are_not_shown(visitor):
    answer = visitor.get("/no-such-person/")
    assert answer.status_code == 404
    assert "matches the given query" not in words_of(answer)


def test_what_is_not_open_says_whose_it_is(visitor):
    answer = visitor.get("/owners-only/")
    assert answer.status_code == 403
    assert "Only the owner changes the crews." in words_of(answer)


def test_a_form_without_its_token_says_load_it_again():
    answer = Client(enforce_csrf_checks=True).post("/echo/", {"words": "hello"})
    assert answer.status_code == 403
    assert "load the page again and press once more" in words_of(answer)


def test_too_many_fields_are_too_much_at_once(visitor):
    answer = visitor.post("/echo/", {f"f{number}": "1" for number in range(1001)})
    assert answer.status_code == 413
    assert "too much at once" in words_of(answer)


def test_too_long_a_form_is_too_much_at_once(visitor):
    answer = visitor.post("/echo/", {"words": "x" * 2_700_000})
    # A file may be long, a form may not: only the encoding for plain forms is capped.
    plain = "application/x-www-form-urlencoded"
    capped = visitor.post("/echo/", f"words={'x' * 2_700_000}", content_type=plain)
    assert (answer.status_code, capped.status_code) == (413, 413)


@pytest.mark.parametrize("address", ["/echo/?q=%00", "/echo/?%00=1", "/ec%00ho/"])
def test_a_nul_in_an_address_is_refused_with_a_sentence(visitor, address):
    answer = visitor.get(address)
    assert answer.status_code == 400
    assert "a character that cannot be typed" in words_of(answer)


@pytest.mark.parametrize("sent", [{"words": "a\0b"}, {"a\0b": "words"}])
def test_a_nul_in_a_form_is_refused_and_says_nothing_was_saved(visitor, sent):
    answer = visitor.post("/echo/", sent)
    assert answer.status_code == 400
    assert "nothing was saved" in words_of(answer)


def test_the_same_form_without_the_nul_is_taken(visitor):
    assert visitor.post("/echo/", {"words": "Siân O'Neil 👍"}).content == (
        "Siân O'Neil 👍".encode()
    )


def test_a_nul_in_a_plain_form_is_refused(visitor):
    answer = visitor.post(
        "/echo/", "words=a%00b", content_type="application/x-www-form-urlencoded"
    )
    assert answer.status_code == 400


def test_a_photo_is_taken_and_its_bytes_are_not_read_as_words(visitor):
    photo = SimpleUploadedFile("wall.jpg", b"\xff\xd8\0\0", "image/jpeg")
    assert visitor.post("/echo/", {"photo": photo}).status_code == 200


def test_a_search_of_two_hundred_letters_is_the_longest(visitor):
    assert visitor.get("/echo/", {"q": "x" * 200}).status_code == 200
    refused = visitor.get("/echo/", {"q": "x" * 201})
    assert refused.status_code == 400
    assert "200 letters or fewer" in words_of(refused)


def test_error_pages_ask_the_database_nothing(visitor, django_assert_num_queries):
    with django_assert_num_queries(0):
        assert visitor.get("/nowhere/").status_code == 404


def test_error_pages_need_no_script_and_no_style_of_their_own(visitor):
    page = visitor.get("/fault/").content.decode()
    assert "<script" not in page
    assert "style=" not in page
    assert "office.css" in page
