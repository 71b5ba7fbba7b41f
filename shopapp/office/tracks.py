"""Work, custody and money are three tracks; the word for a job is worked out from them and never stored.

Custody says where a piece is. What was decided about it is another fact, its fate: spoiled, sent back uncut, did not
come. A piece that goes another way than planned lies on the pick-up shelf until somebody takes it home.
"""

from dataclasses import dataclass
from datetime import date

CUSTODY = {
    "expected": "expected",
    "rack": "in the rack",
    "chuck": "in the chuck",
    "checked": "checked",
    "shelf": "on the pick-up shelf",
    "gone": "gone home",
}
"""Where a piece is, in words."""

FATES = {"spoiled": "spoiled", "sent_back": "sent back uncut", "not_come": "did not come", "again": "done again"}
"""What was decided about a piece, in words; the thing of one that is done again goes on under another number."""

STATES = {
    **CUSTODY,
    **{code: FATES[code] for code in ("spoiled", "sent_back", "not_come")},
    "left_behind": "left behind",
}
"""Every state that a piece is shown in; one is left behind when it has lain on the pick-up shelf too long."""

MOVES = {
    "expected": (),
    "rack": ("chuck",),
    "chuck": ("checked", "rack"),
    "checked": ("shelf", "chuck"),
    "shelf": ("checked",),
    "gone": (),
}
"""Where a piece can be moved from where it is. It arrives by being taken in, and leaves by being handed over."""

FINAL = frozenset({"checked", "shelf", "gone"})
AWAY = frozenset({"gone"})
HERE = frozenset({"rack", "chuck", "checked", "shelf"})

ENDED = {"not_taken_up": "not taken up", "called_off": "called off"}
WAITS_FOR = {"customer": "the customer", "material": "material"}


@dataclass(frozen=True)
class PieceAt:
    """Where one piece is, since which day, and what was decided about it."""

    custody: str
    since: date
    fate: str | None = None


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


def state(custody: str, fate: str | None) -> str:
    """The code of the state that a piece is shown in. What goes back uncut is on the shelf until it is taken home."""
    if fate in ("spoiled", "not_come") or (fate == "sent_back" and custody == "gone"):
        return fate
    return custody


def said(custody: str, fate: str | None) -> str:
    """The state in words, with where a spoiled piece is and what becomes of one on the shelf."""
    if fate == "spoiled":
        return f"spoiled, {CUSTODY[custody]}"
    if fate == "sent_back" and custody == "shelf":
        return f"{CUSTODY[custody]}, goes back uncut"
    return FATES[fate] if fate else CUSTODY[custody]


def state_of(piece: PieceAt, today: date, left_behind_days: int = 30) -> str:
    """The code of a piece's state, 'left_behind' included."""
    code = state(piece.custody, piece.fate)
    return "left_behind" if code == "shelf" and _lies_too_long(piece, today, left_behind_days) else code


def _lies_too_long(piece: PieceAt, today: date, left_behind_days: int) -> bool:
    return piece.custody == "shelf" and (today - piece.since).days > left_behind_days


def _work(facts: Facts) -> str:
    at = {piece.custody for piece in facts.pieces if piece.fate != "not_come"}
    if facts.ended:
        return ENDED[facts.ended]
    if facts.stops:
        return f"stopped, waiting on {WAITS_FOR[facts.stops[0][0]]}"
    if facts.pieces and at <= AWAY:
        return "closed"
    if at and at <= FINAL:
        return "checked"
    at = {piece.custody for piece in facts.pieces if piece.fate not in ("not_come", "sent_back")}
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
    at = [piece.custody for piece in facts.pieces if piece.fate != "not_come"]
    settled = bool(at) and all(code in FINAL for code in at)
    behind = any(_lies_too_long(piece, facts.today, facts.left_behind_days) for piece in facts.pieces)
    if facts.ended:
        return ENDED[facts.ended], ""
    if facts.stops:
        waits_for, since = facts.stops[0]
        return f"stopped {_for_days((facts.today - since).days)}, waiting on {WAITS_FOR[waits_for]}", "stopped"
    if overdue:
        return "overdue", "overdue"
    if settled and behind:
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


def _for_days(days: int) -> str:
    return "today" if days < 1 else "1 day" if days == 1 else f"{days} days"
