"""The words of each reminder, from a friendly copy to the last one."""

from datetime import date

from firm.templatetags.figures import phone, pounds
from invoices.engine.chasing_values import StepKey
from invoices.models import Bill

FOOT = """
The bill is attached. If you have paid in the last day or two, this letter has crossed
with the payment: thank you, and put it away.

{firm}
{phone}
"""
COPY = "here is a copy of bill {number} for {what}: {owed}, due on {due}."
DUE = "bill {number}, {owed}, is due today."
NUDGE = """bill {number}, {owed}, was due on {due}.
It may have crossed with your payment."""
ASK = """bill {number}, {owed}, has been due since {due}.
Tell us the day on which you will pay, or what is wrong, and we will put it right."""
LAST = """bill {number}, {owed}, has been due for {days} days.
This is our last reminder before formal steps. Pay it, or ring us on {phone}."""

WORDS: dict[StepKey, tuple[str, str]] = {
    "copy": ("A copy of bill {number}", COPY),
    "due": ("Bill {number} is due today", DUE),
    "nudge-1": ("Bill {number}", NUDGE),
    "nudge-2": ("Bill {number}: when may we expect it?", ASK),
    "firm": ("Bill {number}: our last reminder", LAST),
}


def letter(bill: Bill, *, step: StepKey, today: date) -> tuple[str, str]:
    """Return the subject and the words of one reminder."""
    subject, words = WORDS[step]
    facts = {
        "number": bill.number,
        "what": bill.snapshot["job"]["what"],
        "owed": pounds(bill.owed_gbp),
        "due": f"{bill.falls_due_on:%-d %B %Y}",
        "days": (today - bill.falls_due_on).days,
        "firm": bill.snapshot["firm"]["name"],
        "phone": phone(bill.snapshot["firm"]["phone"]),
    }
    text = f"Dear {bill.customer.name},\n\n{words}\n{FOOT}"
    return subject.format(**facts), text.format(**facts)
