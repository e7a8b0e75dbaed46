"""The first four steps: the call, the look, what goes on it, the quote and its yes."""

import re
from datetime import datetime, time, timedelta
from decimal import Decimal
from functools import partial

from django.utils.timezone import localdate

from firm.management.demo import above, told
from firm.management.demo.looking import measure_room
from firm.management.touring.walk import Walk
from firm.models import Firm, Notice
from firm.queries.links import open_link
from firm.templatetags.figures import hours, m2, pounds

KEY = re.compile(r"/l/([\w-]+)/")
# Bedroom W1, worked by hand: 4.20 × 3.60 × 2.40 m. Girth 15.60 × 2.40 = 37.44, less
# door 0.80 × 2.00 = 1.60 and window 1.20 × 1.05 = 1.26: 34.58. Reveals (1.05 × 2 +
# 1.20) × 0.15 = 0.495. Ceiling 15.12. In all 50.195; through 37.44 + 15.12 = 52.56.
BEDROOM = told.RoomTold(
    name="Bedroom",
    height_mm=2400,
    background="B06",
    ceiling="B08",
    walls=(told.WallTold(mm=4200), told.WallTold(mm=3600)),
    openings=(
        told.OpeningTold(
            wall="A",
            kind="door",
            width_mm=800,
            height_mm=2000,
            left_mm=200,
            touches_edge=True,
        ),
        told.OpeningTold(
            wall="C",
            kind="window",
            width_mm=1200,
            height_mm=1050,
            left_mm=1500,
            sill_mm=900,
            reveals="head",
            reveal_depth_mm=150,
        ),
    ),
)
TRUE_M2, THROUGH_M2 = Decimal("50.195"), Decimal("52.56")
# Labour 529.65, packs 100.00, a tenth of overhead: 692.62; a fifth of the price is
# margin: / 0.8 = 865.78. VAT at 20 %: 173.16. The hours stand in tests/quotes.
NET_GBP, VAT_GBP, GROSS_GBP = Decimal("865.78"), Decimal("173.16"), Decimal("1038.94")


def the_phone_rings(walk: Walk) -> None:
    now = walk.days.at("0 09:15")
    walk.step(1, "The phone rings", now)
    call = above.enquiry.Call(
        who=above.customer.CustomerFacts(
            name="Rosa Reed", phone="07700 900123", email="rosa@example.com"
        ),
        where=above.enquiry.SiteFacts(
            address="14 Larch Row\nNether Quillby", postcode="zz1 2ab"
        ),
        asked=above.enquiry.AskedFacts(
            what="Skim a bedroom", said="Old paint on the walls, new boards overhead."
        ),
        visit=above.visit.VisitFacts(
            person_id=walk.cast.owner.pk, on=walk.days.on(2), at=time(9, 30)
        ),
    )
    walk.job = above.enquiry.take_enquiry(call, by=walk.cast.office, now=now)
    walk.say(f"{walk.job}, for {walk.job.customer} at {walk.job.site}")
    letters = walk.work_the_tray(now)
    walk.holds(len(letters) == 1, "the visit was confirmed by mail")
    evening = walk.days.at("1 17:00")
    walk.holds(walk.work_the_tray(evening), "and called to mind the evening before")


def the_look(walk: Walk) -> None:
    now, by, job_id = walk.days.at("2 09:45"), walk.cast.owner, walk.job.pk
    walk.step(2, "The look", now)
    facts = above.look.LookFacts(building_year=1998)
    above.look.start_look(job_id, facts=facts, by=by, now=now)
    measure_room(job_id, BEDROOM, by=by, now=now)
    version = above.quote_models.Look.objects.get(job=job_id).version
    above.look.finish_look(job_id, version=version, by=by, now=now)
    answer = above.measured.measured_job(job_id)
    figures = above.basis.basis_figures(answer, ours="firm")
    walk.say("4.20 × 3.60 × 2.40 m, a door, a window with reveals of 150 mm")
    walk.say(", ".join(f"{each.title} {m2(each.total.total_m2)}" for each in figures))
    walk.holds(
        (answer.totals.true.total_m2, answer.totals.through.total_m2)
        == (TRUE_M2, THROUGH_M2),
        f"as worked by hand: {TRUE_M2} m² true, {THROUGH_M2} m² measured through",
    )


def what_goes_on_it(walk: Walk) -> None:
    walk.step(3, "What goes on it", walk.days.at("2 10:20"))
    found = above.specified.specified_job(walk.job.pk)
    for facts in (found.surfaces[0], found.surfaces[-1]):
        walk.say(f"{facts.name}: {facts.specified.background}")
        for layer in facts.specified.layers:
            walk.say(layer.words, indent="     ")
    first, *others = found.cautions
    walk.say(f"Caution: {first.words} {first.authority}")
    walk.say(f"and {', '.join(c.code for c in others)}, each with its authority")
    walk.holds(not found.stops, "nothing has to be sampled or cured first")


def the_quote(walk: Walk) -> None:
    now, by = walk.days.at("2 16:00"), walk.cast.owner
    walk.step(4, "The quote, and the customer's yes", now)
    today = localdate(now)
    draft = above.quote.write_quote(
        walk.job.pk, vat_kind="standard", by=by, today=today, now=now
    )
    until_on = today + timedelta(days=Firm.objects.get().quote_valid_days)
    walk.version = above.quote.send_quote(
        draft.pk, valid_until_on=until_on, by=by, today=today, now=now
    )
    inside = walk.version.snapshot["inside"]
    walk.say(
        f"Plasterer {hours(Decimal(inside['plasterer_hours']))},"
        f" mate {hours(Decimal(inside['labourer_hours']))}, {inside['days']} days;"
        f" packs {pounds(Decimal(inside['materials_gbp']))}"
    )
    sums = (walk.version.net_gbp, walk.version.vat_gbp, walk.version.gross_gbp)
    walk.holds(
        sums == (NET_GBP, VAT_GBP, GROSS_GBP),
        f"{pounds(NET_GBP)} and VAT {pounds(VAT_GBP)}: {pounds(GROSS_GBP)},"
        " as worked by hand",
    )
    letter = walk.work_the_tray(now)[0]
    walk.version.paper.refresh_from_db()
    walk.holds(
        letter.attached_digest == walk.version.paper.digest,
        "the paper in the letter is the paper that is kept, to the byte",
    )
    _answer(walk, letter.text)


def _answer(walk: Walk, letter: str) -> None:
    """Open the link as the customer does, and say yes to the words that it shows."""
    now = walk.days.at("4 19:30")
    key = KEY.search(letter)
    link = open_link(key[1] if key else "", "quote", now=now)
    walk.holds(link and link.about_id == walk.version.pk, "the link opens this quote")
    accept = partial(_accept, walk, now=now)
    other = "0" * len(walk.version.digest)
    walk.refused(partial(accept, digest=other), "a yes to other words is refused")
    accept(digest=walk.version.digest)
    walk.refused(partial(accept, digest=walk.version.digest), "so is a second yes")
    kept = above.quote_models.Acceptance.objects.get(quote__job=walk.job)
    walk.holds(
        kept.digest == walk.version.digest,
        f"{kept.typed_name}'s yes is to digest {kept.digest[:12]}…",
    )
    follow_up = Notice.objects.get(kind="quote-follow-up")
    walk.holds(
        follow_up.state == Notice.State.STOPPED,
        f"nobody will ask again: {follow_up.why[0].lower()}{follow_up.why[1:-1]}",
    )
    walk.work_the_tray(now)


def _accept(walk: Walk, *, digest: str, now: datetime) -> None:
    above.acceptance.accept_quote(
        walk.version.pk,
        digest=digest,
        typed_name="Rosa Reed",
        asks_early_start=False,
        from_address="127.0.0.1",
        today=localdate(now),
        now=now,
    )
