"""Canonical text of a sheet: the same sheet gives the same letters, and so the same hash."""

from __future__ import annotations

import hashlib
import json
from functools import cache
from typing import Any, TypeVar, get_args

from pydantic import TypeAdapter

from shopapp.office.sheets.blank import BlankSheet
from shopapp.office.sheets.credit import CreditSheet
from shopapp.office.sheets.handover import HandOverSheet
from shopapp.office.sheets.invoice import InvoiceSheet
from shopapp.office.sheets.label import LabelSheet
from shopapp.office.sheets.letter import LetterSheet
from shopapp.office.sheets.question import QuestionSheet
from shopapp.office.sheets.quote import QuoteSheet
from shopapp.office.sheets.ready import ReadySheet
from shopapp.office.sheets.receipt import DepositSheet, ReceiptSheet
from shopapp.office.sheets.removal import RemovalSheet
from shopapp.office.sheets.section import SectionSheet
from shopapp.office.sheets.spoiled import SpoiledSheet
from shopapp.office.sheets.statement import ReminderSheet, StatementSheet
from shopapp.office.sheets.stub import StubSheet
from shopapp.office.sheets.tags import TagsSheet
from shopapp.office.sheets.ticket import TicketSheet

Sheet = (
    QuoteSheet | ReadySheet | InvoiceSheet | CreditSheet | RemovalSheet | SectionSheet | HandOverSheet | LabelSheet
    | LetterSheet | QuestionSheet | DepositSheet | ReceiptSheet | SpoiledSheet | StatementSheet | ReminderSheet
    | StubSheet | TagsSheet | TicketSheet | BlankSheet
)  # fmt: skip

T = TypeVar("T", bound=Sheet)

KINDS: dict[str, type[Sheet]] = {sheet.kind: sheet for sheet in get_args(Sheet)}


def to_json(sheet: Sheet) -> str:
    """The sheet as JSON: keys sorted, no spaces, letters as they are. Raises ValueError for what a sheet cannot
    hold (a wrong type, a number that is not finite)."""
    reader = _adapter(sheet.kind)
    loose: str = reader.dump_json(sheet, warnings="error").decode()
    # A whole number given for a float field would be written "0" now and "0.0" after reading: read it once.
    plain = reader.dump_python(reader.validate_json(loose, strict=True), mode="json")
    return json.dumps(plain, ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False)


def from_json(kind: str, text: str) -> Sheet:
    """The sheet that was written by to_json; KeyError for an unknown kind, ValueError for text that is none."""
    sheet: Sheet = _adapter(kind).validate_json(text, strict=True)
    return sheet


def read(sheet: type[T], text: str) -> T:
    """The sheet of a known type that was written by to_json; ValueError for text that is none."""
    found: T = _adapter(sheet.kind).validate_json(text, strict=True)
    return found


def sha256(text: str) -> str:
    """The SHA-256 of the text in UTF-8, as hexadecimal digits."""
    return hashlib.sha256(text.encode()).hexdigest()


@cache
def _adapter(kind: str) -> TypeAdapter[Any]:
    return TypeAdapter(KINDS[kind])
