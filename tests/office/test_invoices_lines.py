"""The lines of a bill as typed: every line is its count times its price, and the lines come to the net."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from shopapp.office import invoices_lines
from shopapp.office.invoices_lines import LineTyped

LINES = st.lists(
    st.builds(
        LineTyped,
        st.just("work"),
        st.one_of(st.integers(1, 400).map(str), st.integers(1, 4000).map(lambda minutes: f"{minutes} min")),
        st.integers(0, 500000).map(lambda cents: f"{cents / 100:.2f}"),
    ),
    min_size=1,
    max_size=12,
)


@given(LINES)
def test_the_lines_of_a_bill_sum_to_its_net(lines: list[LineTyped]) -> None:
    rows = invoices_lines.rows(lines, "$")
    shown = [Fraction(row.amount.removeprefix("$").replace(",", "")) * 100 for row in rows]
    assert shown == [row.cents for row in rows]
    for line, row in zip(lines, rows, strict=True):
        count = Fraction(line.quantity.removesuffix(" min")) / (60 if "min" in line.quantity else 1)
        assert abs(count * Fraction(line.price) * 100 - row.cents) <= Fraction(1, 2)


def test_lines_of_counts_are_summed_before_they_are_a_bill() -> None:
    lines = [LineTyped("two bushes", "2", "9.25"), LineTyped("less what was billed before", "1", "-3.50")]
    assert invoices_lines.sum_of(lines) == 1500
