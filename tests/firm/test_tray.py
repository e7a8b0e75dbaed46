"""Letters left, claimed, looked at again, settled: each once."""

import threading
from datetime import timedelta

import pytest
from django.db import connection, transaction

from firm.actions import sending, tray
from firm.actions.sending import Came, Outcome
from firm.engine.refusal import Refused
from firm.models import HistoryLine, Notice, NoticeAttempt
from firm.queries.tray import notices_for_job, settled, stuck, waiting
from tests import make
from tests.firm.letters import NOW, SECOND, claimed, handed_over, letter

State = Notice.State
Phase = NoticeAttempt.Phase
pytestmark = pytest.mark.django_db


@pytest.fixture
def paid():
    """The facts that a chaser looks at: a set of bills that have been paid."""
    bills: set[int] = set()

    @tray.still_wanted("chaser")
    def unless_paid(notice, now):
        return "The bill has been paid." if notice.about_id in bills else None

    yield bills
    tray._checks.pop("chaser")


def test_the_same_key_left_twice_is_one_letter_unchanged():
    first = letter(key="visit:7", subject="Your visit on Monday")
    second = letter(key="visit:7", subject="Your visit on Tuesday")
    assert second.pk == first.pk
    assert Notice.objects.get().subject == "Your visit on Monday"


def test_a_change_taken_back_leaves_no_letter():
    with transaction.atomic():
        letter()
        transaction.set_rollback(True)
    assert not Notice.objects.exists()


def test_a_line_break_in_a_name_starts_no_header():
    notice = letter(to_name="Ana\r\nBcc: eve@example.com", subject="Hello\nthere")
    assert notice.to_name == "Ana Bcc: eve@example.com"
    assert notice.subject == "Hello there"


def test_an_address_that_is_none_is_refused_with_its_text():
    with pytest.raises(Refused, match="'ana at home' is not an email address"):
        letter(to_address="ana at home")
    assert not Notice.objects.exists()


def test_a_letter_is_claimed_when_due_and_not_a_second_before():
    notice = letter(due_at=NOW)
    assert sending.claim_letters(now=NOW - SECOND) == []
    assert sending.claim_letters(now=NOW) == [(notice.pk, 1)]


def test_a_letter_due_on_a_night_switched_off_goes_afterwards():
    notice = letter(due_at=NOW)
    assert sending.claim_letters(now=NOW + timedelta(days=3)) == [(notice.pk, 1)]


def test_two_claims_in_a_row_have_one_winner():
    letter()
    assert len(sending.claim_letters(now=NOW)) == 1
    assert sending.claim_letters(now=NOW) == []


@pytest.mark.django_db(transaction=True)
def test_eight_workers_claiming_at_once_share_no_letter():
    for _ in range(40):
        letter()
    won: list[tuple[int, int]] = []
    barrier = threading.Barrier(8)

    def claim():
        barrier.wait()
        won.extend(sending.claim_letters(now=NOW))
        connection.close()

    threads = [threading.Thread(target=claim) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(pk for pk, _ in won) == sorted(
        Notice.objects.values_list("pk", flat=True)
    )
    assert {claim for _, claim in won} == {1}


def test_the_workers_are_never_handed_more_than_they_can_soon_send():
    for _ in range(sending.MOST_IN_HAND + 3):
        letter()
    assert len(sending.claim_letters(now=NOW)) == sending.MOST_IN_HAND
    assert sending.claim_letters(now=NOW) == []


def test_a_task_delivered_twice_begins_one_attempt():
    notice, claim = claimed()
    assert sending.take_up(notice.pk, claim, now=NOW) is not None
    assert sending.take_up(notice.pk, claim, now=NOW) is None
    assert notice.attempts.count() == 1


def test_a_chaser_goes_while_the_bill_is_open(paid):
    notice, claim = claimed(kind="chaser", about=("bill", 5))
    assert sending.take_up(notice.pk, claim, now=NOW)
    assert sending.begin_handing_over(notice.pk, claim, now=NOW)


def test_a_chaser_stands_down_when_paid_a_second_before(paid):
    notice, claim = claimed(kind="chaser", about=("bill", 5))
    assert sending.take_up(notice.pk, claim, now=NOW)
    paid.add(5)
    assert not sending.begin_handing_over(notice.pk, claim, now=NOW)
    notice.refresh_from_db()
    assert (notice.state, notice.why) == (State.STOPPED, "The bill has been paid.")
    assert HistoryLine.objects.about("bill", 5).get().words == (
        "“Your visit on Monday” to Ana Lowe. Did not go: The bill has been paid."
    )


def test_a_reminder_for_a_visit_that_has_begun_is_dropped_and_says_so():
    notice, claim = claimed(expires_at=NOW + SECOND)
    assert sending.take_up(notice.pk, claim, now=NOW + SECOND) is None
    notice.refresh_from_db()
    assert (notice.state, notice.why) == (State.STOPPED, tray.TOO_LATE)


def test_a_letter_taken_goes_with_a_line_in_the_history():
    notice, claim = handed_over()
    gone = Outcome(came=Came.GONE, phase=Phase.ANSWERED, code=250)
    assert sending.settle(notice.pk, claim, outcome=gone, now=NOW)
    notice.refresh_from_db()
    assert (notice.state, notice.settled_at, notice.tries) == (State.SENT, NOW, 1)
    assert HistoryLine.objects.about("job", 7).get().words == (
        "“Your visit on Monday” to Ana Lowe. Went by email"
    )


def test_a_worker_that_slept_past_its_lease_changes_nothing():
    notice, old_claim = claimed()
    later = NOW + sending.CLAIM_LASTS + SECOND
    sending.give_back_lapsed(now=later)
    [(_, new_claim)] = sending.claim_letters(now=later)
    gone = Outcome(came=Came.GONE, phase=Phase.ANSWERED)
    assert new_claim == old_claim + 1
    assert sending.take_up(notice.pk, old_claim, now=later) is None
    assert not sending.begin_handing_over(notice.pk, old_claim, now=later)
    assert not sending.settle(notice.pk, old_claim, outcome=gone, now=later)
    notice.refresh_from_db()
    assert (notice.state, notice.claim) == (State.CLAIMED, new_claim)


def test_a_lease_that_ends_before_the_words_leave_gives_the_letter_back():
    notice, _ = claimed()
    assert sending.give_back_lapsed(now=NOW + sending.CLAIM_LASTS) == 0
    assert sending.give_back_lapsed(now=NOW + sending.CLAIM_LASTS + SECOND) == 1
    notice.refresh_from_db()
    assert notice.state == State.WAITING


def test_a_lease_that_ends_after_the_words_left_goes_to_a_person():
    notice, _ = handed_over()
    sending.give_back_lapsed(now=NOW + sending.CLAIM_LASTS + SECOND)
    notice.refresh_from_db()
    assert (notice.state, notice.why) == (State.UNSURE, sending.LOST_AFTER)
    assert sending.claim_letters(now=NOW + timedelta(days=9)) == []


def test_what_an_interrupted_worker_held_is_given_back_at_once():
    begun, _ = handed_over()
    waiting_one, _ = claimed()
    assert sending.give_back_interrupted(now=NOW) == 2
    begun.refresh_from_db()
    waiting_one.refresh_from_db()
    assert (begun.state, waiting_one.state) == (State.UNSURE, State.WAITING)


# The waits of the tray: 1, 5 and 15 minutes, then an hour each.
@pytest.mark.parametrize(
    ("tries_before", "minutes"), [(0, 1), (1, 5), (2, 15), (3, 60), (4, 60), (49, 60)]
)
def test_a_server_that_puts_us_off_is_asked_again_later(tries_before, minutes):
    notice, claim = claimed()
    Notice.objects.update(tries=tries_before)
    off = Outcome(came=Came.LATER, phase=Phase.ADDRESS, code=451, words="Busy.")
    sending.settle(notice.pk, claim, outcome=off, now=NOW)
    notice.refresh_from_db()
    assert (notice.state, notice.why) == (State.WAITING, "Busy.")
    assert notice.next_try_at == NOW + timedelta(minutes=minutes)


def test_after_two_days_of_being_put_off_a_person_is_shown_the_letter():
    notice, claim = claimed()
    # 1 + 5 + 15 min, then 47 waits of an hour: 47 h 21 min; the next passes 48 h.
    Notice.objects.update(tries=50)
    off = Outcome(came=Came.LATER, phase=Phase.ADDRESS, code=451, words="Busy.")
    sending.settle(notice.pk, claim, outcome=off, now=NOW)
    notice.refresh_from_db()
    assert (notice.state, notice.why) == (State.FAILED, "Busy.")
    assert list(stuck()) == [notice]


def test_stopping_takes_letters_that_wait_and_leaves_those_that_leave():
    gone, _ = handed_over(about=("job", 8))
    waits = letter(about=("job", 8))
    other = letter(about=("job", 9))
    assert tray.stop_notices(about=("job", 8), because="Cancelled.", now=NOW) == 1
    states = dict(Notice.objects.values_list("pk", "state"))
    assert states == {
        gone.pk: State.SENDING,
        waits.pk: State.STOPPED,
        other.pk: State.WAITING,
    }


def test_letters_are_stopped_by_the_start_of_their_key():
    letter(key="chase:5:first")
    letter(key="chase:5:second")
    letter(key="chase:50:first")
    assert tray.stop_notices(key_prefix="chase:5:", because="Paid.", now=NOW) == 2


def test_a_held_letter_stays_until_it_is_let_go():
    office = make.office()
    notice = letter()
    tray.hold_notice(notice.pk, by=office, now=NOW)
    assert sending.claim_letters(now=NOW) == []
    tray.let_notice_go(notice.pk, by=office, now=NOW)
    assert len(sending.claim_letters(now=NOW)) == 1


def test_a_letter_of_next_week_goes_at_once_when_asked():
    notice = letter(due_at=NOW + timedelta(days=7))
    tray.send_notice_now(notice.pk, by=make.office(), now=NOW)
    assert sending.claim_letters(now=NOW) == [(notice.pk, 1)]


@pytest.mark.parametrize(
    "move",
    [
        tray.hold_notice,
        tray.let_notice_go,
        tray.stop_notice,
        tray.send_notice_now,
        tray.note_arrived,
        tray.send_notice_again,
    ],
)
def test_a_letter_that_went_is_moved_by_nobody(move):
    notice = letter()
    Notice.objects.update(state=State.SENT, settled_at=NOW)
    with pytest.raises(Refused):
        move(notice.pk, by=make.office(), now=NOW)
    notice.refresh_from_db()
    assert notice.state == State.SENT


def test_only_the_office_moves_letters():
    notice = letter()
    tray.hold_notice(notice.pk, by=make.office(), now=NOW)
    with pytest.raises(Refused, match="Only the office can work the tray"):
        tray.let_notice_go(notice.pk, by=make.bookkeeper(), now=NOW)
    notice.refresh_from_db()
    assert notice.state == State.HELD


def test_a_person_says_that_an_unsure_letter_arrived():
    notice, _ = handed_over()
    sending.give_back_interrupted(now=NOW)
    tray.note_arrived(notice.pk, by=make.office(), now=NOW)
    notice.refresh_from_db()
    assert notice.state == State.SENT
    assert "says that it arrived" in notice.why


def test_an_unsure_letter_goes_again_only_when_a_person_says_so():
    notice, _ = handed_over()
    mark = notice.message_id
    sending.give_back_interrupted(now=NOW)
    tray.send_notice_again(notice.pk, by=make.office(), now=NOW)
    assert sending.claim_letters(now=NOW) == [(notice.pk, 2)]
    notice.refresh_from_db()
    assert notice.message_id == mark


def test_a_key_that_opens_a_door_is_not_kept_once_the_letter_went():
    key = "http://127.0.0.1:8000/l/" + "k" * 43 + "/"
    notice, claim = handed_over(text=f"Read it here: {key}")
    gone = Outcome(came=Came.GONE, phase=Phase.ANSWERED)
    sending.settle(notice.pk, claim, outcome=gone, now=NOW)
    notice.refresh_from_db()
    assert notice.text == "Read it here: http://127.0.0.1:8000/l/…/"


def test_the_tray_lists_what_waits_what_went_and_what_is_stuck():
    soon = letter(due_at=NOW + SECOND, job_id=3)
    sooner = letter(due_at=NOW, job_id=3)
    refused = letter()
    Notice.objects.filter(pk=refused.pk).update(state=State.FAILED, why="No such.")
    went = letter(job_id=4)
    Notice.objects.filter(pk=went.pk).update(state=State.SENT, settled_at=NOW)
    assert list(waiting()) == [sooner, soon]
    assert list(stuck()) == [refused]
    assert list(settled()) == [went]
    assert set(notices_for_job(3)) == {soon, sooner}
