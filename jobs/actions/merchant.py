"""Write down where plaster is bought and for how much."""

from datetime import datetime
from decimal import Decimal

from django.db import IntegrityError, transaction

from firm import may
from firm.actions import history
from firm.engine.refusal import Refused
from firm.models import Person
from jobs.models import Merchant, PackPrice

ONLY_THE_OFFICE = "Only the office can change merchants and their prices."


@transaction.atomic
def save_merchant(
    merchant_id: int | None,
    *,
    name: str,
    email: str,
    phone: str,
    lead_working_days: int,
    by: Person,
    now: datetime,
) -> Merchant:
    """Add a merchant, or change what is known of one."""
    if not may.order_materials(by):
        raise Refused(ONLY_THE_OFFICE)
    columns = {
        "name": name,
        "email": email,
        "phone": phone,
        "lead_working_days": lead_working_days,
    }
    try:
        with transaction.atomic():
            merchant = _saved(merchant_id, columns)
    except IntegrityError:
        raise Refused(f"{name} is in the book already.", "name") from None
    words = f"{name} was {'added' if merchant_id is None else 'changed'}."
    history.write(
        about=("merchant", merchant.pk),
        event="merchant-saved",
        words=words,
        now=now,
        by=by,
    )
    return merchant


def _saved(merchant_id: int | None, columns: dict[str, object]) -> Merchant:
    if merchant_id is None:
        return Merchant.objects.create(**columns)
    merchant = Merchant.objects.select_for_update().filter(pk=merchant_id).first()
    if merchant is None:
        raise Refused("That merchant is not in the book any more.")
    for column, value in columns.items():
        setattr(merchant, column, value)
    merchant.save(update_fields=list(columns))
    return merchant


@transaction.atomic
def set_price(
    merchant_id: int,
    *,
    item_code: str,
    pack: str,
    price_gbp: Decimal,
    by: Person,
    now: datetime,
) -> None:
    """Write down what a merchant asks for a pack; the former price goes."""
    if not may.order_materials(by):
        raise Refused(ONLY_THE_OFFICE)
    if price_gbp < 0:
        raise Refused("A price cannot be below zero.", "price_gbp")
    PackPrice.objects.update_or_create(
        merchant_id=merchant_id,
        item_code=item_code,
        pack=pack,
        defaults={"price_gbp": price_gbp},
    )
    history.write(
        about=("merchant", merchant_id),
        event="price-set",
        words=f"{item_code}, {pack}: £{price_gbp}.",
        now=now,
        by=by,
    )
