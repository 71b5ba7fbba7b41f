"""Lines and sums of a paper: text as printed beside whole cents."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class LineRow:
    """One line: quantity, unit price and amount as they are printed, and the amount in whole cents."""

    text: str
    quantity: str
    unit_price: str
    amount: str
    cents: int
    taxable: bool = True


@dataclass(frozen=True)
class Totals:
    """The sums of a document in whole cents; `tax_percent` as printed ("6.25"), tax once per document."""

    net_cents: int
    taxable_cents: int
    tax_percent: str
    tax_cents: int
    total_cents: int
