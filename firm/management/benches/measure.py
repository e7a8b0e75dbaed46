"""How long a house takes to measure, and whether ten times the house takes ten."""

import time
from collections.abc import Callable, Iterator
from decimal import Decimal
from importlib import import_module
from typing import Any

values = import_module("quotes.engine.measurement_values")
engine = import_module("quotes.engine.measurement")

ROOMS, TIMES_MORE, ROUNDS = 40, 10, 3
# Eight openings in each even room and seven in each odd one: 300 in 40 rooms.
OPENINGS = (8, 7)
MILLION = 1_000_000
# 2 × (6.00 + 5.00) × 2.40 of wall and 6.00 × 5.00 of ceiling.
THROUGH_M2 = Decimal("82.80")


def run() -> Iterator[str]:
    """Yield the figures line by line; the fastest of a few rounds counts."""
    small_s, floor_s = figures_of(house(ROOMS))
    large_s, _ = figures_of(house(ROOMS * TIMES_MORE))
    yield f"{ROOMS} rooms with {openings_in(house(ROOMS))} openings"
    yield f"  measured in {milliseconds(small_s)}"
    yield f"  {small_s / floor_s:.0f} × the floor, {milliseconds(floor_s)}: the same"
    yield "  sizes multiplied and added up, without rules, words or working"
    yield f"{ROOMS * TIMES_MORE} rooms measured in {milliseconds(large_s)}"
    yield f"  {large_s / small_s:.1f} × as long for {TIMES_MORE} × as much"


def house(rooms: int) -> Any:
    """Return the same house for the same number: nothing here is drawn by lot."""
    return values.Measurement(rooms=tuple(room(number) for number in range(rooms)))


def room(number: int) -> Any:
    count = OPENINGS[number % 2]
    return values.Room(
        name=f"Room {number + 1}",
        height_mm=2400,
        length_mm=6000,
        width_mm=5000,
        openings=tuple(opening(place) for place in range(count)),
    )


def opening(place: int) -> Any:
    """Return a window, two a wall, clear of each other and of the corners."""
    return values.Opening(
        name=f"window {place + 1}",
        width_mm=900 + 50 * place,
        height_mm=1050,
        wall="ABCD"[place // 2],
        left_mm=300 + 2200 * (place % 2),
        sill_mm=900,
        reveal=values.Reveal(depth_mm=150),
    )


def figures_of(asked: Any, room_m2: Decimal = THROUGH_M2) -> tuple[float, float]:
    """Return seconds for the engine and for its floor, having checked the answer."""
    measured = engine.measure(asked)
    through = measured.totals.through.total_m2
    expected = room_m2 * len(asked.rooms)
    if through != expected:
        raise ArithmeticError(f"{through} m² measured, {expected} m² by hand.")
    return fastest(lambda: engine.measure(asked)), fastest(lambda: bare_sum(asked))


def bare_sum(asked: Any) -> Decimal:
    """Multiply each size once and add up: no measuring can do with less."""
    total = Decimal(0)
    for each in asked.rooms:
        for length_mm in (each.length_mm, each.width_mm) * 2:
            total += Decimal(length_mm * each.height_mm) / MILLION
        total += Decimal(each.length_mm * each.width_mm) / MILLION
        for void in each.openings:
            total -= Decimal(void.width_mm * void.height_mm) / MILLION
    return total


def fastest(act: Callable[[], object]) -> float:
    took = []
    for _ in range(ROUNDS):
        began = time.perf_counter()
        act()
        took.append(time.perf_counter() - began)
    return min(took)


def openings_in(asked: Any) -> int:
    return sum(len(each.openings) for each in asked.rooms)


def milliseconds(seconds: float) -> str:
    return f"{seconds * 1000:.1f} ms"
