from decimal import Decimal

from django.db.models import Min, QuerySet

from firm import may
from firm.models import Person
from jobs.models import Merchant, PackPrice


def merchants_for(person: Person) -> QuerySet[Merchant]:
    """Return the merchants with their prices, for those who see prices."""
    if not may.see_prices(person):
        return Merchant.objects.none()
    return Merchant.objects.filter(is_active=True).prefetch_related("prices")


def pack_prices() -> dict[str, Decimal]:
    """Return the best price of each item's pack among the merchants in the book."""
    rows = PackPrice.objects.filter(merchant__is_active=True)
    return dict(
        rows.values("item_code")
        .annotate(best_gbp=Min("price_gbp"))
        .values_list("item_code", "best_gbp")
    )
