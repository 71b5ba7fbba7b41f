"""A form sent twice is taken in once: its key is kept in the same transaction as what it did."""

from datetime import datetime

from sqlmodel import Session

from shopapp.office.tables.history import Once


def led_to(db: Session, form_key: str) -> str | None:
    """Where the first sending of this form led, or None if it was never taken in."""
    row = db.get(Once, form_key)
    return row.leads_to if row else None


def keep(db: Session, form_key: str, *, leads_to: str, now: datetime) -> None:
    """Remember the form's key; a second row with the same key is refused by the table."""
    db.add(Once(form_key=form_key, leads_to=leads_to, at=now))
    db.flush()
