"""Materials and orders, as the office and as those who may not."""

from datetime import date

import pytest
import time_machine

from firm.actions.papers import register_press
from jobs.documents import order as papers
from jobs.models import MaterialOrder
from tests import make
from tests.screens.looking import signed_in, words_of

pytestmark = pytest.mark.django_db

# make.TODAY is Wednesday 4 March 2026.
MONDAY = date(2026, 3, 9)


@pytest.fixture(autouse=True)
def in_march():
    with time_machine.travel(make.NOW, tick=False):
        yield


@pytest.fixture
def office():
    make.firm()
    return signed_in(make.office())


@pytest.fixture
def job():
    made = make.booked_job(MONDAY)
    make.need(made)
    make.need(made, item_code="M-GRIT", item="Grit primer", pack="10 kg tub", packs=1)
    return made


def typed(job, **changes):
    usual = {"merchant": make.merchant().pk, "wanted_on": "2026-03-06"}
    packs = {f"packs_{need.pk}": need.packs for need in job.needs.all()}
    return usual | packs | changes


def test_the_list_says_what_is_not_ordered_and_by_when(office, job):
    make.merchant()
    words = words_of(office.get("/materials/"))
    assert "Mon 9 Mar" in words
    assert "Not ordered" in words
    # Two working days before Monday 9 March.
    assert "Order by <strong>Thu 5 Mar</strong>" in words


def test_an_empty_list_says_so(office):
    assert "No coming job needs anything." in words_of(office.get("/materials/"))


def test_an_order_is_written_sent_and_ticked_off(office, job):
    page = words_of(office.get(f"/jobs/{job.pk}/order/"))
    assert 'value="2026-03-06"' in page
    answer = office.post(f"/jobs/{job.pk}/order/", typed(job))
    order = MaterialOrder.objects.get()
    assert answer["Location"] == f"/orders/{order.pk}/"
    assert "Send it to Kiln Lane" in words_of(office.get(f"/orders/{order.pk}/"))
    office.post(f"/orders/{order.pk}/send/")
    sent = words_of(office.get(f"/orders/{order.pk}/"))
    assert "Order 1 to Kiln Lane" in sent
    assert "Waited for by Blue crew on Mon 9 Mar 2026" in sent
    came = {f"arrived_{line.pk}": line.packs for line in order.lines.all()}
    assert office.post(f"/orders/{order.pk}/arrived/", came).status_code == 303
    assert "On site" in words_of(office.get("/materials/"))


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"merchant": ""}, "Pick a merchant."),
        ({"wanted_on": "soon"}, "Give the day, for example 9/3/2027."),
        ({"wanted_on": "2026-03-07"}, "weekend or a bank holiday"),
    ],
)
def test_a_bad_order_keeps_the_typing_and_saves_nothing(office, job, changes, words):
    wanted = typed(job, **changes)
    answer = office.post(f"/jobs/{job.pk}/order/", wanted)
    assert answer.status_code == 422
    assert words in words_of(answer)
    assert f'value="{wanted["wanted_on"]}"' in words_of(answer)
    assert not MaterialOrder.objects.exists()


@pytest.mark.parametrize("packs", ["a few", "-1", "2.5", "1000"])
def test_odd_packs_get_a_sentence_beside_the_field(office, job, packs):
    need = job.needs.first()
    answer = office.post(
        f"/jobs/{job.pk}/order/", typed(job, **{f"packs_{need.pk}": packs})
    )
    assert answer.status_code == 422
    assert f'id="id_packs_{need.pk}_error"' in words_of(answer)
    assert f'value="{packs}"' in words_of(answer)


def test_an_order_of_nothing_is_refused(office, job):
    nothing = {f"packs_{need.pk}": "" for need in job.needs.all()}
    answer = office.post(f"/jobs/{job.pk}/order/", typed(job, **nothing))
    assert answer.status_code == 422
    assert "Tick at least one thing to order." in words_of(answer)


def test_what_came_is_asked_for_line_by_line(office, job):
    office.post(f"/jobs/{job.pk}/order/", typed(job))
    order = MaterialOrder.objects.get()
    office.post(f"/orders/{order.pk}/send/")
    first = order.lines.first()
    answer = office.post(f"/orders/{order.pk}/arrived/", {f"arrived_{first.pk}": "9"})
    words = words_of(answer)
    assert answer.status_code == 422
    assert "Say how many came, 0 if none did." in words
    assert 'value="9"' in words
    order.refresh_from_db()
    assert order.state == "sent"


def test_a_short_drop_shows_whom_it_hits(office, job):
    order = make.order(job, job.needs.all(), state="sent", number=1, sent_at=make.NOW)
    came = {f"arrived_{line.pk}": 0 for line in order.lines.all()}
    office.post(f"/orders/{order.pk}/arrived/", came)
    words = words_of(office.get("/materials/"))
    assert "Finish plaster: 3 short. It hits Blue crew on Mon 9 Mar." in words


def test_a_written_order_can_be_dropped(office, job):
    order = make.order(job, job.needs.all())
    assert office.post(f"/orders/{order.pk}/off/").status_code == 303
    order.refresh_from_db()
    assert order.state == "off"


@pytest.mark.parametrize("role", ["lead", "crew", "books"])
def test_nobody_but_the_desk_orders(job, role):
    make.firm()
    stranger = signed_in(make.person(role, crew=make.crew()))
    order = make.order(job, job.needs.all())
    for path in ("/materials/", f"/jobs/{job.pk}/order/", f"/orders/{order.pk}/"):
        assert stranger.get(path).status_code == 404
    for verb in ("send", "off", "arrived"):
        assert stranger.post(f"/orders/{order.pk}/{verb}/").status_code == 404
    order.refresh_from_db()
    assert order.state == "draft"


def test_the_order_prints_as_a_paper(job):
    make.firm()
    register_press(papers.KIND, papers.press)
    order = make.order(job, job.needs.all(), number=7, sent_at=make.NOW, state="sent")
    pdf = papers.press(papers.snapshot_of(order))
    assert pdf.startswith(b"%PDF-")
