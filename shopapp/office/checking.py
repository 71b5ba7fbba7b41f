"""The gate after the last cut: what is still open before a piece counts as checked, and why it went on without."""

from sqlmodel import Session

from shopapp.office import finish
from shopapp.office.errors import TryAgain
from shopapp.office.finish import FinalCheck

NOT_ADDING_UP = "does not add up"


def still_open(check: FinalCheck) -> tuple[str, ...]:
    """What the final check of a piece still wants, in words; nothing once all is measured, shown and adds up."""
    weighed = check.by_plan
    last = check.by_measured if check.by_measured and check.by_measured.verdict else weighed
    found = list(check.missing)
    if weighed.before and weighed.after is None:
        found.append("it was not weighed out")
    if last.verdict == NOT_ADDING_UP:
        found.append(f"{last.removed_text} came off and that {NOT_ADDING_UP}")
    return tuple(found)


def passes(db: Session, *, piece_id: int, reason: str) -> str:
    """Refuse a piece that has something open unless a reason is given; gives the words that stay with it."""
    found = "; ".join(still_open(finish.check(db, piece_id)))
    if not found:
        return reason
    if not reason.strip():
        raise TryAgain(
            {"reason": f"Still open: {found}. Mend it, or write why the piece counts as checked all the same."}
        )
    return f"still open: {found}. {reason.strip()}"
