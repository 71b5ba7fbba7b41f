"""Work, custody and money are three tracks; the word for a job is worked out from them and never stored."""

from dataclasses import dataclass
from datetime import date

CUSTODY = {
    "expected": "expected",
    "rack": "in the rack",
    "chuck": "in the chuck",
    "checked": "checked",
    "shelf": "on the pick-up shelf",
    "gone": "gone home",
    "spoiled": "spoiled",
    "sent_back": "sent back uncut",
    "left_behind": "left behind",
}
"""Where a piece is, in words; a piece is left behind when it has lain on the shelf too long."""

MOVES = {
    "expected": ("rack",),
    "rack": ("chuck", "sent_back"),
    "chuck": ("checked", "rack", "spoiled"),
    "checked": ("shelf", "chuck", "spoiled"),
    "shelf": ("gone", "checked"),
    "gone": (),
    "spoiled": (),
    "sent_back": (),
}
"""Where a piece can go from where it is."""

FINAL = frozenset({"checked", "shelf", "gone", "spoiled", "sent_back"})
AWAY = frozenset({"gone", "spoiled", "sent_back"})

ENDED = {"not_taken_up": "not taken up", "called_off": "called off"}
WAITS_FOR = {"customer": "the customer", "material": "material"}


@dataclass(frozen=True)
class PieceAt:
    """Where one piece is, and since which day."""

    custody: str
    since: date


@dataclass(frozen=True)
class Bill:
    """One invoice that is not void: what it asked [cents], what was taken back, paid, written off, when it is due."""

    total: int
    credited: int
    paid: int
    due_on: date
    written_off: int = 0

    @property
    def due(self) -> int:
        """What is still owed on it [cents]."""
        return self.total - self.credited - self.paid - self.written_off


@dataclass(frozen=True)
class Facts:
    """Everything the tracks of one job are worked out from."""

    today: date
    ended: str | None = None
    pieces: tuple[PieceAt, ...] = ()
    stops: tuple[tuple[str, date], ...] = ()
    quoted: bool = False
    quote_ran_out: bool = False
    agreed: bool = False
    bills: tuple[Bill, ...] = ()
    held_cents: int = 0
    left_behind_days: int = 30


@dataclass(frozen=True)
class Tracks:
    """The words for one job. `flag` is what the list marks: '', 'stopped', 'overdue' or 'left behind'."""

    work: str
    money: str
    overdue: bool
    headline: str
    flag: str
    due_cents: int


def tracks(facts: Facts) -> Tracks:
    """The three tracks and the headline of a job."""
    money, overdue = _money(facts)
    headline, flag = _headline(facts, overdue)
    due = sum(bill.due for bill in facts.bills)
    return Tracks(_work(facts), money, overdue, headline, flag, due)


def custody_of(piece: PieceAt, today: date, left_behind_days: int = 30) -> str:
    """The code of where a piece is, 'left_behind' included."""
    lies = (today - piece.since).days
    return "left_behind" if piece.custody == "shelf" and lies > left_behind_days else piece.custody


def _work(facts: Facts) -> str:
    at = {piece.custody for piece in facts.pieces}
    if facts.ended:
        return ENDED[facts.ended]
    if facts.stops:
        return f"stopped, waiting on {WAITS_FOR[facts.stops[0][0]]}"
    if at and at <= AWAY:
        return "closed"
    if at and at <= FINAL:
        return "checked"
    if at & (FINAL | {"chuck"}):
        return "at the bench"
    if facts.agreed:
        return "agreed, part not here yet" if at <= {"expected"} else "agreed, not started"
    return "quoted" if facts.quoted else "asked"


def _money(facts: Facts) -> tuple[str, bool]:
    if not facts.bills:
        return ("deposit in hand" if facts.held_cents else "nothing billed"), False
    total, credited, paid, written_off = (
        sum(getattr(bill, name) for bill in facts.bills) for name in ("total", "credited", "paid", "written_off")
    )
    overdue = any(bill.due > 0 and bill.due_on < facts.today for bill in facts.bills)
    if total - credited - paid - written_off <= 0:
        return ("written off" if written_off else "credited" if total and credited == total else "paid"), False
    return ("part paid" if paid else "billed"), overdue


def _headline(facts: Facts, overdue: bool) -> tuple[str, str]:
    at = [custody_of(piece, facts.today, facts.left_behind_days) for piece in facts.pieces]
    settled = bool(at) and all(code in FINAL or code == "left_behind" for code in at)
    if facts.ended:
        return ENDED[facts.ended], ""
    if facts.stops:
        waits_for, since = facts.stops[0]
        return f"stopped {(facts.today - since).days} days, waiting on {WAITS_FOR[waits_for]}", "stopped"
    if overdue:
        return "overdue", "overdue"
    if settled and "left_behind" in at:
        return "left behind", "left behind"
    if settled and "shelf" in at:
        return "ready, not fetched", ""
    if any(code == "gone" for code in at) and not all(code in AWAY for code in at):
        return "part gone", ""
    work = _work(facts)
    if work == "quoted" and facts.quote_ran_out:
        return "quote ran out", ""
    if work == "closed" and sum(bill.due for bill in facts.bills) > 0:
        return "gone and owing", ""
    return work, ""
