"""Whole cents, half-up, tax once per document; against the published examples of EN 16931."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopapp.bench.errors import Impossible
from shopapp.bench.money import line, show, tax

F = Fraction

# ConnectingEurope/eInvoicing-EN16931, ubl/examples: base, percent, tax of each breakdown (BT-116, BT-119, BT-117)
BREAKDOWNS = [
    ("ubl-tc434-example1", 18323, 6, 1099),
    ("ubl-tc434-example1", 4637, 21, 974),
    ("ubl-tc434-example2", 146050, 25, 36513),
    ("ubl-tc434-example2", 100, 15, 15),
    ("ubl-tc434-example2", -2500, 0, 0),
    ("ubl-tc434-example3", 90000, 25, 22500),
    ("ubl-tc434-example3", 80000, 10, 8000),
    ("ubl-tc434-example4", 150000, 25, 37500),
    ("ubl-tc434-example4", 250000, 12, 30000),
    ("ubl-tc434-example8", 90891, 21, 19087),
    ("ubl-tc434-example9", 14700, 21, 3087),
    ("sample-discount-price", 1212, 25, 303),
]

# The same examples: net (BT-109), breakdowns (BT-116, BT-119), total (BT-112), prepaid (BT-113), due (BT-115)
DOCUMENTS = [
    ("ubl-tc434-example1", 22960, [(18323, 6), (4637, 21)], 25033, 0, 25033),
    ("ubl-tc434-example2", 143650, [(146050, 25), (100, 15), (-2500, 0)], 180178, 100000, 80178),
    ("ubl-tc434-example3", 170000, [(90000, 25), (80000, 10)], 200500, 0, 200500),
    ("ubl-tc434-example4", 400000, [(150000, 25), (250000, 12)], 467500, 0, 467500),
    ("ubl-tc434-example5", 400000, [(150000, 25), (250000, 12)], 467500, 233750, 233750),
    ("ubl-tc434-example8", 90891, [(90891, 21)], 109978, 0, 109978),
    ("ubl-tc434-example9", 14700, [(14700, 21)], 17787, 0, 17787),
    ("sample-discount-price", 1212, [(1212, 25)], 1515, 0, 1515),
]

# Lines of ubl-tc434-example8 (BT-131)
EXAMPLE_8 = [14080, 1616, 16764, 8874, 3675, 5650, 8334, 19031, 6421, 6446]


@pytest.mark.outside("verified: EN 16931, the official example invoices")
@pytest.mark.parametrize(("example", "base", "percent", "taxed"), BREAKDOWNS)
def test_tax_is_that_of_the_published_example(example: str, base: int, percent: int, taxed: int) -> None:
    assert tax(base, F(percent, 100)) == taxed


@pytest.mark.outside("verified: EN 16931, the official example invoices")
@pytest.mark.parametrize(("example", "net", "breakdown", "total", "prepaid", "due"), DOCUMENTS)
def test_a_document_adds_up_as_published(
    example: str, net: int, breakdown: list[tuple[int, int]], total: int, prepaid: int, due: int
) -> None:
    assert net == sum(base for base, _ in breakdown)  # EN 16931-1, BR-CO-13
    with_tax = net + sum(tax(base, F(percent, 100)) for base, percent in breakdown)  # BR-CO-14, BR-CO-15
    assert with_tax == total
    assert with_tax - prepaid == due  # BR-CO-16


@pytest.mark.outside("verified: EN 16931, example 8: 190.87")
def test_tax_is_taken_once_per_document_and_not_per_line() -> None:
    # ubl-tc434-example8: tax published per category is 190.87; line by line it would come to 190.88
    assert sum(EXAMPLE_8) == 90891
    assert tax(sum(EXAMPLE_8), F(21, 100)) == 19087
    assert sum(tax(one, F(21, 100)) for one in EXAMPLE_8) == 19088


@pytest.mark.outside("verified: EN 16931, examples 8 and 9")
@pytest.mark.parametrize(
    ("quantity", "unit", "amount"),
    [
        # ubl-tc434-example8: quantity times price over base quantity gives the line net
        (F(132, 12), 1524, 16764),
        (F(1, 12), 44100, 3675),
        (F(1, 12), 67800, 5650),
        (F(58), 153, 8874),
        (F(16000, 100), 88, 14080),
        (F(3), 4900, 14700),  # ubl-tc434-example9
    ],
)
def test_a_line_is_that_of_the_published_example(quantity: F, unit: int, amount: int) -> None:
    assert line(quantity, unit) == amount


@given(st.integers(-(10**9), 10**9), st.integers(0, 10000))
def test_a_credit_undoes_its_invoice_to_the_cent(cents: int, hundredths: int) -> None:
    rate = F(hundredths, 10000)
    assert tax(-cents, rate) == -tax(cents, rate)
    assert abs(tax(cents, rate) - cents * rate) * 2 <= 1


def test_a_percent_number_is_no_share() -> None:
    with pytest.raises(Impossible, match="100 %"):
        tax(10000, F(625, 100))
    with pytest.raises(Impossible, match="100 %"):
        tax(10000, F(-1, 100))


@given(st.integers(-(10**12), 10**12))
def test_money_is_shown_with_every_cent(cents: int) -> None:
    shown = show(cents)
    assert shown.startswith("-$" if cents < 0 else "$")
    assert int(shown.replace("$", "").replace(",", "").replace(".", "")) == cents


def test_money_is_shown_as_on_a_paper() -> None:
    assert show(123450) == "$1,234.50"
    assert show(0) == "$0.00"
    assert show(-5) == "-$0.05"
    assert show(100000000, sign="£") == "£1,000,000.00"
