import pytest

from firm.engine.refusal import Refused
from jobs.actions.merchant import save_merchant
from jobs.models import Merchant
from tests import make

pytestmark = pytest.mark.django_db


def saved(merchant_id=None, **changes):
    columns = {
        "name": "Kiln Lane Builders' Yard",
        "email": "yard@example.com",
        "phone": "+441632960210",
        "lead_working_days": 2,
        "by": make.office(),
        "now": make.NOW,
    }
    return save_merchant(merchant_id, **columns | changes)


def test_a_second_merchant_leaves_the_first_in_the_book():
    first, second = saved(), saved(name="Sandpit Supplies")
    assert first.pk != second.pk
    assert list(Merchant.objects.values_list("name", flat=True)) == [
        "Kiln Lane Builders' Yard",
        "Sandpit Supplies",
    ]


def test_a_change_keeps_the_merchant_and_its_orders():
    first = saved()
    changed = saved(first.pk, lead_working_days=3)
    assert (changed.pk, changed.lead_working_days) == (first.pk, 3)
    assert Merchant.objects.count() == 1


def test_a_merchant_that_is_gone_is_not_made_anew():
    with pytest.raises(Refused, match="not in the book any more"):
        saved(4711)
    assert not Merchant.objects.exists()


def test_two_merchants_of_one_name_are_refused():
    saved()
    with pytest.raises(Refused, match="in the book already") as refused:
        saved()
    assert refused.value.field == "name"
    assert Merchant.objects.count() == 1
