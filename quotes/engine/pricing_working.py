"""The working of a price, as sentences a plasterer can follow."""

from collections.abc import Iterator

from quotes.engine.pricing_values import Priced, Pricing


def price_sentences(answer: Priced, job: Pricing) -> Iterator[str]:
    """Tell how the price came about, one step a sentence."""
    for h in job.hours:
        yield f"{h.what}: {h.hours:f} h at £{h.rate_gbp} an hour."
    for p in job.purchases:
        yield f"{p.item}: {p.packs} at £{p.pack_gbp}."
    yield (
        f"Labour £{answer.labour_gbp} and materials £{answer.materials_gbp} make a "
        f"cost of £{answer.cost_gbp}; overhead {job.overhead_pct} % is "
        f"£{answer.overhead_gbp}."
    )
    yield _way_sentence(answer, job)
    if answer.is_minimum_applied:
        yield f"That is under the minimum charge, so the price is £{answer.net_gbp}."
    for line in answer.lines:
        yield f"{line.room}, {line.what}: £{line.net_gbp}."
    for group in answer.vat:
        yield (
            f"VAT {group.rate_pct} % of £{group.net_gbp} = £{group.vat_gbp}, worked "
            f"once on the sum."
        )
    if not job.is_vat_registered:
        yield "The firm is not VAT registered, so there is no VAT."
    yield f"Net £{answer.net_gbp}, with VAT £{answer.gross_gbp}."


def _way_sentence(answer: Priced, job: Pricing) -> str:
    if job.way == "cost":
        return (
            f"With a margin of {job.margin_pct} % of the price, cost and overhead are "
            f"divided by {(100 - job.margin_pct) / 100}."
        )
    return (
        "Each line is its quantity times the firm's rate; cost and overhead taken off "
        f"leave £{answer.margin_gbp}."
    )
