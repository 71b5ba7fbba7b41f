"""Bills as other programs read them: the file, and the paper that carries it."""

import io
from xml.etree import ElementTree

import pikepdf
import pytest

from shopapp.office import shopbook
from tests import makers
from tests.web.conftest import LiveShop

LINE = {"line_0_words": "turned both faces", "line_0_quantity": "70 min", "line_0_price": "60.00"}


def issued(shop: LiveShop, **facts: str) -> None:
    """Invoice 501 over $73.50, with these facts of the shop in the book."""
    with shop.database.writing() as db:
        if facts:
            shopbook.change(db, **facts, **shop.maker.at())
        job = makers.ready_job(db, shop.maker)
    answer = shop.post(f"/jobs/{job.no}/bill", **LINE, piece_1="yes", piece_2="yes")
    assert answer.headers["location"] == "/invoices/501"


# EN 16931-1 and UBL 2.1 (OASIS): what the file holds is held to the schema and the rules by the office's own tests.
def test_the_bill_is_there_for_other_programs(shop: LiveShop) -> None:
    issued(shop, tax_id="CA 123", country="CA")
    assert 'href="/invoices/501.xml"' in shop.get("/invoices/501").text
    answer = shop.get("/invoices/501.xml")
    assert answer.headers["content-type"] == "application/xml"
    assert answer.headers["content-disposition"] == 'attachment; filename="invoice-501.xml"'
    root = ElementTree.fromstring(answer.content)
    ns = {"cbc": "urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2"}
    assert root.tag == "{urn:oasis:names:specification:ubl:schema:xsd:Invoice-2}Invoice"
    assert (root.findtext("cbc:ID", None, ns), root.findtext(".//cbc:PayableAmount", None, ns)) == ("501", "73.50")


# ISO 19005-3, 6.8: an associated file, embedded, with its relationship.
@pytest.mark.outside("from memory: ISO 19005-3, 6.8")
def test_the_paper_carries_the_bill_for_other_programs(shop: LiveShop) -> None:
    issued(shop, tax_id="CA 123", country="CA")
    answer = shop.get("/invoices/501/with-data.pdf")
    assert answer.headers["content-type"] == "application/pdf"
    with pikepdf.open(io.BytesIO(answer.content)) as pdf:
        (inside,) = pdf.Root.AF
        assert inside.AFRelationship == "/Data"
        assert inside.EF.F.read_bytes() == shop.get("/invoices/501.xml").content
        with pdf.open_metadata() as told:
            assert told.pdfa_status == "3B"
    assert shop.get("/invoices/501/with-data.pdf").content == answer.content
    assert shop.get("/papers/invoice/501.pdf").content != answer.content


def test_a_credit_note_is_there_for_other_programs_too(shop: LiveShop) -> None:
    issued(shop, tax_id="CA 123", country="CA")
    shop.post("/invoices/501/credit", credit_amount="10", credit_reason="a scratch")
    assert "/credit-notes/1.xml" in shop.get("/invoices/501").text
    assert b"CreditNote-2" in shop.get("/credit-notes/1.xml").content


def test_a_bill_that_programs_cannot_read_says_why(shop: LiveShop) -> None:
    issued(shop)
    page = shop.get("/invoices/501").text
    assert "/invoices/501.xml" not in page
    assert "Write the shop&#39;s tax number in the shop book" in page
    assert shop.get("/invoices/501.xml").status_code == 409
    assert shop.get("/invoices/999.xml").status_code == 404
