"""A bill that other programs read: EN 16931 written in UBL 2.1 (OASIS), made from the frozen sheet and nothing else.

The standard knows one tax and calls it VAT; the shop's trade tax stands in its place. Amounts of a sheet that was
rounded line by line are given as they were issued, a cent off the sum by rate at the most a line.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from xml.etree import ElementTree as ET

from shopapp.bench import money
from shopapp.office.errors import InTheWay
from shopapp.office.sheets.credit import CreditSheet
from shopapp.office.sheets.invoice import InvoiceSheet
from shopapp.office.sheets.letterhead import Letterhead
from shopapp.office.sheets.money import LineRow

CUSTOMIZATION = "urn:cen.eu:en16931:2017"
_UBL = "urn:oasis:names:specification:ubl:schema:xsd:"
_CAC, _CBC = f"{_UBL}CommonAggregateComponents-2", f"{_UBL}CommonBasicComponents-2"
for _prefix, _space in (("cac", _CAC), ("cbc", _CBC), ("in", f"{_UBL}Invoice-2"), ("cn", f"{_UBL}CreditNote-2")):
    ET.register_namespace(_prefix, _space)
DOLLARS = {"US": "USD", "CA": "CAD", "AU": "AUD", "NZ": "NZD"}
SIGNS = {"€": "EUR", "£": "GBP", "¥": "JPY"}
UNITS = {"each": "C62", "min": "MIN"}
"""UN/ECE Recommendation 20: one, and minute."""
Sheet = InvoiceSheet | CreditSheet


@dataclass(frozen=True)
class Part:
    """An amount [cents] with its tax category (S taxed, E exempt, O outside the tax) and percent as exact text."""

    cents: int
    category: str = "S"
    percent: str = "0"


@dataclass(frozen=True)
class Subtotal:
    """The tax of one category and rate [cents]."""

    category: str
    percent: str
    base: int
    tax: int


@dataclass(frozen=True)
class Sums:
    """The sums of a document [cents], as EN 16931 has them."""

    lines: int
    allowances: int
    charges: int
    net: int
    tax: int
    total: int
    prepaid: int
    due: int
    subtotals: tuple[Subtotal, ...]


def sums(
    lines: Sequence[Part], allowances: Sequence[Part] = (), charges: Sequence[Part] = (), prepaid: int = 0,
    rounding: int = 0,
) -> Sums:  # fmt: skip
    """The sums by BR-CO-10 to BR-CO-17: tax once for each category and rate, half-up."""
    bases: dict[tuple[str, str], int] = {}
    for sign, parts in ((1, lines), (-1, allowances), (1, charges)):
        for part in parts:
            key = (part.category, part.percent)
            bases[key] = bases.get(key, 0) + sign * part.cents
    subtotals = tuple(
        Subtotal(category, percent, base, money.tax(base, Fraction(percent) / 100))
        for (category, percent), base in bases.items()
    )
    of_lines, off, on = (sum(part.cents for part in parts) for parts in (lines, allowances, charges))
    net, tax = of_lines - off + on, sum(one.tax for one in subtotals)
    return Sums(of_lines, off, on, net, tax, net + tax, prepaid, net + tax - prepaid + rounding, subtotals)


def ubl(sheet: Sheet) -> bytes:
    """An issued invoice or credit note as XML; refused where the sheet lacks what the standard asks for."""
    currency = _currency(sheet.letterhead)
    if not sheet.letterhead.tax_id.strip():
        raise InTheWay("Write the shop's tax number in the shop book: a bill that programs read has to name it.")
    if isinstance(sheet, CreditSheet) and not sheet.totals.net_cents:
        raise InTheWay("This note takes back tax alone. The standard knows no such note, so no program can read it.")
    told = _summed(sheet)
    word = "Invoice" if isinstance(sheet, InvoiceSheet) else "CreditNote"
    root = ET.Element(f"{{{_UBL}{word}-2}}{word}")
    _head(root, sheet, currency)
    _parties(root, sheet, told)
    _terms(root, sheet)
    for row in sheet.lines:
        if row.cents < 0:
            _allowance(root, row, _part(sheet, row), currency)
    _totals(root, sheet, told, currency)
    positive = [row for row in sheet.lines if row.cents >= 0]
    for number, row in enumerate(positive, 1):
        _line(root, word, number, row, _part(sheet, row), currency)
    made: bytes = ET.tostring(root, encoding="utf-8", xml_declaration=True)
    return made


def _summed(sheet: Sheet) -> Sums:
    """The sums of a sheet; they are those that were issued, or the sheet cannot be written this way."""
    lines = [_part(sheet, row) for row in sheet.lines if row.cents >= 0]
    off = [Part(-row.cents, *_category(sheet, row)) for row in sheet.lines if row.cents < 0]
    prepaid = sum(cents for _, cents in sheet.deposit_rows) if isinstance(sheet, InvoiceSheet) else 0
    told, issued = sums(lines, off, prepaid=prepaid), sheet.totals
    apart = abs(told.tax - issued.tax_cents)
    if told.net != issued.net_cents or apart > (len(sheet.lines) if issued.tax_by == "line" else _by_hand(sheet)):
        raise InTheWay("The lines of this bill do not add up to what was issued, so no program could check it.")
    if apart:
        only = tuple(
            Subtotal(one.category, one.percent, one.base, issued.tax_cents) if one.category == "S" else one
            for one in told.subtotals
        )
        due = issued.total_cents - prepaid
        told = Sums(*(told.lines, told.allowances, told.charges, told.net), issued.tax_cents, issued.total_cents,
                    prepaid, due, only)  # fmt: skip
    return told


def _by_hand(sheet: Sheet) -> int:
    """A credit note takes the last cent of its invoice's tax, whatever its own comes to."""
    return 1 if isinstance(sheet, CreditSheet) else 0


def _category(sheet: Sheet, row: LineRow) -> tuple[str, str]:
    percent = sheet.totals.tax_percent
    if percent != "0":
        return ("S", percent) if row.taxable else ("E", "0")
    exempt = isinstance(sheet, InvoiceSheet) and sheet.exempt_reason
    return ("E" if exempt else "O", "0")


def _part(sheet: Sheet, row: LineRow) -> Part:
    return Part(row.cents, *_category(sheet, row))


def _currency(head: Letterhead) -> str:
    """The shop's money by its three letters (ISO 4217)."""
    sign = head.currency.strip()
    code = sign if re.fullmatch("[A-Z]{3}", sign) else SIGNS.get(sign) or DOLLARS.get(head.country, "")
    if not code or (sign not in SIGNS and sign != code and sign != "$"):
        raise InTheWay("Write the currency in the shop book by its three letters, such as USD.")
    return code


def _head(root: ET.Element, sheet: Sheet, currency: str) -> None:
    _text(root, "CustomizationID", CUSTOMIZATION)
    _text(root, "ID", str(sheet.number))
    _text(root, "IssueDate", sheet.issued_on)
    if isinstance(sheet, InvoiceSheet):
        _text(root, "DueDate", sheet.due_on)
        _text(root, "InvoiceTypeCode", "380")
    else:
        _text(root, "CreditNoteTypeCode", "381")
    _text(root, "Note", f"Job {sheet.job_no}: {sheet.title}")
    _text(root, "DocumentCurrencyCode", currency)
    if isinstance(sheet, InvoiceSheet) and sheet.order_number:
        _text(_group(root, "OrderReference"), "ID", sheet.order_number)
    if isinstance(sheet, CreditSheet):
        first = _group(_group(root, "BillingReference"), "InvoiceDocumentReference")
        _text(first, "ID", str(sheet.invoice_number))


def _parties(root: ET.Element, sheet: Sheet, told: Sums) -> None:
    head, party = sheet.letterhead, sheet.party
    outside = any(one.category == "O" for one in told.subtotals)
    seller = _group(_group(root, "AccountingSupplierParty"), "Party")
    _address(seller, head.address, head.place, head.country or "US")
    if not outside:
        _tax_number(seller, head.tax_id, head.country)
    legal = _group(seller, "PartyLegalEntity")
    _text(legal, "RegistrationName", head.shop)
    _text(legal, "CompanyID", head.tax_id)
    _contact(seller, head.owner, head.phone, head.email)
    buyer = _group(_group(root, "AccountingCustomerParty"), "Party")
    _address(buyer, party.address, "", party.country or head.country or "US")
    if party.tax_id and not outside and _is_vat(party.tax_id):
        _tax_number(buyer, party.tax_id, party.tax_id[:2])
    _text(_group(buyer, "PartyLegalEntity"), "RegistrationName", party.name)
    _contact(buyer, party.contact, party.phone, party.email)


def _address(party: ET.Element, address: str, place: str, country: str) -> None:
    made, lines = _group(party, "PostalAddress"), [line.strip() for line in address.splitlines() if line.strip()]
    for tag, line in zip(("StreetName", "AdditionalStreetName"), lines, strict=False):
        _text(made, tag, line)
    if place.strip():
        _text(made, "CityName", place)
    if lines[2:]:
        _text(_group(made, "AddressLine"), "Line", ", ".join(lines[2:]))
    _text(_group(made, "Country"), "IdentificationCode", country)


def _is_vat(number: str) -> bool:
    """Whether it begins with the letters of a country (BR-CO-09), as a VAT number does and other tax numbers do not."""
    return bool(re.match(r"[A-Z]{2}\d", number.replace(" ", "")))


def _tax_number(party: ET.Element, number: str, country: str) -> None:
    vat = _is_vat(number) and number[:2] in (country, "EL" if country == "GR" else country)
    made = _group(party, "PartyTaxScheme")
    _text(made, "CompanyID", number)
    _text(_group(made, "TaxScheme"), "ID", "VAT" if vat else "TAX")


def _contact(party: ET.Element, name: str, phone: str, email: str) -> None:
    if not (name or phone or email):
        return
    made = _group(party, "Contact")
    for tag, text in (("Name", name), ("Telephone", phone), ("ElectronicMail", email)):
        if text.strip():
            _text(made, tag, text)


def _terms(root: ET.Element, sheet: Sheet) -> None:
    words = sheet.terms if isinstance(sheet, InvoiceSheet) else f"taken off what invoice {sheet.invoice_number} asks"
    _text(_group(root, "PaymentTerms"), "Note", words or f"due {getattr(sheet, 'due_on', '')}")


def _allowance(root: ET.Element, row: LineRow, part: Part, currency: str) -> None:
    """A line below zero: the standard has no such lines, and calls it an allowance."""
    made = _group(root, "AllowanceCharge")
    _text(made, "ChargeIndicator", "false")
    _text(made, "AllowanceChargeReason", row.text)
    _money(made, "Amount", -row.cents, currency)
    _tax_category(made, "TaxCategory", part)


def _totals(root: ET.Element, sheet: Sheet, told: Sums, currency: str) -> None:
    tax = _group(root, "TaxTotal")
    _money(tax, "TaxAmount", told.tax, currency)
    reason = sheet.exempt_reason if isinstance(sheet, InvoiceSheet) else ""
    for one in told.subtotals:
        made = _group(tax, "TaxSubtotal")
        _money(made, "TaxableAmount", one.base, currency)
        _money(made, "TaxAmount", one.tax, currency)
        why = {"E": reason or "not taxed", "O": "outside the scope of tax"}.get(one.category, "")
        _tax_category(made, "TaxCategory", Part(0, one.category, one.percent), why)
    sum_of = _group(root, "LegalMonetaryTotal")
    _money(sum_of, "LineExtensionAmount", told.lines, currency)
    _money(sum_of, "TaxExclusiveAmount", told.net, currency)
    _money(sum_of, "TaxInclusiveAmount", told.total, currency)
    if told.allowances:
        _money(sum_of, "AllowanceTotalAmount", told.allowances, currency)
    if told.prepaid:
        _money(sum_of, "PrepaidAmount", told.prepaid, currency)
    _money(sum_of, "PayableAmount", told.due, currency)


def _line(root: ET.Element, word: str, number: int, row: LineRow, part: Part, currency: str) -> None:
    made = _group(root, f"{word}Line")
    _text(made, "ID", str(number))
    count, unit, price = _counted(row)
    _text(made, "InvoicedQuantity" if word == "Invoice" else "CreditedQuantity", count, unitCode=UNITS[unit])
    _money(made, "LineExtensionAmount", row.cents, currency)
    item = _group(made, "Item")
    _text(item, "Name", row.text)
    _tax_category(item, "ClassifiedTaxCategory", part)
    priced = _group(made, "Price")
    _money(priced, "PriceAmount", price, currency)
    if unit == "min":
        _text(priced, "BaseQuantity", "60", unitCode=UNITS[unit])


def _counted(row: LineRow) -> tuple[str, str, int]:
    """Count, unit and price of one (or of an hour); one at the whole amount where no decimal is exact."""
    if row.unit in UNITS and row.unit_cents is not None and row.count:
        count = Fraction(row.count)
        decimal = f"{float(count):.6f}".rstrip("0").rstrip(".")
        if Fraction(decimal) == count:
            return decimal, row.unit, row.unit_cents
    return "1", "each", row.cents


def _tax_category(parent: ET.Element, tag: str, part: Part, why: str = "") -> None:
    made = _group(parent, tag)
    _text(made, "ID", part.category)
    if part.category != "O":
        exact = Fraction(part.percent)
        _text(made, "Percent", f"{float(exact):.4f}".rstrip("0").rstrip("."))
    if why:
        _text(made, "TaxExemptionReason", why)
    _text(_group(made, "TaxScheme"), "ID", "VAT")


def _group(parent: ET.Element, tag: str) -> ET.Element:
    return ET.SubElement(parent, f"{{{_CAC}}}{tag}")


def _text(parent: ET.Element, tag: str, text: str, **marks: str) -> None:
    """A value; what XML cannot hold is left out."""
    made = ET.SubElement(parent, f"{{{_CBC}}}{tag}", marks)
    made.text = re.sub(r"[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]", "", text).strip() or "-"


def _money(parent: ET.Element, tag: str, cents: int, currency: str) -> None:
    _text(parent, tag, money.show(cents, "").replace(",", ""), currencyID=currency)
