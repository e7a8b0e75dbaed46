"""A measurement prints figures and ratios, the same house every time."""

import re
from decimal import Decimal
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from firm.management.benches import measure


def printed(*arguments: str) -> str:
    out = StringIO()
    call_command("bench", *arguments, stdout=out)
    return out.getvalue()


def test_alone_it_lists_its_names():
    assert printed().startswith("measure   how long")


def test_an_unknown_name_is_refused_with_those_there_are():
    with pytest.raises(CommandError, match=r"Pick one of measure\."):
        printed("speed")


def test_the_house_has_forty_rooms_and_three_hundred_openings():
    house = measure.house(40)
    assert (len(house.rooms), measure.openings_in(house)) == (40, 300)
    assert house == measure.house(40)


def test_the_floor_adds_up_the_same_house():
    # 82.80 measured through, less seven windows 1.05 high and together
    # 900 + 950 + … + 1200 = 7350 wide: 7.7175; and less an eighth of 1250: 1.3125.
    both = Decimal("82.80") * 2 - Decimal("7.7175") * 2 - Decimal("1.3125")
    assert measure.bare_sum(measure.house(2)) == both


@pytest.mark.slow
def test_measure_prints_times_and_ratios():
    said = printed("measure")
    assert "40 rooms with 300 openings" in said
    assert re.search(r"\d+ × the floor, \d+\.\d ms", said)
    assert re.search(r"\d+\.\d × as long for 10 × as much", said)


def test_a_wrong_answer_is_never_timed():
    with pytest.raises(ArithmeticError, match="by hand"):
        measure.figures_of(measure.house(2), room_m2=Decimal("82.81"))
