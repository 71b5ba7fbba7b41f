"""A price that is known before anything is typed: one that was agreed for these kinds, or that of the last such job."""

from collections import Counter
from dataclasses import dataclass, replace
from datetime import date, datetime
from fractions import Fraction

from sqlmodel import Session

from shopapp.bench import money
from shopapp.bench.rounding import half_up
from shopapp.office import agreements, jobs, quotes, shopbook
from shopapp.office.errors import InTheWay, TryAgain
from shopapp.office.pricing import Priced, PricingTyped
from shopapp.office.quotes import QuoteFacts

LOOKED_BACK = 30
WORK = ("bench", "agreed", "minimum")


@dataclass(frozen=True)
class KnownPrice:
    """What a sheet can be filled with at once. `today_cents` is the old sheet at today's rate, where that differs."""

    typed: PricingTyped
    pieces: int
    net_cents: int
    by_agreement: bool
    like: str = ""
    said_on: date | None = None
    today_cents: int | None = None

    @property
    def words(self) -> str:
        """What the button says, without the amount."""
        return "Price as agreed" if self.by_agreement else "Same price as last"


def known(db: Session, job_id: int, *, day: date) -> KnownPrice | None:
    """The price that is known for a job's pieces, while it has no price sheet and every piece is told apart."""
    pieces = jobs.pieces(db, job_id)
    if not pieces or any(piece.variant_id is None for piece in pieces) or quotes.of_job(db, job_id):
        return None
    found = agreements.for_job(db, job_id, day=day, count=len(pieces))
    last = _last(db, job_id, Counter(piece.variant_id for piece in pieces))
    try:
        if found.agreement:
            return _by_agreement(db, job_id, last, len(pieces), day)
        return _as_last(db, job_id, *last, len(pieces), day) if last else None
    except TryAgain:
        return None


def take(db: Session, *, job_id: int, now: datetime, by: int) -> int:
    """Keep the known price as the job's price sheet, a draft; gives its row's id."""
    told = known(db, job_id, day=shopbook.the_shop(db).today(now))
    if told is None:
        raise InTheWay("No earlier price fits these pieces, or the job has a price sheet already. Open the sheet.")
    return quotes.keep_draft(db, job_id=job_id, typed=told.typed, now=now, by=by)


def _last(db: Session, job_id: int, kinds: Counter[int | None]) -> tuple[int, QuoteFacts] | None:
    """The newest earlier job of this customer with the same kinds, and the quote that was agreed, or else issued."""
    job = jobs.by_id(db, job_id)
    earlier = [one for one in jobs.of_customer(db, job.customer_id, most=LOOKED_BACK) if one.no < job.no]
    pieces = jobs.pieces_of(db, [one.id for one in earlier]) if earlier else {}
    for one in earlier:
        if not _alike(Counter(piece.variant_id for piece in pieces.get(one.id, []) if not piece.rework_of), kinds):
            continue
        told = [quote for quote in quotes.of_job(db, one.id) if quote.issued_on and not quote.turned_down_on]
        quote = next((quote for quote in reversed(told) if quote.agreed), told[-1] if told else None)
        if quote:
            return one.no, quote
    return None


def _alike(then: Counter[int | None], now: Counter[int | None]) -> bool:
    """One kind is alike in any number; several kinds only in the same mixture, for they are priced together."""
    return then == now or (len(then) == len(now) == 1 and set(then) == set(now))


def _by_agreement(
    db: Session, job_id: int, last: tuple[int, QuoteFacts] | None, count: int, day: date
) -> KnownPrice:  # fmt: skip
    """The agreed price, with what was besides the bench last time."""
    rush = jobs.by_id(db, job_id).rush
    old = last[1].pricing if last else PricingTyped()
    typed = replace(_anew(old, count, rush), agreed_each="", agreed_words="")
    told = quotes.preview(db, job_id=job_id, typed=typed, day=day)
    return KnownPrice(typed, count, told.totals.net_cents, by_agreement=True)


def _as_last(db: Session, job_id: int, no: int, quote: QuoteFacts, count: int, day: date) -> KnownPrice:
    """The last sheet; where the rate has changed since, its price for one piece of then stands as agreed."""
    typed = _anew(quote.pricing, count, jobs.by_id(db, job_id).rush)
    today = quotes.preview(db, job_id=job_id, typed=typed, day=day)
    then = quotes.preview(db, job_id=job_id, typed=replace(typed, held=quote.pricing.held), day=day)
    like = f"{no} {quote.revision}"
    if today.totals.net_cents == then.totals.net_cents:
        return KnownPrice(typed, count, today.totals.net_cents, False, like, quote.issued_on)
    typed = replace(typed, agreed_each=_each(then, count), agreed_words=f"same price as quote {like}")
    same = quotes.preview(db, job_id=job_id, typed=typed, day=day)
    return KnownPrice(
        typed, count, same.totals.net_cents, False, like, quote.issued_on, today_cents=today.totals.net_cents
    )


def _each(told: Priced, count: int) -> str:
    """The work's price for one piece, as it is typed."""
    cents = sum(line.cents for line in told.price.lines if line.kind in WORK)
    return money.show(half_up(Fraction(cents, count)), "").replace(",", "")


def _anew(typed: PricingTyped, count: int, rush: bool) -> PricingTyped:
    return replace(typed, pieces=str(count), rush=rush, discount="", discount_reason="", held=None)
