"""Lines and sums of a paper: text as printed beside whole cents."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class LineRow:
    """One line: quantity, unit price and amount as they are printed, and the amount in whole cents.

    For other programs: `count` is the exact quantity in `unit` ("each" or "min"), `unit_cents` the price of one, or
    of an hour. Lines of papers issued long ago do not have them."""

    text: str
    quantity: str
    unit_price: str
    amount: str
    cents: int
    taxable: bool = True
    count: str = ""
    unit: str = ""
    unit_cents: int | None = None


@dataclass(frozen=True)
class Totals:
    """The sums of a document in whole cents; `tax_percent` as printed ("6.25"), tax rounded once per document or
    once per line, as `tax_by` says."""

    net_cents: int
    taxable_cents: int
    tax_percent: str
    tax_cents: int
    total_cents: int
    tax_by: str = "document"
