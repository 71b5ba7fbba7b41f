"""Issued papers as PDF, by their kind and number."""

from collections.abc import Callable
from typing import Any

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import papers
from shopapp.office.errors import NotHere
from shopapp.papers.credit import credit_pdf
from shopapp.papers.deposit import deposit_pdf
from shopapp.papers.hand_over import hand_over_pdf
from shopapp.papers.invoice import invoice_pdf
from shopapp.papers.label import label_pdf
from shopapp.papers.letter import letter_pdf
from shopapp.papers.question import question_pdf
from shopapp.papers.quote import quote_pdf
from shopapp.papers.ready import ready_pdf
from shopapp.papers.receipt import receipt_pdf
from shopapp.papers.reminder import reminder_pdf
from shopapp.papers.spoiled import spoiled_pdf
from shopapp.papers.statement import statement_pdf
from shopapp.papers.stub import stub_pdf
from shopapp.papers.tags import tags_pdf
from shopapp.papers.ticket import ticket_pdf
from shopapp.web.desk import At
from shopapp.web.printing import printed

router = APIRouter()
PRESSES: dict[str, tuple[str, Callable[[Any], bytes]]] = {
    "quote": ("Quote", quote_pdf),
    "ready": ("Ready", ready_pdf),
    "invoice": ("Invoice", invoice_pdf),
    "credit": ("Credit note", credit_pdf),
    "stub": ("Stub", stub_pdf),
    "tags": ("Tags", tags_pdf),
    "ticket": ("Job ticket", ticket_pdf),
    "label": ("Shelf label", label_pdf),
    "spoiled": ("Spoiled piece", spoiled_pdf),
    "deposit": ("Deposit receipt", deposit_pdf),
    "receipt": ("Receipt", receipt_pdf),
    "question": ("Question", question_pdf),
    "letter": ("Ready letter", letter_pdf),
    "hand_over": ("Hand-over", hand_over_pdf),
    "statement": ("Statement", statement_pdf),
    "reminder": ("Reminder", reminder_pdf),
}


@router.get("/papers/{kind}/{number}.pdf", name="papers.pdf")
def pdf(desk: At, kind: str, number: str) -> Response:
    """The paper as it is handed out, shown in the browser; the browser may keep it and asks whether it is the same."""
    if kind not in PRESSES:
        raise NotHere(f"There is no paper of that kind. Printed are: {', '.join(PRESSES)}.")
    sheet, digest = papers.served(desk.db, kind, number)
    name, press = PRESSES[kind]
    whom = sheet.party.name if hasattr(sheet, "party") else ""
    return printed(desk, f"{name} {number}", whom, digest, lambda: press(sheet))
