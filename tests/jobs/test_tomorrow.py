"""Who may see which place, for how long, and what the sheet holds."""

from datetime import UTC, date, datetime, timedelta

import pytest

from jobs.actions.order import Arrived, tick_off_order
from jobs.models import Job
from jobs.queries.tomorrow import (
    crews_on,
    geo_link,
    sheet_for,
    sheet_job,
    week_of,
    window_for,
)
from tests import make
from tests.making import diary

pytestmark = pytest.mark.django_db

FRIDAY = datetime(2026, 3, 6, 9, 0, tzinfo=UTC)
MONDAY = date(2026, 3, 9)


def sees(person, job: Job, now: datetime) -> bool:
    return sheet_job(person, job.pk, now=now) is not None


@pytest.mark.parametrize(
    ("days_from_today", "crew_sees", "lead_sees"),
    [
        # Windows: crew one day back, two ahead; lead seven back, fourteen ahead.
        (-8, False, False),
        (-7, False, True),
        (-2, False, True),
        (-1, True, True),
        (0, True, True),
        (2, True, True),
        (3, False, True),
        (14, False, True),
        (15, False, False),
    ],
)
def test_a_place_is_seen_inside_the_window_alone(days_from_today, crew_sees, lead_sees):
    # Half a day from a Tuesday, so that no date in the table is decided by a weekend.
    now = datetime(2026, 3, 10, 9, 0, tzinfo=UTC)
    crew = make.crew()
    job = make.job("booked")
    on = now.date() + timedelta(days=days_from_today)
    diary.booking(job, [diary.Half(on, "am")], crew=crew)
    assert sees(make.plasterer(crew=crew), job, now) is crew_sees
    assert sees(make.lead(crew=crew), job, now) is lead_sees
    assert sees(make.office(), job, now)


def test_on_a_friday_the_crew_sees_monday():
    crew = make.crew()
    assert sees(make.plasterer(crew=crew), diary.booked_job(MONDAY, crew=crew), FRIDAY)


def test_before_easter_the_window_reaches_the_next_working_day():
    # GOV.UK: Good Friday 3 April 2026, Easter Monday 6 April 2026.
    crew = make.plasterer(crew=make.crew())
    assert window_for(crew, date(2026, 4, 2)) == (date(2026, 4, 1), date(2026, 4, 7))


def test_another_crews_job_is_not_found():
    job = diary.booked_job(MONDAY, crew=make.crew())
    stranger = make.plasterer(crew=make.crew("Red crew"))
    assert not sees(stranger, job, FRIDAY)
    assert sees(make.lead(crew=make.crew()), job, FRIDAY)


def test_somebody_without_a_crew_sees_no_job():
    assert not sees(make.plasterer(), diary.booked_job(MONDAY), FRIDAY)


def test_the_bookkeeper_has_no_sheet():
    assert not sees(make.bookkeeper(), diary.booked_job(MONDAY), FRIDAY)


def test_a_job_called_off_leaves_the_crews_pages():
    crew = make.crew()
    job = diary.booked_job(MONDAY, crew=crew)
    job.bookings.update(state="off")
    assert not sees(make.plasterer(crew=crew), job, FRIDAY)


def test_the_week_shows_a_far_day_by_its_district_only():
    crew = make.crew()
    diary.booked_job(date(2026, 3, 12), 2, crew=crew)
    mick = make.plasterer(crew=crew)
    days = {day.on: day.entries for day in week_of(crew, mick, FRIDAY.date())}
    entry = days[date(2026, 3, 12)][0]
    assert (entry.place, entry.is_open, entry.part) == ("ZZ1", False, "all day")


def test_today_and_the_next_working_day_stand_there_even_when_empty():
    crew = make.crew()
    days = week_of(crew, make.plasterer(crew=crew), FRIDAY.date())
    assert [(day.on, day.entries) for day in days] == [
        (date(2026, 3, 6), ()),
        (MONDAY, ()),
    ]


def test_two_half_day_jobs_stand_in_the_order_of_the_day():
    crew = make.crew()
    later = diary.booked_job(MONDAY, 1, half="pm", crew=crew)
    first = diary.booked_job(MONDAY, 1, half="am", crew=crew)
    entries = dict(crews_on(MONDAY))[crew]
    assert [(entry.job_id, entry.part) for entry in entries] == [
        (first.pk, "morning"),
        (later.pk, "afternoon"),
    ]
    assert [str(entry.starts_at) for entry in entries] == ["08:00:00", "12:30:00"]


def sheet(job: Job):
    return sheet_for(job, today=MONDAY)


def test_the_sheet_groups_the_work_by_room():
    job = diary.booked_job(MONDAY)
    diary.work_item(job, what="Wall A: skim")
    diary.work_item(job, room="Landing", what="Ceiling: skim")
    rooms = [(room.name, len(room.items)) for room in sheet(job).rooms]
    assert rooms == [("Front bedroom", 2), ("Landing", 1)]


def test_the_sheet_says_what_is_on_site_and_what_to_bring():
    job = diary.booked_job(MONDAY)
    finish = diary.need(job)
    grit = diary.need(job, item_code="M-GRIT", item="Grit", pack="10 kg tub", packs=1)
    diary.need(job, item_code="M-TAPE", item="Tape", pack="roll", packs=2)
    sent = {"state": "sent", "sent_at": make.NOW, "wanted_on": MONDAY}
    diary.order(job, [finish], number=1, **sent)
    arrived = diary.order(job, [grit], number=2, **sent)
    line = arrived.lines.get()
    tick_off_order(
        arrived.pk,
        lines={line.pk: Arrived(packs=0, trouble="lid off")},
        by=make.office(),
        now=make.NOW,
    )
    assert [(stuff.what, stuff.where, stuff.kind) for stuff in sheet(job).stuff] == [
        ("3 × 25 kg bag Finish plaster", "Not dropped yet; due Mon 9 Mar", "due"),
        ("1 × 10 kg tub Grit", "On site, but: only 0 of 1 came, lid off", "short"),
        ("2 × roll Tape", "Not ordered: bring it", "bring"),
    ]


def test_the_map_link_holds_the_whole_address():
    assert geo_link("14 Larch Row\nSandford", "ZZ1 2AB") == (
        "geo:0,0?q=14%20Larch%20Row%2C%20Sandford%2C%20ZZ1%202AB"
    )
