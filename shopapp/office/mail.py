"""Letters by mail: rows of the outbox, written with the act that they tell of; they name the paper, not its bytes.

A row is claimed before it is sent, so that no two senders take it and nobody calls back what is on its way, and it has
one Message-ID for all its tries: should the machine fail between sending and writing that down, the receiver's server
sees the same letter again, not a second.
"""

import hashlib
import re
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlmodel import Session, select, update

from shopapp.office import history, shopbook
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.tables.invoices import Invoice
from shopapp.office.tables.papers import Paper, Posted

WAITS = (timedelta(minutes=1), timedelta(minutes=5), timedelta(minutes=30), timedelta(hours=2), timedelta(hours=12))
"""How long a letter waits after each try that failed; after one more it is stuck."""
CLAIMED = timedelta(minutes=10)
"""How long a claimed letter is left to its sender before another may take it."""
STATES = {
    "waiting": "waits to be sent",
    "sending": "is being sent",
    "sent": "sent",
    "stuck": "stuck",
    "called_back": "called back",
}
ADDRESS = re.compile(r"[^\s@<>,;:\"()\[\]\\]+@[^\s@<>,;:\"()\[\]\\]+\.[^\s@<>,;:\"()\[\]\\.]+")
MOST_LETTERS = 254


@dataclass(frozen=True)
class Letter:
    """A letter in the outbox."""

    id: int
    job_id: int | None
    customer_id: int | None
    kind: str
    number: str
    sha256: str
    to_address: str
    subject: str
    body: str
    message_id: str
    state: str
    tries: int
    next_at: datetime
    sent_at: datetime | None
    fault: str
    at: datetime

    @property
    def said(self) -> str:
        """How it stands, in words."""
        tried = f", {self.tries} tries" if self.tries > 1 and self.state != "sent" else ""
        return STATES[self.state] + tried


def address(text: str) -> str:
    """A mail address as typed, looked at; refused where it is none."""
    said = text.strip()
    if len(said) > MOST_LETTERS or not said.isascii() or not ADDRESS.fullmatch(said):
        raise TryAgain({"to": "Write one mail address, such as office@example.com."})
    return said


def post(
    db: Session, *, kind: str, number: str, to: str, subject: str, body: str = "", now: datetime, by: int
) -> int:  # fmt: skip
    """Put an issued paper into the outbox, to one address; gives the row's id."""
    paper = db.exec(
        select(Paper).where(Paper.kind == kind, Paper.number == number).order_by(Paper.id.desc())
    ).first()  # fmt: skip
    if paper is None:
        raise NotHere(f"No {kind} {number} was issued.")
    if kind == "invoice" and db.exec(select(Invoice.void_on).where(Invoice.paper_id == paper.id)).first():
        raise InTheWay(f"Invoice {number} is void, so it is not sent.")
    where = address(to)
    if not subject.strip() or "\n" in subject.strip() or "\r" in subject.strip():
        raise TryAgain({"subject": "Write one line that says what this letter is."})
    same = select(Posted.id).where(
        Posted.paper_id == paper.id, Posted.to_address == where, Posted.state.in_(("waiting", "sending"))
    )  # fmt: skip
    if db.exec(same).first():
        raise InTheWay(f"That paper waits to be sent to {where} already.")
    row = Posted(
        paper_id=paper.id, to_address=where, subject=subject.strip(), body=body.strip(),
        message_id=_message_id(db, paper, where, now), next_at=now, by_id=by, at=now,
    )  # fmt: skip
    db.add(row)
    db.flush()
    words = f"{kind.replace('_', '-')} {number} put in the mail to {where}"
    history.write(
        db, now=now, by=by, act="mail", words=words, job_id=paper.job_id, customer_id=paper.customer_id
    )  # fmt: skip
    return row.id


def due(db: Session, *, now: datetime, most: int = 20) -> list[Letter]:
    """Letters whose time has come, those that waited longest first; one whose sender was never heard of again too."""
    return _letters(db, Posted.state.in_(("waiting", "sending")) & (Posted.next_at <= now), most)


def claim(db: Session, *, letter_id: int, now: datetime) -> bool:
    """Take a letter for sending; False where another sender was faster, or it was called back."""
    taken = db.exec(
        update(Posted)
        .where(Posted.id == letter_id, Posted.state.in_(("waiting", "sending")), Posted.next_at <= now)
        .values(state="sending", next_at=now + CLAIMED, tries=Posted.tries + 1)
    )
    return taken.rowcount == 1


def sent(db: Session, *, letter_id: int, now: datetime) -> None:
    """A claimed letter was taken by the mail server."""
    row = _row(db, letter_id)
    row.state, row.sent_at, row.fault = "sent", now, ""
    _say(db, row, "mailed", f"sent to {row.to_address}: {row.subject}", now)


def failed(db: Session, *, letter_id: int, fault: str, now: datetime, for_good: bool = False) -> None:
    """A claimed letter was not taken: it waits longer after each try, and then it is stuck and shown.

    `for_good`: the server said that no further try can help, such as an address that it does not know.
    """
    row = _row(db, letter_id)
    if row.state not in ("waiting", "sending"):
        return
    row.fault = fault.strip()[:500]
    if for_good or row.tries > len(WAITS):
        row.state = "stuck"
        _say(db, row, "mail", f"stuck on its way to {row.to_address}: {row.fault}", now)
        return
    row.state, row.next_at = "waiting", now + WAITS[max(row.tries, 1) - 1]
    db.add(row)
    db.flush()


def again(db: Session, *, letter_id: int, to: str = "", now: datetime, by: int) -> None:
    """A stuck letter is tried anew from the beginning, to another address where one is told."""
    row = _row(db, letter_id)
    if row.state != "stuck":
        raise InTheWay(f"That letter is not stuck: it {STATES[row.state]}.")
    row.to_address = address(to) if to.strip() else row.to_address
    row.state, row.tries, row.next_at, row.fault = "waiting", 0, now, ""
    _say(db, row, "mail", f"tried again to {row.to_address}", now, by)


def call_back(db: Session, *, letter_id: int, now: datetime, by: int) -> None:
    """A letter that was not sent yet is called back; one that is being sent is out of reach."""
    row = _row(db, letter_id)
    if row.state == "sending" and row.next_at > now:
        raise InTheWay("That letter is being sent this moment. Look again in a minute whether it went out.")
    if row.state not in ("waiting", "sending", "stuck"):
        raise InTheWay("That letter has gone out, or it was called back already.")
    row.state = "called_back"
    _say(db, row, "mail", f"called back, to {row.to_address}: {row.subject}", now, by)


def call_back_paper(db: Session, *, kind: str, number: str, now: datetime, by: int) -> None:
    """A paper is not to be sent any more: its letters that wait or are stuck are called back. One that is being sent
    this moment goes out, and the day book says so."""
    rows = db.exec(
        select(Posted)
        .join(Paper, Paper.id == Posted.paper_id)
        .where(Paper.kind == kind, Paper.number == number, Posted.state.in_(("waiting", "sending", "stuck")))
        .order_by(Posted.id)
    ).all()
    for row in rows:
        if row.state == "sending" and row.next_at > now:
            _say(db, row, "mail", f"too late to call back, on its way to {row.to_address}: {row.subject}", now, by)
        else:
            call_back(db, letter_id=row.id, now=now, by=by)


def stuck(db: Session) -> list[Letter]:
    """Letters that no try could send; they stay visible until somebody acts."""
    return _letters(db, Posted.state == "stuck", 200)


def newest(db: Session, *, most: int = 100) -> list[Letter]:
    """The newest letters of the outbox, however they stand; those that wait or are stuck before all others."""
    open_ones = _letters(db, Posted.state.in_(("waiting", "sending", "stuck")), most)
    rest = _letters(db, Posted.state.in_(("sent", "called_back")), most, newest_first=True)
    return [*sorted(open_ones, key=lambda letter: (letter.state != "stuck", -letter.id)), *rest]


def of_job(db: Session, job_id: int) -> list[Letter]:
    """Every letter about a job, newest first."""
    return sorted(_letters(db, Paper.job_id == job_id, 200), key=lambda letter: -letter.id)


def of_customer(db: Session, customer_id: int) -> list[Letter]:
    """The letters of a customer that belong to no one job, newest first."""
    return sorted(_letters(db, Paper.customer_id == customer_id, 200), key=lambda letter: -letter.id)


def one(db: Session, letter_id: int) -> Letter:
    """A letter of the outbox."""
    found = _letters(db, Posted.id == letter_id, 1)
    if not found:
        raise NotHere("That letter is not in the outbox.")
    return found[0]


def _letters(db: Session, where: object, most: int, *, newest_first: bool = False) -> list[Letter]:
    order = (Posted.id.desc(),) if newest_first else (Posted.next_at, Posted.id)
    rows = db.exec(
        select(
            Posted.id, Paper.job_id, Paper.customer_id, Paper.kind, Paper.number, Paper.sha256, Posted.to_address,
            Posted.subject, Posted.body, Posted.message_id, Posted.state, Posted.tries, Posted.next_at,
            Posted.sent_at, Posted.fault, Posted.at,
        )
        .join(Paper, Paper.id == Posted.paper_id)
        .where(where)
        .order_by(*order)
        .limit(most)
    )  # fmt: skip
    return [Letter(*row) for row in rows]


def _row(db: Session, letter_id: int) -> Posted:
    row = db.get(Posted, letter_id, populate_existing=True)
    if row is None:
        raise NotHere("That letter is not in the outbox.")
    return row


def _say(db: Session, row: Posted, act: str, words: str, now: datetime, by: int | None = None) -> None:
    """Keep a row and write its line; what the sender does is signed by who put the letter in the mail."""
    db.add(row)
    db.flush()
    paper = db.get_one(Paper, row.paper_id)
    history.write(
        db, now=now, by=by or row.by_id, act=act, words=words, job_id=paper.job_id, customer_id=paper.customer_id
    )  # fmt: skip


def _message_id(db: Session, paper: Paper, where: str, now: datetime) -> str:
    """An id of its own for each letter, of the shop's mail domain where it has one."""
    before = len(db.exec(select(Posted.id).where(Posted.paper_id == paper.id)).all())
    told = f"{paper.id} {paper.sha256} {where} {before} {now.isoformat()}"
    domain = shopbook.the_shop(db).email.rpartition("@")[2].strip() or "shop.invalid"
    return f"<{hashlib.sha256(told.encode()).hexdigest()[:40]}@{domain}>"
