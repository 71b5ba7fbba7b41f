"""Prices agreed with a customer, from a count on and between two days, found by the day of the quote."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, datetime

from sqlmodel import Session, select

from shopapp.bench import money, quantities
from shopapp.bench.errors import BenchError
from shopapp.office import history, shopbook
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.tables.customers import Agreement, Customer
from shopapp.office.tables.jobs import Job, Piece
from shopapp.office.tables.parts import Part, Variant

MOST_CENTS = 10**9


@dataclass(frozen=True)
class AgreementFacts:
    """A price agreed for one piece [cents], from a count on, between two days, both included."""

    id: int
    customer_id: int
    customer: str
    part_id: int
    part: str
    variant_id: int | None
    variant: str | None
    from_count: int
    cents_each: int
    valid_from: date
    valid_to: date
    words: str
    wrong_at: datetime | None = None

    def runs(self, day: date) -> bool:
        """Whether it holds on a day; one that was written wrong never does."""
        return self.wrong_at is None and self.valid_from <= day <= self.valid_to

    @property
    def name(self) -> str:
        """What it is for."""
        return f"{self.part}, {self.variant}" if self.variant else self.part

    def line(self, currency: str) -> str:
        """Its words on a quote: those agreed on, or what it is for."""
        steps = f" from {self.from_count} pieces" if self.from_count > 1 else ""
        return self.words or f"{self.name}, agreed price{steps} ({money.show(self.cents_each, currency)} each)"


@dataclass(frozen=True)
class Found:
    """What was found for a quote: the agreement that holds, or a notice for the owner why none does."""

    agreement: AgreementFacts | None = None
    notice: str = ""


def add(
    db: Session, *, customer_id: int, part_id: int, variant_id: int | None = None, from_count: str = "1", each: str,
    valid_from: date, valid_to: date, words: str = "", now: datetime, by: int,
) -> int:  # fmt: skip
    """Enter a price agreed with a customer; gives its row's id.

    One from the same day on, for the same kind and count, is put right by it and holds for nothing any more.
    """
    part, customer = db.get(Part, part_id), db.get(Customer, customer_id)
    variant = db.get(Variant, variant_id) if variant_id else None
    if part is None or customer is None or (variant_id and (variant is None or variant.part_id != part_id)):
        raise NotHere("That customer, part or variant is not in the book.")
    problems: dict[str, str] = {}
    count = _read(problems, "from_count", lambda: quantities.whole(from_count))
    cents = _read(problems, "each", lambda: int(quantities.money(each).base))
    if "from_count" not in problems and not 1 <= count <= 200:
        problems["from_count"] = "From 1 piece on, or from another count up to 200."
    if "each" not in problems and not 0 <= cents <= MOST_CENTS:
        problems["each"] = "Write the price of one piece, such as 62.00."
    if valid_to < valid_from:
        problems["valid_to"] = "It ends before it begins. Look at both days again."
    row = Agreement(
        customer_id=customer_id, part_id=part_id, variant_id=variant_id, from_count=count, cents_each=cents,
        valid_from=valid_from, valid_to=valid_to, words=words.strip(),
    )  # fmt: skip
    there = [] if problems else _overlapping(db, row)
    if any(one.valid_from != valid_from for one in there):
        problems["valid_from"] = "A price for this count is agreed in those days already. End that one first."
    if problems:
        raise TryAgain(problems)
    db.add(row)
    said = f"{part.name}, {variant.name}" if variant else part.name
    said += f": {money.show(cents)} each from {count}, {valid_from} to {valid_to}"
    for one in there:
        one.wrong_at = now
        said += f"; put right, it said {money.show(one.cents_each)} each to {one.valid_to}"
    db.flush()
    history.write(db, now=now, by=by, act="agreement", words=said, customer_id=customer_id)
    return row.id


def end(db: Session, *, agreement_id: int, last_day: date, now: datetime, by: int) -> None:
    """An agreement ends sooner than was written; quotes that were issued by it stay as they are."""
    row = _row(db, agreement_id)
    if not row.valid_from <= last_day <= row.valid_to:
        raise TryAgain({"valid_to": f"It runs from {row.valid_from} to {row.valid_to}. Choose a day within."})
    row.valid_to = last_day
    db.add(row)
    words = f"the price of {money.show(row.cents_each)} each ends on {last_day}"
    history.write(db, now=now, by=by, act="agreement", words=words, customer_id=row.customer_id)


def never_held(db: Session, *, agreement_id: int, now: datetime, by: int) -> None:
    """An agreement was written wrong: it stays in the book and holds for no quote from now on."""
    row = _row(db, agreement_id)
    row.wrong_at = now
    db.add(row)
    words = f"the price of {money.show(row.cents_each)} each from {row.valid_from} was written wrong and does not hold"
    history.write(db, now=now, by=by, act="agreement", words=words, customer_id=row.customer_id)


def _row(db: Session, agreement_id: int) -> Agreement:
    row = db.get(Agreement, agreement_id)
    if row is None:
        raise NotHere("That agreement is not in the book.")
    if row.wrong_at:
        raise InTheWay("That agreement was written wrong and does not hold already.")
    return row


def of_customer(db: Session, customer_id: int) -> list[AgreementFacts]:
    """Every agreement with a customer, those that run longest first."""
    return _rows(db, Agreement.customer_id == customer_id)


def every(db: Session) -> list[AgreementFacts]:
    """Every agreement with anybody, those that run longest first."""
    return _rows(db, Agreement.id.is_not(None))


def for_job(db: Session, job_id: int, *, day: date, count: int) -> Found:
    """What holds for a quote of a day on so many pieces of a job: all its pieces have to be of the agreed kind."""
    job = db.get(Job, job_id)
    rows = db.exec(
        select(Variant.part_id, Variant.id)
        .select_from(Piece)
        .outerjoin(Variant, Variant.id == Piece.variant_id)
        .where(Piece.job_id == job_id)
    )
    kinds = [(part_id or 0, variant_id or 0) for part_id, variant_id in rows]  # 0: a piece not told apart yet
    return found(db, customer_id=job.customer_id if job else 0, kinds=kinds, count=count, day=day)


def found(db: Session, *, customer_id: int, kinds: Iterable[tuple[int, int]], count: int, day: date) -> Found:
    """The agreement for so many pieces of these kinds (part, variant) on a day, or a notice why there is none."""
    told = set(kinds)
    part_ids, variant_ids = {part for part, _ in told}, {variant for _, variant in told}
    if not told:
        return Found()
    mine = [row for row in of_customer(db, customer_id) if row.part_id in part_ids and not row.wrong_at]
    fits = [
        row for row in mine
        if len(part_ids) == 1 and (row.variant_id is None or variant_ids == {row.variant_id})
    ]  # fmt: skip
    runs = [row for row in fits if row.runs(day)]
    ready = [row for row in runs if row.from_count <= count]
    if ready:
        best = max(ready, key=lambda row: (row.from_count, row.variant_id is not None, row.valid_from, row.id))
        return Found(best)
    return Found(notice=_notice(db, mine, fits, runs, day))


def _notice(
    db: Session, mine: list[AgreementFacts], fits: list[AgreementFacts], runs: list[AgreementFacts], day: date
) -> str:
    """For the owner only: an agreement that ended, that begins at a higher count, or that is for a part of the job."""
    currency = shopbook.the_shop(db).currency
    if runs:
        row = min(runs, key=lambda row: row.from_count)
        return f"{row.name}: {money.show(row.cents_each, currency)} each is agreed from {row.from_count} pieces on."
    ended = [row for row in fits if row.valid_to < day]
    if ended:
        row = max(ended, key=lambda row: row.valid_to)
        price = money.show(row.cents_each, currency)
        return (
            f"The price agreed with {row.customer} for {row.name}, {price} each, ended on {row.valid_to}. "
            "This sheet is at the shop's rate."
        )
    other = [row for row in mine if row not in fits and row.runs(day)]
    if other:
        price = money.show(other[0].cents_each, currency)
        return f"{other[0].name} is agreed at {price} each, but this job has other kinds too. Price it by hand."
    return ""


def _rows(db: Session, where: object) -> list[AgreementFacts]:
    rows = db.exec(
        select(
            Agreement.id, Agreement.customer_id, Customer.name, Agreement.part_id, Part.name, Agreement.variant_id,
            Variant.name, Agreement.from_count, Agreement.cents_each, Agreement.valid_from, Agreement.valid_to,
            Agreement.words, Agreement.wrong_at,
        )
        .join(Customer, Customer.id == Agreement.customer_id)
        .join(Part, Part.id == Agreement.part_id)
        .outerjoin(Variant, Variant.id == Agreement.variant_id)
        .where(where)
        .order_by(Agreement.valid_to.desc(), Agreement.from_count, Agreement.id)
    )  # fmt: skip
    return [AgreementFacts(*row) for row in rows]


def _overlapping(db: Session, new: Agreement) -> list[Agreement]:
    same_variant = Agreement.variant_id.is_(None) if new.variant_id is None else Agreement.variant_id == new.variant_id
    found = select(Agreement).where(
        Agreement.customer_id == new.customer_id, Agreement.part_id == new.part_id, same_variant,
        Agreement.from_count == new.from_count, Agreement.valid_from <= new.valid_to,
        Agreement.valid_to >= new.valid_from, Agreement.wrong_at.is_(None),
    )  # fmt: skip
    return list(db.exec(found))


def _read(problems: dict[str, str], field: str, act: Callable[[], int]) -> int:
    try:
        return act()
    except BenchError as refusal:
        problems[field] = str(refusal)
        return 1
