"""Papers printed once, kept by digest, given to those who may read them."""

import hashlib
import io
from datetime import timedelta

import pypdf
import pytest
from django.conf import settings

from firm.actions import papers, printing, sending
from firm.documents.press import press_html
from firm.engine.refusal import Refused
from firm.models import Notice, Paper
from firm.queries.papers import paper_bytes, paper_for, path_of, register_reader
from firm.tasks.papers import print_paper
from tests import make
from tests.firm.letters import NOW, letter

State = Paper.State
PDF = b"%PDF-1.7 a paper"


@pytest.fixture
def press():
    """A press for test papers that counts its prints and can be jammed."""

    class Press:
        prints = 0
        jam: Exception | None = None

        def __call__(self, snapshot):
            if self.jam:
                raise self.jam
            self.prints += 1
            return PDF + snapshot["total_gbp"].encode()

    press = Press()
    papers.register_press("test-paper", press)
    yield press
    papers._presses.pop("test-paper")


def want(total_gbp="12.50", **columns):
    given = {"kind": "test-paper", "about": ("quote", 3), "title": "Quote 3"}
    snapshot = {"total_gbp": total_gbp}
    return papers.want_paper(**{**given, **columns}, snapshot=snapshot, now=NOW)


def printed(**columns):
    want(**columns)
    [(pk, claim)] = printing.claim_papers(now=NOW)
    print_paper(pk, claim)
    return Paper.objects.get(pk=pk)


@pytest.mark.django_db
def test_the_same_snapshot_wanted_twice_is_one_paper(press):
    assert want().pk == want().pk
    assert want(total_gbp="12.51").pk != want().pk


@pytest.mark.django_db
def test_a_paper_is_kept_under_the_digest_of_its_bytes(press):
    paper = printed()
    # sha256sum of the eighteen bytes that this press prints.
    digest = hashlib.sha256(b"%PDF-1.7 a paper12.50").hexdigest()
    place = settings.FIRM_HOME / "papers" / digest[:2] / digest[2:4] / f"{digest}.pdf"
    assert (paper.state, paper.digest) == (State.MADE, digest)
    assert place.read_bytes() == b"%PDF-1.7 a paper12.50"
    assert paper_bytes(paper) == b"%PDF-1.7 a paper12.50"


@pytest.mark.django_db
def test_a_paper_once_made_is_never_printed_again(press):
    paper = printed()
    want()
    assert printing.claim_papers(now=NOW + timedelta(days=1)) == []
    print_paper(paper.pk, paper.claim)
    assert press.prints == 1


@pytest.mark.django_db
def test_one_flipped_bit_is_refused_with_a_sentence(press):
    paper = printed(total_gbp="77.00")
    file = path_of(paper.digest)
    kept = bytearray(file.read_bytes())
    kept[5] ^= 1
    file.write_bytes(kept)
    with pytest.raises(Refused, match="not as it was printed"):
        paper_bytes(paper)


@pytest.mark.django_db
def test_a_missing_file_is_refused_with_a_sentence(press):
    paper = printed(total_gbp="78.00")
    path_of(paper.digest).unlink()
    with pytest.raises(Refused, match="missing from the firm's papers"):
        paper_bytes(paper)


@pytest.mark.django_db
def test_a_paper_not_yet_printed_says_so(press):
    with pytest.raises(Refused, match="has not been printed yet"):
        paper_bytes(want())


@pytest.mark.django_db
def test_a_letter_waits_until_its_paper_is_made(press):
    paper = want()
    notice = letter(paper_id=paper.pk)
    assert sending.claim_letters(now=NOW) == []
    [(pk, claim)] = printing.claim_papers(now=NOW)
    print_paper(pk, claim)
    assert sending.claim_letters(now=NOW) == [(notice.pk, 1)]


# The waits of the press: 1, 5 and 15 minutes, then it is given up.
@pytest.mark.django_db
def test_a_jammed_press_is_tried_three_times_more_and_then_shown(press):
    press.jam = Refused("The drawing has no walls.")
    paper = want()
    notice = letter(paper_id=paper.pk)
    now = NOW
    for minutes in (1, 5, 15):
        [(pk, claim)] = printing.claim_papers(now=now)
        printing.set_aside(pk, claim, why="The drawing has no walls.", now=now)
        now += timedelta(minutes=minutes)
        assert printing.claim_papers(now=now - timedelta(seconds=1)) == []
    [(pk, claim)] = printing.claim_papers(now=now)
    print_paper(pk, claim)
    sending.refuse_letters_without_paper(now=now)
    paper.refresh_from_db()
    notice.refresh_from_db()
    assert (paper.state, paper.why) == (State.FAILED, "The drawing has no walls.")
    assert (notice.state, notice.why) == (Notice.State.FAILED, sending.NO_PAPER)


@pytest.mark.django_db
def test_a_press_that_lost_its_lease_keeps_nothing(press):
    paper = want()
    [(pk, old_claim)] = printing.claim_papers(now=NOW)
    later = NOW + printing.CLAIM_LASTS + timedelta(seconds=1)
    printing.give_back_lapsed(now=later)
    printing.claim_papers(now=later)
    assert not printing.keep_paper(pk, old_claim, pdf=PDF, now=later)
    paper.refresh_from_db()
    assert paper.state == State.PRINTING


@pytest.mark.django_db
def test_a_paper_is_read_only_by_those_its_kind_allows(press):
    paper = printed()
    assert paper_for(make.owner(), paper.pk) is None
    register_reader("test-paper", lambda person, about_id: person.role == "owner")
    assert paper_for(make.owner(), paper.pk) == paper
    assert paper_for(make.lead(), paper.pk) is None


@pytest.mark.django_db
def test_a_changed_file_is_not_shown_but_explained(press, client):
    paper = printed(total_gbp="79.00")
    register_reader("test-paper", lambda person, about_id: True)
    client.force_login(make.owner())
    good = client.get(f"/papers/{paper.pk}/")
    path_of(paper.digest).write_bytes(b"%PDF-1.7 another")
    bad = client.get(f"/papers/{paper.pk}/")
    assert (good.status_code, good.content) == (200, b"%PDF-1.7 a paper79.00")
    assert bad.status_code == 503
    assert "not as it was printed" in bad.content.decode()


def test_a_printed_page_has_its_language_title_and_our_own_type():
    pdf = press_html("<h1>Ŵyn £12.50 m²</h1>", title="Quote 12")
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    fonts = reader.pages[0]["/Resources"]["/Font"].values()
    assert reader.metadata.title == "Quote 12"
    assert reader.trailer["/Root"]["/Lang"] == "en-GB"
    assert "Ŵyn £12.50 m²" in reader.pages[0].extract_text()
    assert all("Paper" in font.get_object()["/BaseFont"] for font in fonts)


# ISO 14289-1 (PDF/UA-1) asks for a structure tree and the mark that says so.
def test_a_printed_page_is_tagged_for_screen_readers():
    pdf = press_html("<h1>Quote</h1><p>For skimming.</p>", title="Quote 12")
    root = pypdf.PdfReader(io.BytesIO(pdf)).trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in root
    assert b"pdfuaid" in root["/Metadata"].get_object().get_data()


@pytest.mark.parametrize(
    "hostile",
    [
        '<img src="http://127.0.0.1:9/x" alt="">',
        '<img src="file:///etc/hostname" alt="">',
        '<link rel="attachment" href="file:///etc/hostname">',
        '<link rel="stylesheet" href="file:///etc/hostname">',
        '<style>@import "file:///etc/hostname";</style>',
        '<p style="background: url(file:///etc/hostname)">x</p>',
    ],
)
def test_a_page_that_asks_for_anything_else_is_not_printed(hostile):
    with pytest.raises(Refused, match="not the firm's own"):
        press_html(hostile, title="Hostile")
