"""Papers by mail: whether the shop has a mail server, what a letter says, the letter that goes with a form's act."""

from __future__ import annotations

from typing import Any

from shopapp.office import customers, jobs, mail, papers
from shopapp.office.database import Session
from shopapp.office.errors import TryAgain
from shopapp.office.sheets.ready import ReadySheet
from shopapp.office.tracks import FATES
from shopapp.web.desk import Desk
from shopapp.web.forms import Form

NAMES = {
    "quote": "Quote", "ready": "Ready notice", "letter": "Letter", "invoice": "Invoice", "credit": "Credit note",
    "statement": "Statement", "reminder": "Reminder", "deposit": "Receipt", "receipt": "Receipt",
    "hand_over": "Hand-over receipt", "question": "Question", "spoiled": "Record of a spoiled piece",
}  # fmt: skip
"""The kinds of paper that are sent by mail, as a letter's subject calls them."""

NOT_READY = {FATES["spoiled"]: "Not ready", FATES["sent_back"]: "To be fetched"}
"""What a message says of pieces that wait on the shelf and are no finished work."""


def is_set(desk: Desk) -> bool:
    """Whether the shop has a mail server: only then anything about mail is offered."""
    return getattr(desk.request.app.state, "postman", None) is not None


def offered(desk: Desk, customer_id: int) -> dict[str, Any]:
    """What a form needs to offer its paper by mail: whether, and the customer's address."""
    return {"mail_set": is_set(desk), "mail_to": customers.one(desk.db, customer_id).email}


def subject(desk: Desk, kind: str, number: str) -> str:
    """A letter's subject: what it is, and from whom."""
    return f"{NAMES[kind]} {number} from {desk.shop.name}"


def body(desk: Desk, sheet: Any) -> str:
    """What a letter says around its paper; of a ready notice, the message itself."""
    shop, party = desk.shop, sheet.party
    told = ready_text(sheet) if isinstance(sheet, ReadySheet) else "The paper is enclosed."
    line = ", ".join(part for part in (shop.name, shop.phone) if part)
    return f"Good day {party.contact or party.name},\n\n{told}\n\n{line}"


def ready_text(sheet: ReadySheet) -> str:
    """The ready card as a short message: what is ready, what is not, what to pay, when the door is open."""
    other = [piece for piece in sheet.pieces if piece.state_words in NOT_READY]
    ready = [f"{piece.number} {piece.name}" for piece in sheet.pieces if piece not in other]
    about = f"Job {sheet.job_no}, {sheet.title}"
    lines = [f"{about}: ready {'is' if len(ready) == 1 else 'are'} {'; '.join(ready)}"] if ready else [about]
    lines += [f"{NOT_READY[piece.state_words]}: {piece.number} {piece.name}, {piece.state_words}" for piece in other]
    lines += [text for text in (sheet.total_text, f"Open {sheet.hours}" if sheet.hours else "", sheet.words) if text]
    return "\n".join(line if line.endswith((".", "!", "?")) else f"{line}." for line in lines)


def with_it(db: Session, desk: Desk, form: Form, *, kind: str, number: str, by: int) -> None:
    """Put a paper that was just issued into the outbox too, where the form's tick asks for it: both or neither."""
    if form.ticked("by_mail"):
        sheet, _ = papers.sheet(db, kind, number)
        put(db, desk, kind=kind, number=number, to=form["mail_to"], about=subject(desk, kind, number),
            words=body(desk, sheet), by=by, to_field="mail_to")  # fmt: skip


def put(
    db: Session, desk: Desk, *, kind: str, number: str, to: str, about: str, words: str, by: int, to_field: str = "to"
) -> int:
    """Put an issued paper into the outbox; what wants mending is told by the name of the form's own field."""
    if not is_set(desk):
        raise TryAgain({"by_mail": "This shop has no mail server yet. Print the paper, or have one set up."})
    try:
        return mail.post(db, kind=kind, number=number, to=to, subject=about, body=words, now=desk.now, by=by)
    except TryAgain as refusal:
        problems = {to_field if name == "to" else name: text for name, text in refusal.problems.items()}
        raise TryAgain(problems) from refusal


def addressee(desk: Desk, sheet: Any) -> str:
    """The mail address to offer: today's of the customer where the paper names a job, else the paper's own."""
    job_no = getattr(sheet, "job_no", "") or next(iter(getattr(sheet, "job_numbers", ())), "")
    if str(job_no).isdecimal():
        return customers.one(desk.db, jobs.by_no(desk.db, int(job_no)).customer_id).email
    return str(sheet.party.email)
