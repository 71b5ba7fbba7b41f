"""Receipts: for a deposit that is held, for money that came in on bills, for money that was given back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Literal

from shopapp.office.sheets.letterhead import Letterhead, Party


@dataclass(frozen=True)
class DepositSheet:
    """Money that no bill has used: no invoice, no tax. `held_as` says whether it is held for a bill to come, or is the
    customer's credit; `of_text` says of which total a deposit is a part, `left_text` what is left then."""

    letterhead: Letterhead
    party: Party
    number: str
    job_no: str
    title: str
    issued_on: str
    received_on: str
    drawn_by: str
    cents: int
    amount: str
    how: str
    reference: str = ""
    of_text: str = ""
    left_text: str = ""
    phrases: tuple[str, ...] = ()
    not_done: tuple[str, ...] = ()
    held_as: Literal["deposit", "credit"] = "deposit"

    kind: ClassVar[str] = "deposit"


@dataclass(frozen=True)
class ReceiptSheet:
    """Money that came in. `rows` are pairs of the bill in words and the cents of the payment that went to it;
    `held_cents` is what no bill has used, `given_back_cents` what went back to the customer, `due_text` what those
    bills still ask. With `is_out` it is the other way: money that was held and is given back, for this `reason`."""

    letterhead: Letterhead
    party: Party
    number: str
    job_no: str
    title: str
    issued_on: str
    received_on: str
    drawn_by: str
    cents: int
    amount: str
    how: str
    reference: str = ""
    rows: tuple[tuple[str, int], ...] = ()
    held_cents: int = 0
    due_text: str = ""
    phrases: tuple[str, ...] = ()
    not_done: tuple[str, ...] = ()
    given_back_cents: int = 0
    is_out: bool = False
    reason: str = ""

    kind: ClassVar[str] = "receipt"
