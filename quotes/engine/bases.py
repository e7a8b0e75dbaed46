"""The rules by which plastered work is counted, side by side.

True is everything plastered. Through is gross, no void taken off. NRM2 and SMM7 leave
small voids in and count narrow work by the metre; a firm may have its own habit. Every
limit is inclusive ("not exceeding"), so sizes stay whole millimetres up to the test.
"""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal, get_args

from firm.engine.lengths import MM2_IN_M2
from quotes.engine.measurement_values import Basis, OwnRule

Reading = Literal["girth", "face"]
BASES: tuple[Basis, ...] = get_args(Basis)

RULE_WORDS = {
    "true": "true surface",
    "through": "through",
    "nrm2": "NRM2",
    "nrm2_face": "NRM2 face by face",
    "smm7": "SMM7",
    "smm7_face": "SMM7 face by face",
    "own": "the firm's rule",
    "own_face": "the firm's rule face by face",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One basis: voids left in up to a size, work by the metre up to a width."""

    basis: Basis
    leaves_voids_in: bool
    ignore_up_to_mm2: int
    narrow_up_to_mm: int
    reading: Reading

    def deducts(self, *, area_mm2: int, is_boundary: bool) -> bool:
        """Say whether a void comes off: at the edge always, within only when large.

        Each void is tested by itself, never the sum of several.
        """
        if self.leaves_voids_in:
            return False
        return is_boundary or area_mm2 > self.ignore_up_to_mm2

    def is_narrow(self, width_mm: int) -> bool:
        """Say whether work of that width is counted by the metre."""
        return width_mm <= self.narrow_up_to_mm


def _rule(
    basis: Basis, ignore_up_to_mm2: int, narrow_up_to_mm: int, reading: Reading
) -> Rule:
    return Rule(
        basis=basis,
        leaves_voids_in=basis == "through",
        ignore_up_to_mm2=ignore_up_to_mm2,
        narrow_up_to_mm=narrow_up_to_mm,
        reading=reading,
    )


PUBLISHED = (
    _rule("true", 0, 0, "girth"),
    _rule("through", 0, 0, "girth"),
    # RICS NRM2 2nd edition (October 2021) section 28: voids not exceeding 1.00 m² are
    # not deducted, work not exceeding 600 mm wide is linear. From memory, verify.
    _rule("nrm2", 1_000_000, 600, "girth"),
    _rule("nrm2_face", 1_000_000, 600, "face"),
    # SMM7 M20: 0.50 m² (read in lecture slides on internal finishes), 300 mm (from
    # memory). Voids at the boundary come off under General Rule 3.4 (from memory).
    _rule("smm7", 500_000, 300, "girth"),
    _rule("smm7_face", 500_000, 300, "face"),
)


def rules(own: OwnRule) -> tuple[Rule, ...]:
    """Return all rules in the order of `BASES`, the firm's own last.

    >>> [rule.basis for rule in rules(OwnRule())][:3]
    ['true', 'through', 'nrm2']
    """
    ignore_mm2 = int(own.ignore_up_to_m2 * MM2_IN_M2)
    return (
        *PUBLISHED,
        _rule("own", ignore_mm2, own.narrow_up_to_mm, "girth"),
        _rule("own_face", ignore_mm2, own.narrow_up_to_mm, "face"),
    )


def limit_m2(rule: Rule) -> Decimal:
    """Return the size up to which a rule leaves a void in."""
    return Decimal(rule.ignore_up_to_mm2) / MM2_IN_M2
