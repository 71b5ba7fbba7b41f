"""What is asked before a quote goes out: does the price sheet speak of all the pieces, and of the time of each."""

from sqlmodel import Session

from shopapp.office import jobs
from shopapp.office.errors import TryAgain
from shopapp.office.pricing import PricingTyped


def ask(db: Session, *, job_id: int, typed: PricingTyped, sure: bool = False) -> None:
    """Refuse a sheet whose count is not the job's until `sure`, and one that leaves the further pieces' time empty."""
    problems = further(typed)
    there, count = len(jobs.pieces(db, job_id)), _count(typed)
    if there and count and count != there and not sure:
        problems["count_sure"] = (
            f"The job has {there} {_pieces(there)}, and the sheet prices {count}. Put the count right, or tick that "
            f"the quote is for {count} on purpose; it says so then."
        )
    if problems:
        raise TryAgain(problems)


def further(typed: PricingTyped) -> dict[str, str]:
    """The settings that say nothing about each further piece where there are some; a typed 0 says that it is nothing.

    A price for each piece typed by hand stands in place of the time.
    """
    if _count(typed) < 2 or typed.agreed_each.strip():
        return {}
    return {
        f"setting_{i}_each": "How many minutes does each further piece take here? Write 0 if it is none."
        for i, row in enumerate(typed.settings)
        if row.first.strip() and not row.each.strip()
    }


def priced_for(typed: PricingTyped, there: int) -> str:
    """How many pieces a quote prices, as it is printed; of how many where the job has more or fewer."""
    count = _count(typed)
    return f"{count} {_pieces(count)}" + (f"; the job has {there}" if there and there != count else "")


def _count(typed: PricingTyped) -> int:
    text = typed.pieces.strip()
    return int(text) if text.isdecimal() and len(text) < 4 else 0


def _pieces(count: int) -> str:
    return "piece" if count == 1 else "pieces"
