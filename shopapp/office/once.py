"""A form sent twice is taken in once: its key is kept in the same transaction as what it did."""

from datetime import datetime

from sqlmodel import Session

from shopapp.office.errors import TakenIn
from shopapp.office.tables.history import Once


def led_to(db: Session, form_key: str, *, content: str = "") -> str | None:
    """Where the first sending of this form led, or None if it was never taken in.

    Refused where the form was taken in with other content: what the person means by the second is theirs to say.
    """
    row = db.get(Once, form_key)
    if row is None:
        return None
    if row.content != content:
        raise TakenIn(at=row.at, leads_to=row.leads_to)
    return row.leads_to


def keep(db: Session, form_key: str, *, content: str = "", leads_to: str, now: datetime) -> None:
    """Remember the form's key and what it held; a second row with the same key is refused by the table."""
    db.add(Once(form_key=form_key, content=content, leads_to=leads_to, at=now))
    db.flush()
