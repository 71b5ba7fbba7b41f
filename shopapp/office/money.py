"""Money as the office shows it, for rooms that do not know the bench."""

from shopapp.bench import money


def show(cents: int, currency: str = "$") -> str:
    """Whole cents as text: "$1,234.50"."""
    return money.show(cents, currency)
