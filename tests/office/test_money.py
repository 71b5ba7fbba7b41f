"""Money as rooms see it that do not know the bench."""

from shopapp.office import money


def test_cents_are_shown_with_their_sign_and_thousands() -> None:
    assert money.show(123450) == "$1,234.50"
    assert money.show(5, "€") == "€0.05"
