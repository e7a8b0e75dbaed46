"""An order to a merchant: its snapshot, its letter and its paper."""

from collections.abc import Mapping
from typing import Any

from django.template.loader import render_to_string

from firm.documents.press import press_html
from firm.queries.firm import the_firm
from firm.templatetags.figures import day, phone
from jobs.models import MaterialOrder

KIND = "order"
TEMPLATE = "jobs/order/paper/order.html"


def title_of(order: MaterialOrder) -> str:
    return f"Order {order.number}"


def snapshot_of(order: MaterialOrder) -> dict[str, Any]:
    """Return all that the paper says, as it is on the day of sending."""
    firm = the_firm()
    site = order.job.site
    return {
        "title": title_of(order),
        "firm": {
            "name": firm.name,
            "address": firm.address,
            "postcode": firm.postcode,
            "phone": phone(firm.phone),
            "email": firm.email,
        },
        "merchant": order.merchant.name,
        "number": order.number,
        "job_number": order.job.number,
        "wanted": day(order.wanted_on),
        "place": {
            "address": site.address,
            "postcode": site.postcode,
            "way_in": site.way_in,
            "parking": site.parking,
        },
        "lines": [
            {"item": line.need.item, "pack": line.need.pack, "packs": line.packs}
            for line in order.lines.select_related("need")
        ],
    }


def press(snapshot: Mapping[str, Any]) -> bytes:
    html = render_to_string(TEMPLATE, dict(snapshot))
    return press_html(html, title=snapshot["title"])


def letter_of(order: MaterialOrder) -> tuple[str, str]:
    """Return subject and words of the letter that the paper goes with."""
    facts = snapshot_of(order)
    place = facts["place"]
    lines = "\n".join(
        f"  {line['packs']} × {line['pack']}  {line['item']}" for line in facts["lines"]
    )
    way_in = f"\nWay in: {place['way_in']}" if place["way_in"] else ""
    parking = f"\nParking: {place['parking']}" if place["parking"] else ""
    subject = f"Order {order.number}: drop on {facts['wanted']}"
    text = (
        f"To {facts['merchant']}\n\n"
        f"Our order {order.number}, for a drop on {facts['wanted']}:\n\n{lines}\n\n"
        f"Drop at:\n{place['address']}\n{place['postcode']}{way_in}{parking}\n\n"
        f"If any of it cannot be there that day, ring us on"
        f" {facts['firm']['phone']}.\n\n{facts['firm']['name']}\n"
    )
    return subject, text
