import pytest
from django.test import RequestFactory

from firm.queries.frame import Frame
from tests import make

pytestmark = pytest.mark.django_db

PLACES = {
    "owner": "Today Enquiries Jobs Diary Materials Money Tray Firm",
    "office": "Today Enquiries Jobs Diary Materials Money Tray Firm",
    "lead": "Tomorrow",
    "crew": "Tomorrow",
    "books": "Today Jobs Diary Money Tray Firm",
}


def frame_for(role: str, path: str = "/", **columns) -> Frame:
    request = RequestFactory().get(path)
    request.user = make.person(role, **columns)
    return Frame(request)


@pytest.mark.parametrize(("role", "places"), PLACES.items())
def test_each_role_is_shown_only_where_it_may_go(role, places):
    assert [place.label for place in frame_for(role).places] == places.split()


def test_a_leaver_is_shown_no_place_at_all():
    gone = frame_for("owner", is_active=False)
    assert gone.places == []
    assert gone.person is None


def test_a_stranger_is_shown_no_place_and_no_search():
    stranger = Frame(RequestFactory().get("/"))
    assert (stranger.places, stranger.search) == ([], "")


def test_only_those_who_may_see_customers_can_search():
    assert frame_for("office").search
    assert not frame_for("crew").search


def marked(frame: Frame) -> list[str]:
    return [place.label for place in frame.places if place.is_here]


def test_a_page_below_a_place_marks_that_place():
    somewhere = next(p.url for p in frame_for("owner").places if p.label == "Diary")
    assert marked(frame_for("owner", f"{somewhere}week/")) == ["Diary"]


def test_todays_page_marks_only_itself():
    assert marked(frame_for("owner", "/")) == ["Today"]


def test_a_page_outside_every_place_marks_none():
    assert marked(frame_for("owner", "/sign-in/yours/")) == []


def test_the_bar_of_a_phone_holds_four_places_and_the_rest():
    owner = frame_for("owner")
    assert [place.label for place in owner.first_places] == PLACES["owner"].split()[:4]
    assert [place.label for place in owner.more_places] == PLACES["owner"].split()[4:]


def test_few_places_need_no_more_menu():
    assert frame_for("crew").more_places == []


def test_the_more_menu_is_marked_when_it_holds_this_page():
    owner = frame_for("owner")
    money = next(place for place in owner.places if place.label == "Money")
    assert frame_for("owner", money.url).is_in_more
    assert not owner.is_in_more


def test_a_page_that_names_no_firm_asks_the_database_nothing(
    django_assert_num_queries,
):
    frame = frame_for("owner")
    with django_assert_num_queries(0):
        assert frame.places


def test_the_firm_is_read_once_a_page(django_assert_num_queries):
    make.firm()
    frame = frame_for("owner")
    with django_assert_num_queries(1):
        assert frame.firm_name == "Hawk and Trowel"
        assert frame.firm_phone
