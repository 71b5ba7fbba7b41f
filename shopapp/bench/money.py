"""Money: whole cents in integers, rounded half-up once."""

from __future__ import annotations

from fractions import Fraction

from shopapp.bench.errors import Impossible
from shopapp.bench.rounding import half_up


def tax(taxable_cents: int, rate: Fraction) -> int:
    """Tax on the taxable sum of a whole document, half-up (EN 16931-1, BR-CO-17: base times rate, two decimals).

    Formula: half_up(taxable_cents·rate)

    taxable_cents: sum of the taxable lines, negative on a credit [cents]
    rate: the share, 1/16 for 6.25 % [share]

    Returns: the tax of the document [cents].
    Limits: once per document, never per line; a share from 0 to 1.
    Raises: Impossible for a share outside these limits (a percent number where a share belongs).

    >>> tax(146050, Fraction(25, 100))
    36513
    """
    if not 0 <= rate <= 1:
        raise Impossible("A tax rate is from 0 to 100 %. Look at the rate in the shop book.")
    return half_up(taxable_cents * rate)


def line(quantity: Fraction, unit_cents: int) -> int:
    """The amount of one line, half-up (EN 16931-1, BT-131: quantity times net price, two decimals).

    Formula: half_up(quantity·unit_cents)

    quantity: how many or how much, exact [any]
    unit_cents: price of one [cents]

    Returns: the amount of the line [cents].
    Limits: exact at any size.
    Raises: nothing of its own.

    >>> line(Fraction(75, 60), 8600)
    10750
    """
    return half_up(quantity * unit_cents)


def show(cents: int, sign: str = "$") -> str:
    """Money as it is written on a paper (common practice, no source).

    Formula: sign, thousands set off by commas, a point, two figures of cents.

    cents: the amount [cents]
    sign: the shop's money sign [text]

    Returns: the amount as text, a credit with a minus before the sign [text].
    Limits: exact at any size.
    Raises: nothing of its own.

    >>> show(123450), show(-5), show(10750, sign="")
    ('$1,234.50', '-$0.05', '107.50')
    """
    whole, part = divmod(abs(cents), 100)
    return f"{'-' if cents < 0 else ''}{sign}{whole:,}.{part:02d}"
