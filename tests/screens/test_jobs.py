import pytest

from jobs.models import Job, OtherTrade
from tests import make
from tests.screens.looking import signed_in, words_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def office():
    make.firm()
    return signed_in(make.office())


def asked(**changes):
    usual = {
        "address": "14 Larch Row",
        "postcode": "ZZ1 2AB",
        "what": "Skim three bedrooms",
        "said": "Three after all.",
    }
    return usual | changes


def trade(**changes):
    usual = {"trade": "Electrician", "side": "before", "sure": "unknown"}
    return usual | changes


def test_the_job_page_shows_all_that_hangs_on_it(office):
    visit = make.visit(on=make.tomorrow())
    make.other_trade(visit.job)
    page = office.get(f"/jobs/{visit.job_id}/")
    words = words_of(page)
    for piece in [
        "14 Larch Row",
        "geo:0,0?q=14%20Larch%20Row",
        "Old paint",
        "Electrician",
    ]:
        assert piece.lower() in words.lower()
    assert "Day not known" in words
    assert "Visit booked" in words


def test_the_jobs_list_goes_by_stage_words_and_pages(office):
    first = make.job()
    make.job("lost", of=make.customer("Mo Ash", phone="+441632960222"), what="Patch")
    assert "Patch" not in words_of(office.get("/jobs/?stage=enquiry"))
    assert "Patch" in words_of(office.get("/jobs/?q=mo+ash"))
    assert "Skim" in words_of(office.get(f"/jobs/?q={first.number}"))
    assert "No job matches" in words_of(office.get("/jobs/?q=nobody"))
    older = words_of(office.get(f"/jobs/?before={first.number + 1}"))
    assert ("Skim" in older, "Patch" in older) == (True, False)


def test_a_job_is_changed_and_a_bad_change_keeps_the_typing(office):
    job = make.job()
    url = f"/jobs/{job.pk}/edit/"
    assert "Skim two bedrooms" in words_of(office.get(url))
    bad = office.post(url, asked(postcode="nowhere"))
    assert bad.status_code == 422
    assert "Three after all." in words_of(bad)
    assert Job.objects.get().what == "Skim two bedrooms"
    assert office.post(url, asked()).status_code == 303
    assert Job.objects.get().what == "Skim three bedrooms"


def test_a_job_is_closed_with_a_reason_and_taken_up_again(office):
    job = make.job()
    url = f"/jobs/{job.pk}/lost/"
    refused = office.post(url, {"because": " "})
    assert refused.status_code == 422
    assert Job.objects.get().stage == "enquiry"
    assert office.post(url, {"because": "Too dear."}).status_code == 303
    assert "Too dear." in words_of(office.get(f"/jobs/{job.pk}/"))
    office.post(f"/jobs/{job.pk}/again/")
    assert Job.objects.get().stage == "enquiry"


def test_another_trade_is_written_down_and_put_off_with_one_tap(office):
    job = make.job()
    url = f"/jobs/{job.pk}/trades/new/"
    refused = office.post(url, trade(sure="promised"))
    assert refused.status_code == 422
    assert "Give the day, or say that it is not known." in words_of(refused)
    assert not OtherTrade.objects.exists()
    # Mon 9 March 2026 and three working days: Tue 10, Wed 11, Thu 12.
    assert (
        office.post(url, trade(sure="promised", ready_on="2026-03-09")).status_code
        == 303
    )
    made = OtherTrade.objects.get()
    office.post(f"/trades/{made.pk}/late/3/")
    made.refresh_from_db()
    assert f"{made.ready_on}" == "2026-03-12"
    words = words_of(office.get(f"/jobs/{job.pk}/"))
    assert "Electrician 3 working days late: Mon 9 Mar" in words


def test_a_trade_is_changed_and_taken_off(office):
    made = make.other_trade()
    url = f"/trades/{made.pk}/"
    assert "Electrician" in words_of(office.get(url))
    assert office.post(url, trade(trade="Plumber")).status_code == 303
    assert OtherTrade.objects.get().trade == "Plumber"
    office.post(f"{url}off/")
    assert not OtherTrade.objects.exists()


def test_a_day_out_of_all_calendars_is_refused(office):
    job = make.job()
    answer = office.post(
        f"/jobs/{job.pk}/trades/new/", trade(sure="promised", ready_on="0001-01-01")
    )
    assert answer.status_code == 422
    assert "between 2000 and 2100" in words_of(answer)


def test_the_bookkeeper_reads_the_job_and_presses_nothing():
    make.firm()
    visit, books = make.visit(), signed_in(make.bookkeeper())
    job, made = visit.job, make.other_trade(visit.job)
    words = words_of(books.get(f"/jobs/{job.pk}/"))
    assert "Skim two bedrooms" in words
    assert "Not going ahead" not in words
    assert "Call it off" not in words
    posts = [f"/jobs/{job.pk}/lost/", f"/jobs/{job.pk}/again/", f"/trades/{made.pk}/"]
    posts += [f"/trades/{made.pk}/late/1/", f"/trades/{made.pk}/off/"]
    assert {books.post(url).status_code for url in posts} == {404}


@pytest.mark.parametrize("role", ["lead", "crew"])
@pytest.mark.parametrize(
    "url",
    ["/jobs/", "/jobs/{}/", "/jobs/{}/edit/", "/jobs/{}/lost/", "/search/?q=reed"],
)
def test_the_tools_never_see_the_office_pages(role, url):
    job = make.job()
    answer = signed_in(make.person(role)).get(url.format(job.pk))
    assert answer.status_code == 404
    assert "Reed" not in words_of(answer)


def test_the_list_asks_few_questions(office, django_assert_max_num_queries):
    for number in range(20):
        make.job(of=make.customer(f"Caller {number}", phone=f"+4416329607{number:02}"))
    with django_assert_max_num_queries(6):
        assert "Caller 19" in words_of(office.get("/jobs/"))


def test_the_job_page_asks_a_bounded_number_of_questions(
    office, django_assert_max_num_queries
):
    job = make.job()
    for _ in range(10):
        make.other_trade(job)
    with django_assert_max_num_queries(25):
        office.get(f"/jobs/{job.pk}/")
