"""The owner's own words for papers, dated; a paper keeps the words it was issued with."""

from dataclasses import dataclass
from datetime import date, datetime

from sqlmodel import Session, select

from shopapp.office import history
from shopapp.office.errors import TryAgain
from shopapp.office.tables.shopbook import Phrase

WRITE_YOUR_OWN = "write your own:"
SHIPPED = {
    "storage": f"{WRITE_YOUR_OWN} how long pieces wait here, and what it costs. Ask someone who knows your law.",
    "workmanship": f"{WRITE_YOUR_OWN} what you put right free, and for how long. Ask someone who knows your law.",
    "terms": f"{WRITE_YOUR_OWN} how and when you are paid.",
    "quote": f"{WRITE_YOUR_OWN} what stands under every quote.",
    "ready": f"{WRITE_YOUR_OWN} what stands on every ready card.",
    "reminder": f"{WRITE_YOUR_OWN} how you ask for what is past due.",
    "invoice": f"{WRITE_YOUR_OWN} what stands under every bill.",
    "hand_over": f"{WRITE_YOUR_OWN} what the customer signs for when pieces leave.",
}
"""What a new book has for each subject: a place to fill, never advice, and never printed."""

MOST_LETTERS = 2000


@dataclass(frozen=True)
class PhraseFacts:
    """Words on a subject, from a day on."""

    subject: str
    words: str
    valid_from: date
    superseded: bool = False


def keep(db: Session, *, subject: str, words: str, valid_from: date, now: datetime, by: int) -> None:
    """A dated row: what papers say on a subject from a day on. No words: from then on they say nothing.

    A newer row of the same day puts an older one right.
    """
    problems = {} if subject in SHIPPED else {"subject": f"There are words on {', '.join(SHIPPED)}."}
    if len(words) > MOST_LETTERS:
        problems["words"] = f"{MOST_LETTERS} letters are the most; a paper has other things to say too."
    if is_placeholder(words):
        problems["words"] = "Write your own words here, or leave the field empty to print nothing."
    if problems:
        raise TryAgain(problems)
    db.add(Phrase(subject=subject, words=words.strip(), valid_from=valid_from))
    db.flush()
    said = words.strip() or "nothing"
    history.write(db, now=now, by=by, act="phrase", words=f"{subject} from {valid_from}: {said}")


def is_placeholder(words: str) -> bool:
    """Whether these are not the owner's words yet."""
    return words.strip().lower().startswith(WRITE_YOUR_OWN)


def on(db: Session, subject: str, day: date) -> str:
    """The words on a subject on a day; where the owner has written none, the place to write them."""
    newest = (
        select(Phrase.words)
        .where(Phrase.subject == subject, Phrase.valid_from <= day)
        .order_by(Phrase.valid_from.desc(), Phrase.id.desc())
    )
    words = db.exec(newest).first()
    return SHIPPED[subject] if words is None else words


def printed(db: Session, day: date, *subjects: str) -> tuple[str, ...]:
    """What a paper of a day says on some subjects; a subject that waits for the owner's words is left out."""
    found = (on(db, subject, day) for subject in subjects)
    return tuple(words for words in found if words and not is_placeholder(words))


def every(db: Session, day: date) -> list[PhraseFacts]:
    """Every dated row, and for a subject without one the place to write it; by subject, newest first.

    Those that were put right stand behind what puts them right.
    """
    found = select(Phrase.subject, Phrase.words, Phrase.valid_from).order_by(
        Phrase.subject, Phrase.valid_from.desc(), Phrase.id.desc()
    )
    rows: list[PhraseFacts] = []
    for subject, words, begins in db.exec(found):
        again = bool(rows) and (rows[-1].subject, rows[-1].valid_from) == (subject, begins)
        rows.append(PhraseFacts(subject, words, begins, superseded=again))
    written = {row.subject for row in rows}
    return rows + [PhraseFacts(subject, words, day) for subject, words in SHIPPED.items() if subject not in written]
