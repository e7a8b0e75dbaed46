"""One letter to a real server that answers, refuses, stalls or hangs up."""

import socket
import time

import pytest

from firm.actions.sending import Came
from firm.documents.letter import wire_bytes
from firm.models import Notice, NoticeAttempt, Paper
from firm.tasks.smtp import Handover, MailServer
from tests.firm.letters import NOW
from tests.firm.mail_server import faulty_server

Phase = NoticeAttempt.Phase
WORDS = b"Subject: Visit\r\n\r\nWe come at nine.\r\n.A line that opens with a dot\r\n"


@pytest.fixture
def server():
    with faulty_server() as running:
        yield running


def send(port, *, letter=WORDS, begin=lambda: True, deadline_seconds=20, **options):
    place = MailServer(host="127.0.0.1", port=port, **options)
    handover = Handover(
        place, our_name="office.example.com", deadline_seconds=deadline_seconds
    )
    return handover.run(
        sender="office@example.com", to="ana@example.com", letter=letter, begin=begin
    )


def test_a_letter_that_the_server_takes_has_gone(server):
    outcome = send(server.port)
    assert (outcome.came, outcome.phase) == (Came.GONE, Phase.ANSWERED)
    assert server.seen_addresses == ["ana@example.com"]


def test_a_line_that_opens_with_a_dot_arrives_as_it_was(server):
    send(server.port)
    [arrived] = server.raw
    assert arrived.endswith(b"\r\n.A line that opens with a dot\r\n")


def test_an_address_that_nobody_has_is_refused_for_good(server):
    server.fault = "refuse the address"
    outcome = send(server.port)
    assert (outcome.came, outcome.code) == (Came.REFUSED, 550)
    assert "naming the address: 550 No such person here" in outcome.words


@pytest.mark.parametrize("fault", ["put off the address", "put off the words"])
def test_a_busy_server_is_asked_again_later(server, fault):
    server.fault = fault
    assert send(server.port).came == Came.LATER
    assert server.raw == []


def test_words_that_the_server_will_not_have_are_refused_for_good(server):
    server.fault = "refuse the words"
    outcome = send(server.port)
    assert (outcome.came, outcome.code) == (Came.REFUSED, 554)


def test_a_line_lost_after_the_final_dot_leaves_us_unsure(server):
    server.fault = "drop after the dot"
    outcome = send(server.port)
    assert (outcome.came, outcome.phase) == (Came.UNSURE, Phase.ANSWER)
    assert len(server.raw) == 1


def test_a_server_that_is_not_there_is_asked_again_later():
    with socket.socket() as closed:
        closed.bind(("127.0.0.1", 0))
        outcome = send(closed.getsockname()[1])
    assert (outcome.came, outcome.phase) == (Came.LATER, Phase.CONNECT)
    assert "Nothing was sent" in outcome.words


def test_a_server_without_starttls_gets_nothing_when_it_was_asked_for(server):
    outcome = send(server.port, starttls=True)
    assert (outcome.came, outcome.phase) == (Came.LATER, Phase.SIGN_IN)
    assert server.seen_addresses == []


def test_a_server_that_trickles_is_cut_off_at_the_deadline(server):
    server.fault = "stall at the address"
    began = time.monotonic()
    outcome = send(server.port, deadline_seconds=1)
    assert outcome.came == Came.LATER
    assert time.monotonic() - began < 4


def test_a_server_silent_after_the_final_dot_leaves_us_unsure(server):
    server.fault = "stall after the dot"
    assert send(server.port, deadline_seconds=1).came == Came.UNSURE


def test_a_letter_no_longer_wanted_hands_over_no_word(server):
    outcome = send(server.port, begin=lambda: False)
    assert outcome.came == Came.STOOD_DOWN
    assert server.seen_addresses == ["ana@example.com"]
    assert server.raw == []


@pytest.mark.django_db
def test_a_letter_carries_its_words_and_its_paper(server):
    notice = Notice(
        to_name="Siân Ŵyn",
        to_address="sian@example.com",
        subject="Your quote — £1,240",
        text="Dear Siân,\nThe quote is with this letter.",
        message_id="<mark@example.com>",
        made_at=NOW,
        paper=Paper(title="Quote 12/2: Larch Row"),
    )
    wire = wire_bytes(notice, sender="office@example.com", pdf=b"%PDF-1.7 quote")
    send(server.port, letter=wire)
    [arrived] = server.letters
    [paper] = arrived.iter_attachments()
    assert arrived["Subject"] == "Your quote — £1,240"
    assert arrived["To"].addresses[0].display_name == "Siân Ŵyn"
    assert arrived["Message-ID"] == "<mark@example.com>"
    assert arrived.get_body().get_content().startswith("Dear Siân,")
    assert paper.get_filename() == "Quote 12 2 Larch Row.pdf"
    assert paper.get_content() == b"%PDF-1.7 quote"
