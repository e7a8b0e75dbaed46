"""A quote from the look to the customer's yes."""

from datetime import date, timedelta
from decimal import Decimal
from threading import Barrier, Thread

import pytest
from django.db import IntegrityError, connection

from firm.engine.refusal import Refused
from firm.models import HistoryLine, Notice
from jobs.models import Job
from quotes.actions.acceptance import accept_quote, decline_quote
from quotes.actions.quote import send_quote, write_quote
from quotes.actions.quote_letters import why_not_follow_up
from quotes.models import Acceptance, QuoteVersion
from tests import make

pytestmark = pytest.mark.django_db
NOW, TODAY = make.NOW, make.TODAY
UNTIL = TODAY + timedelta(days=30)


def written(job: Job | None = None) -> QuoteVersion:
    job = job or make.quotable_job()
    return write_quote(
        job.pk, vat_kind="standard", by=make.office(), today=TODAY, now=NOW
    )


def sent(job: Job | None = None) -> QuoteVersion:
    version = written(job)
    return send_quote(
        version.pk, valid_until_on=UNTIL, by=make.office(), today=TODAY, now=NOW
    )


def accepted(version: QuoteVersion, **changes: object) -> Acceptance:
    asked = {
        "digest": version.digest,
        "typed_name": "Rita Reed",
        "asks_early_start": True,
        "from_address": "192.0.2.7",
        "today": TODAY,
        "now": NOW,
    }
    return accept_quote(version.pk, **asked | changes)


def test_bedroom_w1_is_priced_as_worked_by_hand():
    """The areas are W1's (checks/trade.md 1.4); rates and prices are the test's.

    Painted walls: grit primer and re-skim; new board ceiling: tape and skim.
    Plasterer: re-skim 34.58 x 0.20 = 6.916; primer 35.075 x 0.03 = 1.05225; reveals
    3.30 x 0.15 = 0.495; ceiling 15.12 x 0.22 = 3.3264; tape 15.12 x 1.30 x 0.02 =
    0.39312; beads 3.30 x 0.06 = 0.198; set up 0.25: 12.63077 h. At 7.5 - 0.25 a day
    that is 2 days, so clear down 0.50: 13.13077 h at 30 = 393.9231.
    Labourer: 3.458 + 0.165 + 1.6632 + 0.5 = 5.7862, and 1.00 to clear: 6.7862 h at
    20 = 135.724. Labour 529.65.
    Packs at 10.00: finish 50.195 x 2.5 x 1.1 = 138.04 kg, 6 bags; primer 7.015 l, 1
    tub; tape 1 roll; beads 1.20 + 1.05 in one 2.4 m length and 1.05 in another, 2:
    100.00.
    Cost 629.65, a tenth on top 692.62 (62.965 up), of the price a fifth: / 0.8 =
    865.775, so 865.78. VAT 173.156, so 173.16.
    """
    version = written()
    inside = version.snapshot["inside"]
    assert inside["labour_gbp"] == "529.65"
    assert inside["materials_gbp"] == "100.00"
    assert inside["days"] == 2
    assert version.net_gbp == Decimal("865.78")
    assert version.vat_gbp == Decimal("173.16")
    assert version.gross_gbp == Decimal("1038.94")


def test_walls_that_get_the_same_are_read_once():
    """W1: four painted walls of 10.08, 8.64, 10.08 and 8.64 less door and window, with
    0.495 of reveals, are 35.075; the boarded ceiling 15.12 stands by itself."""
    (room,) = written().snapshot["rooms"]
    assert [(group["what"], group["area_m2"]) for group in room["groups"]] == [
        ("Walls A, B, C and D, painted plaster, sound", "35.075"),
        ("Ceiling, new plasterboard", "15.12"),
    ]
    assert len(room["groups"][0]["drawings"]) == 4


def test_writing_again_works_the_same_draft_anew():
    version = written()
    again = written(version.quote.job)
    assert (again.pk, again.version) == (version.pk, 1)


def test_a_damp_wall_stops_the_quote():
    job = make.quotable_job()
    job.look.rooms.get().walls.filter(position=0).update(background=make.DAMP)
    with pytest.raises(Refused, match="cannot be quoted yet"):
        written(job)
    assert not QuoteVersion.objects.exists()


def test_only_the_office_writes_and_sends():
    version = written()
    for outsider in (make.bookkeeper(), make.lead()):
        with pytest.raises(Refused, match="Only the office"):
            send_quote(
                version.pk, valid_until_on=UNTIL, by=outsider, today=TODAY, now=NOW
            )
    version.refresh_from_db()
    assert version.state == "draft"


def test_sending_freezes_prints_mails_and_follows_up():
    version = sent()
    assert version.quote.job.stage == "looked"  # the row in hand is the old one
    version.quote.job.refresh_from_db()
    assert version.quote.job.stage == "quoted"
    letter = Notice.objects.get(kind="quote")
    assert letter.paper_id == version.paper_id
    assert "/l/" in letter.text
    # Wednesday 4 March 2026 and five working days is Wednesday 11 March.
    follow_up = Notice.objects.get(kind="quote-follow-up")
    assert follow_up.due_at.date() == date(2026, 3, 11)


def test_a_quote_already_out_of_date_is_not_sent():
    version = written()
    with pytest.raises(Refused, match="out of date already"):
        send_quote(
            version.pk, valid_until_on=TODAY, by=make.office(), today=TODAY, now=NOW
        )


def test_a_later_version_replaces_the_one_that_is_out():
    first = sent()
    second = sent(first.quote.job)
    first.refresh_from_db()
    assert (second.version, first.state) == (2, "replaced")
    with pytest.raises(Refused, match="no longer open"):
        accepted(first)


def test_the_yes_hands_down_work_and_needs_and_never_a_price():
    version = sent()
    accepted(version)
    job = Job.objects.get(pk=version.quote.job_id)
    assert job.stage == "won"
    assert job.work_items.count() == 5
    assert job.needs.get(item_code="M-FIN").packs == 6
    handed = str([*job.work_items.values(), *job.needs.values()])
    assert "865.78" not in handed
    assert "£" not in handed


def test_the_yes_is_to_the_exact_words_that_were_read():
    version = sent()
    with pytest.raises(Refused, match="changed after this page was opened"):
        accepted(version, digest="0" * 64)
    assert not Acceptance.objects.exists()
    assert accepted(version).digest == version.digest


def test_a_second_yes_changes_nothing():
    version = sent()
    accepted(version)
    with pytest.raises(Refused, match="accepted already"):
        accepted(version, typed_name="Somebody Else")
    assert Acceptance.objects.get().typed_name == "Rita Reed"
    assert Notice.objects.filter(kind="quote-yes").count() == 1


def test_a_yes_without_a_name_is_refused():
    version = sent()
    with pytest.raises(Refused, match="Type your name"):
        accepted(version, typed_name=" ")


def test_a_yes_after_the_last_day_is_refused_and_on_it_is_not():
    version = sent()
    with pytest.raises(Refused, match="out of date"):
        accepted(version, today=UNTIL + timedelta(days=1))
    accepted(version, today=UNTIL)


def test_the_follow_up_stands_down_when_they_answered():
    version = sent()
    assert why_not_follow_up(version.pk, now=NOW) is None
    accepted(version)
    assert why_not_follow_up(version.pk, now=NOW) == "The quote is accepted."
    assert Notice.objects.get(kind="quote-follow-up").state == "stopped"


def test_a_no_closes_the_job_with_its_reason():
    version = sent()
    decline_quote(version.pk, digest=version.digest, because="Too dear.", now=NOW)
    job = Job.objects.get(pk=version.quote.job_id)
    assert (job.stage, job.lost_because) == ("lost", "Too dear.")
    with pytest.raises(Refused):
        accepted(version)


def test_the_database_keeps_one_standing_version_a_quote():
    version = sent()
    second = written(version.quote.job)
    with pytest.raises(IntegrityError):
        QuoteVersion.objects.filter(pk=second.pk).update(
            state="sent", sent_at=NOW, valid_until_on=UNTIL
        )


def test_history_says_who_said_yes():
    accepted(sent())
    line = HistoryLine.objects.get(event="quote-accepted")
    assert line.by is None
    assert line.by_words == "the customer, by link"


@pytest.mark.django_db(transaction=True)
def test_two_pressing_at_once_make_one_yes():
    version = sent()
    start, outcomes = Barrier(6), []

    def press(number: int) -> None:
        start.wait()
        try:
            accepted(version, typed_name=f"Presser {number}")
            outcomes.append("yes")
        except Refused as refusal:
            outcomes.append(str(refusal))
        finally:
            connection.close()

    threads = [Thread(target=press, args=(number,)) for number in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert outcomes.count("yes") == 1
    assert set(outcomes) == {"yes", "This quote has been accepted already. Thank you."}
    assert Acceptance.objects.count() == 1
    assert Job.objects.get(pk=version.quote.job_id).work_items.count() == 5
