"""The state in which a customer's property came in: what was looked at, what it is said to be worth, what came along.

Answers are only added, and the newest counts. Nothing is assumed: a word that nobody answered was not looked at.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, select

from shopapp.bench import money, quantities
from shopapp.bench.errors import BenchError
from shopapp.office import history, jobs, shopbook
from shopapp.office.errors import TryAgain
from shopapp.office.tables.intake import Condition, Declared, LooseBit
from shopapp.office.tables.jobs import Job, Piece
from shopapp.office.tables.people import Person

WORDS = {
    "cracked": "cracked",
    "chipped": "chipped",
    "rusted": "rusted",
    "welded": "welded before",
    "bent": "bent",
    "missing_bits": "missing bits",
}
"""What is looked for on every piece, as it is said."""
ANSWERS = {"yes": "yes", "no": "no", "not_looked": "not looked"}
RISKS = {"customer": "the customer carries the risk", "shop": "the shop carries the risk"}
MOST_BITS = 40


@dataclass(frozen=True)
class ConditionFacts:
    """One word about a piece and its newest answer; who gave it, and when, are None where nobody looked."""

    word: str
    answer: str = "not_looked"
    initials: str | None = None
    at: datetime | None = None

    @property
    def said(self) -> str:
        """The word and the answer: "welded before: no"."""
        return f"{WORDS[self.word]}: {ANSWERS[self.answer]}"


@dataclass(frozen=True)
class DeclaredFacts:
    """The value that the customer declared [cents], or None where none was; who carries the risk."""

    cents: int | None
    risk: str
    currency: str
    at: datetime

    @property
    def said(self) -> str:
        """As it stands on papers."""
        value = f"declared value {money.show(self.cents, self.currency)}" if self.cents else "no value declared"
        return f"{value}; {RISKS[self.risk]}"


@dataclass(frozen=True)
class BitFacts:
    """Something that came along with a piece, and when it went back."""

    id: int
    piece_id: int
    number: str
    words: str
    back_at: datetime | None


def look(db: Session, *, piece_id: int, answers: Mapping[str, str], now: datetime, by: int) -> None:
    """Write down what was looked at; words that are not told keep their newest answer."""
    piece = jobs.piece_row(db, piece_id)
    if strange := [word for word in answers if word not in WORDS]:
        raise TryAgain({strange[0]: f"Looked for are: {', '.join(WORDS.values())}."})
    if wrong := {word: "Answer yes, no or not looked." for word, said in answers.items() if said not in ANSWERS}:
        raise TryAgain(wrong)
    were = {fact.word: fact.answer for fact in standing(db, piece_id)}
    fresh = [word for word in WORDS if word in answers and answers[word] != were[word]]
    for word in fresh:
        db.add(Condition(piece_id=piece_id, word=word, answer=answers[word], by_id=by, at=now))
    if fresh:
        db.flush()
        words = "; ".join(f"{WORDS[word]}: {ANSWERS[answers[word]]}" for word in fresh)
        history.write(db, now=now, by=by, act="looked", words=words, job_id=piece.job_id, piece_id=piece_id)


def standing(db: Session, piece_id: int) -> tuple[ConditionFacts, ...]:
    """Every word with its newest answer, in the order in which a piece is looked at."""
    rows = db.exec(
        select(Condition.word, Condition.answer, Person.initials, Condition.at)
        .join(Person, Person.id == Condition.by_id)
        .where(Condition.piece_id == piece_id)
        .order_by(Condition.id)
    )
    newest = {row[0]: ConditionFacts(*row) for row in rows}
    return tuple(newest.get(word, ConditionFacts(word)) for word in WORDS)


def summary(facts: tuple[ConditionFacts, ...]) -> str:
    """The state of a piece in one line: "cracked: no, rusted: yes; not looked: chipped, bent"."""
    looked = ", ".join(fact.said for fact in facts if fact.answer != "not_looked")
    not_looked = ", ".join(WORDS[fact.word] for fact in facts if fact.answer == "not_looked")
    return "; ".join(part for part in (looked, f"not looked: {not_looked}" if not_looked else "") if part)


def declare(db: Session, *, piece_id: int, amount: str, risk: str, now: datetime, by: int) -> None:
    """What the customer says that it is worth, and who carries the risk; an empty amount: no value was declared."""
    piece = jobs.piece_row(db, piece_id)
    problems = {} if risk in RISKS else {"risk": "Say who carries the risk: the customer, or the shop."}
    cents = None
    if amount.strip():
        try:
            cents = int(quantities.money(amount).base)
        except BenchError as refusal:
            problems["declared"] = str(refusal)
        else:
            if not 0 < cents < 2**31:
                problems["declared"] = "Write a value such as 1,200, or leave the field empty: none declared."
    if problems:
        raise TryAgain(problems)
    db.add(Declared(piece_id=piece_id, cents=cents, risk=risk, by_id=by, at=now))
    db.flush()
    said = DeclaredFacts(cents, risk, shopbook.the_shop(db).currency, now).said
    history.write(db, now=now, by=by, act="declared", words=said, job_id=piece.job_id, piece_id=piece_id)


def declared(db: Session, piece_id: int) -> DeclaredFacts | None:
    """What was declared last, or None where nobody was asked."""
    row = db.exec(
        select(Declared.cents, Declared.risk, Declared.at)
        .where(Declared.piece_id == piece_id)
        .order_by(Declared.id.desc())
    ).first()
    return DeclaredFacts(row[0], row[1], shopbook.the_shop(db).currency, row[2]) if row else None


def add_bits(db: Session, *, piece_id: int, lines: list[str], now: datetime, by: int) -> list[int]:
    """What came along with a piece, a line each; gives the new rows' ids."""
    piece = jobs.piece_row(db, piece_id)
    told = [" ".join(line.split()) for line in lines if line.strip()]
    if len(told) + len(bits_of(db, [piece_id])) > MOST_BITS:
        raise TryAgain({"bits": f"Put what came along on {MOST_BITS} lines or fewer; “box of bolts” is one."})
    rows = [LooseBit(piece_id=piece_id, words=line) for line in told]
    db.add_all(rows)
    db.flush()
    if told:
        words = f"came along: {', '.join(told)}"
        history.write(db, now=now, by=by, act="came along", words=words, job_id=piece.job_id, piece_id=piece_id)
    return [row.id for row in rows]


def bits_of(db: Session, piece_ids: list[int]) -> list[BitFacts]:
    """What came along with these pieces, by piece and in the order written."""
    rows = db.exec(
        select(LooseBit.id, LooseBit.piece_id, Job.no, Piece.n, LooseBit.words, LooseBit.back_at)
        .join(Piece, Piece.id == LooseBit.piece_id)
        .join(Job, Job.id == Piece.job_id)
        .where(LooseBit.piece_id.in_(piece_ids))
        .order_by(Job.no, Piece.n, LooseBit.id)
    )
    return [BitFacts(row[0], row[1], f"{row[2]}-{row[3]}", row[4], row[5]) for row in rows]


def give_back(db: Session, *, piece_ids: list[int], bit_ids: list[int], now: datetime, by: int) -> str:
    """The ticked bits go back with their pieces; gives a warning that names what stays here, or an empty text."""
    here = [bit for bit in bits_of(db, piece_ids) if bit.back_at is None]
    back = [bit for bit in here if bit.id in bit_ids]
    for bit in back:
        row = db.get_one(LooseBit, bit.id)
        row.back_at = now
        db.add(row)
        job_id, words = jobs.piece_row(db, bit.piece_id).job_id, f"went back: {bit.words}"
        history.write(db, now=now, by=by, act="went back", words=words, job_id=job_id, piece_id=bit.piece_id)
    db.flush()
    stays = [f"{bit.words} of {bit.number}" for bit in here if bit not in back]
    return f"Still here: {'; '.join(stays)}." if stays else ""
