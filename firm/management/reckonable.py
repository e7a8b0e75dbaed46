"""The engines that can be reckoned by hand, by name.

Names of modules are texts, because some live in apps above this one.
"""

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from typing import Any


@dataclass(frozen=True, slots=True, kw_only=True)
class Reckonable:
    """One name: what it answers, and where the question and the answer live."""

    name: str
    asks: str
    module: str
    question: str
    function: str

    def question_class(self) -> type:
        """Return the dataclass that the JSON is read into."""
        found: type = getattr(import_module(self.module), self.question)
        return found

    def answer(self) -> Callable[[Any], object]:
        """Return the function that answers it."""
        found: Callable[[Any], object] = getattr(
            import_module(self.module), self.function
        )
        return found


RECKONABLES = {
    name: Reckonable(
        name=name, asks=asks, module=module, question=question, function=function
    )
    for name, asks, module, question, function in (
        (
            "measure",
            "what area is to be plastered?",
            "quotes.engine.measurement",
            "Measurement",
            "measure",
        ),
        (
            "specify",
            "what goes on it, and why?",
            "quotes.engine.specification",
            "Specification",
            "specify",
        ),
        (
            "takeoff",
            "what must be bought, how long will it take?",
            "quotes.engine.takeoff",
            "TakeOff",
            "take_off",
        ),
        ("price", "what to charge?", "quotes.engine.pricing", "Pricing", "price"),
        (
            "dry",
            "when may the next trade follow?",
            "jobs.engine.drying",
            "Drying",
            "dry",
        ),
        (
            "order",
            "what to order from the merchant, by when?",
            "jobs.engine.ordering",
            "Ordering",
            "order",
        ),
        ("bill", "what is due?", "invoices.engine.bill", "Bill", "draw_bill"),
        (
            "chase",
            "which letter is due, when?",
            "invoices.engine.chasing",
            "Chase",
            "letters_due",
        ),
        (
            "allocate",
            "which bills does a payment pay?",
            "invoices.engine.allocation",
            "Payment",
            "allocate",
        ),
    )
}
