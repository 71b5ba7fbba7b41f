"""Quotes: drawn up, issued with the day's rate and frozen, agreed, turned down, run out, renewed."""

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from fractions import Fraction
from typing import Any

from sqlmodel import Session, select

from shopapp.bench import money
from shopapp.bench.rounding import half_up
from shopapp.office import (
    agreements,
    customers,
    cutting,
    history,
    jobs,
    lasttime,
    papers,
    phrases,
    pricing,
    quotecheck,
    shopbook,
)
from shopapp.office.errors import InTheWay, NotHere, TryAgain
from shopapp.office.pricing import HeldTerms, Priced, PricingTyped
from shopapp.office.sheets.quote import QuoteSheet
from shopapp.office.tables.customers import Customer
from shopapp.office.tables.jobs import Job
from shopapp.office.tables.quotes import GoAhead, Quote
from shopapp.office.tracks import ENDED

HOW_SAID = {"phone": "by phone", "in_person": "in person", "in_writing": "in writing"}


@dataclass(frozen=True)
class QuoteFacts:
    """A revision of a quote."""

    id: int
    job_id: int
    revision: str
    pricing: PricingTyped
    minutes: int
    net_cents: int
    total_cents: int
    issued_on: date | None
    good_until: date | None
    paper_id: int | None
    turned_down_on: date | None
    agreed: bool
    """Whether the customer's latest yes is to this revision."""

    def has_run_out(self, today: date) -> bool:
        """Whether its price holds no more, agreed or not."""
        return self.good_until is not None and today > self.good_until

    def mark(self, today: date) -> str:
        """The quote's own mark: draft, issued, agreed, run out, turned down."""
        if self.agreed:
            return "agreed"
        if self.turned_down_on:
            return "turned down"
        if self.issued_on is None:
            return "draft"
        return "run out" if self.has_run_out(today) else "issued"


@dataclass(frozen=True)
class GoAheadFacts:
    """The customer's yes."""

    said_by: str
    how: str
    revision: str | None
    at: datetime


def preview(db: Session, *, job_id: int, typed: PricingTyped, day: date, pieces: int | None = None) -> Priced:
    """What the price sheet comes to on a day, at the rate, the agreement and the tax of that day.

    A sheet that was issued keeps the rate and the agreement that it was issued by.
    """
    job, shop = jobs.by_id(db, job_id), shopbook.the_shop(db)
    terms, notices = (typed.held, ()) if typed.held else _terms(db, job_id, typed, day, pieces)
    return pricing.priced(
        typed,
        shop=shop,
        rate_cents=terms.rate_cents,
        tax_percent=shopbook.tax_on(db, day),
        exempt=customers.exempt_on(db, job.customer_id, day) is not None,
        pieces=pieces,
        terms=terms,
        notices=notices,
    )


def _terms(
    db: Session, job_id: int, typed: PricingTyped, day: date, pieces: int | None
) -> tuple[HeldTerms, tuple[str, ...]]:
    """The terms of a day for a sheet; a price for each piece that was typed by hand goes before an agreement."""
    shop = shopbook.the_shop(db)
    terms = HeldTerms(shopbook.rate_on(db, day), shop.minimum_cents, shop.rush_percent)
    count = pieces or (int(typed.pieces) if typed.pieces.strip().isdecimal() else 0)
    if typed.agreed_each.strip() or not count:
        return terms, ()
    told = agreements.for_job(db, job_id, day=day, count=count)
    if told.agreement:
        words = told.agreement.line(shop.currency)
        terms = replace(
            terms, agreed_cents=told.agreement.cents_each, agreed_words=words, agreement_id=told.agreement.id
        )
    return terms, (told.notice,) if told.notice else ()


@dataclass(frozen=True)
class Margin:
    """For the owner only: what a sheet asks for the work, against the minutes that it took last time [min, cents]."""

    minutes: int
    last_minutes: int
    work_cents: int
    cost_cents: int

    @property
    def left_cents(self) -> int:
        """What is over when last time's minutes are paid at the shop's rate [cents]; below zero: it falls short."""
        return self.work_cents - self.cost_cents


def margin(db: Session, *, job_id: int, typed: PricingTyped, day: date) -> Margin | None:
    """The sheet against last time's minutes for every piece of the job; None where a kind was not timed before."""
    pieces = [piece for piece in jobs.pieces(db, job_id) if piece.variant_id]
    each: dict[int, Fraction] = {}
    for variant_id in sorted({piece.variant_id for piece in pieces if piece.variant_id}):
        timed = [
            one.minutes for one in lasttime.of_variant(db, variant_id)
            if one.minutes is not None and one.job_no != pieces[0].job_no
        ]  # fmt: skip
        if not timed:
            return None
        each[variant_id] = Fraction(sum(timed), len(timed))
    if not pieces:
        return None
    told = preview(db, job_id=job_id, typed=typed, day=day)
    minutes = half_up(sum(each[piece.variant_id or 0] for piece in pieces))
    rate = told.terms.rate_cents if told.terms else shopbook.rate_on(db, day)
    work = sum(line.cents for line in told.price.lines if line.kind != "extra")
    return Margin(told.price.minutes, minutes, work, money.line(Fraction(minutes, 60), rate))


def at_counts(
    db: Session, *, job_id: int, typed: PricingTyped, day: date, counts: tuple[int, ...] = (1, 2, 4)
) -> dict[int, Priced]:
    """What the same sheet comes to for other counts of pieces, each as a quote of that count would."""
    return {n: preview(db, job_id=job_id, typed=typed, day=day, pieces=n) for n in counts}


def keep_draft(db: Session, *, job_id: int, typed: PricingTyped, now: datetime, by: int) -> int:
    """Keep the price sheet as a draft: of the open draft, or of the next revision."""
    day, typed = shopbook.the_shop(db).today(now), replace(typed, held=None)
    told = preview(db, job_id=job_id, typed=typed, day=day)
    row = db.exec(select(Quote).where(Quote.job_id == job_id, Quote.issued_on.is_(None))).first()
    if row is None:
        row = Quote(job_id=job_id, revision=next_revision(db, job_id), pricing="")
    row.pricing, row.minutes = typed.to_json(), told.price.minutes
    row.net_cents, row.total_cents = told.totals.net_cents, told.totals.total_cents
    db.add(row)
    db.flush()
    words = f"quote {row.revision} drawn up: {row.minutes} min"
    history.write(db, now=now, by=by, act="drawn up", words=words, job_id=job_id)
    return row.id


def issue(db: Session, *, quote_id: int, now: datetime, by: int, good_until: date | None = None) -> str:
    """Issue a draft: its price is worked out at today's rate and frozen with everything on its paper."""
    row = _row(db, quote_id)
    if row.issued_on:
        raise InTheWay(f"Revision {row.revision} was issued already. Change the price sheet to make the next one.")
    job, shop = jobs.by_id(db, row.job_id), shopbook.the_shop(db)
    if job.ended:
        raise InTheWay("This job has ended. Open a new job to quote again.")
    day = shop.today(now)
    typed = replace(PricingTyped.from_json(row.pricing), held=None)
    told = preview(db, job_id=row.job_id, typed=typed, day=day)
    row.pricing = replace(typed, held=told.terms).to_json()
    row.issued_on, row.good_until = day, good_until or day + timedelta(days=shop.quote_days)
    row.minutes, row.net_cents, row.total_cents = told.price.minutes, told.totals.net_cents, told.totals.total_cents
    sheet = _sheet(db, job, row, typed, told, by)
    row.paper_id = papers.freeze(db, sheet, number=sheet.number, job_id=job.id, now=now, by=by)
    db.add(row)
    words = f"quote {sheet.number}: {money.show(row.total_cents, shop.currency)}, good until {row.good_until}"
    history.write(db, now=now, by=by, act="quoted", words=words, job_id=job.id)
    return sheet.number


def renew(db: Session, *, quote_id: int, good_until: date | None = None, now: datetime, by: int) -> str:
    """The next revision from an issued one's sheet, at today's rate and agreements, issued; gives its number."""
    row = _row(db, quote_id)
    if row.issued_on is None:
        raise InTheWay(f"Revision {row.revision} was not issued yet, so there is nothing to renew. Issue it.")
    if open_one := next((quote for quote in of_job(db, row.job_id) if quote.issued_on is None), None):
        raise InTheWay(f"Revision {open_one.revision} is drawn up and waits. Issue that one; it is at today's rate.")
    draft = keep_draft(db, job_id=row.job_id, typed=PricingTyped.from_json(row.pricing), now=now, by=by)
    return issue(db, quote_id=draft, good_until=good_until, now=now, by=by)


def go_ahead(
    db: Session, *, job_id: int, said_by: str, how: str, revision: str | None = None, order_number: str = "",
    now: datetime, by: int,
) -> None:  # fmt: skip
    """The customer says yes, to a revision that stands open, or to work without a quote."""
    job = jobs.by_id(db, job_id)
    if job.ended:
        raise InTheWay(f"Job {job.no} was {ENDED[job.ended]}. Open a new job for what they want done now.")
    customer = customers.one(db, job.customer_id)
    problems = {} if said_by.strip() else {"said_by": "Write who said yes."}
    if how not in HOW_SAID:
        problems["how"] = "Say how: by phone, in person or in writing."
    quote, refusal = _said_yes_to(db, job, revision, shopbook.the_shop(db).today(now))
    if refusal:
        problems["revision"] = refusal
    if problems:
        raise TryAgain(problems)
    if order_number.strip():
        jobs.change(db, job_id=job_id, order_number=order_number.strip(), now=now, by=by)
    row = GoAhead(
        job_id=job_id, quote_id=quote.id if quote else None, said_by=said_by.strip(), how=how, by_id=by, at=now
    )
    db.add(row)
    words = f"{said_by.strip()} says go ahead {HOW_SAID[how]}" + (f", quote {quote.revision}" if quote else "")
    if customer.order_number != "none" and not (order_number.strip() or job.order_number):
        words += "; their order number is still to come"
    history.write(db, now=now, by=by, act="agreed", words=words, job_id=job_id)


def _said_yes_to(db: Session, job: jobs.JobFacts, revision: str | None, today: date) -> tuple[QuoteFacts | None, str]:
    """The revision that a yes is to, or the sentence why it cannot be; neither where nothing was issued."""
    issued = [quote for quote in of_job(db, job.id) if quote.issued_on]
    if revision is None:
        stand = [quote for quote in issued if not (quote.turned_down_on or quote.has_run_out(today))]
        if not issued or len(stand) == 1:
            return (stand[0] if stand else None), ""
        if stand:
            return None, f"Yes to which? Issued are {', '.join(quote.revision for quote in stand)}."
        if len(issued) > 1:
            return None, "No revision stands open any more. Renew one first."
    quote = issued[0] if revision is None else next((one for one in issued if one.revision == revision), None)
    if quote is None:
        return None, f"Revision {revision} was not issued. Choose one that was, or issue it first."
    if quote.turned_down_on:
        return None, f"Quote {job.no} {quote.revision} was turned down on {quote.turned_down_on}. Renew it first."
    if quote.has_run_out(today):
        return None, f"Quote {job.no} {quote.revision} ran out on {quote.good_until}. Renew it first."
    return quote, ""


def turn_down(db: Session, *, quote_id: int, now: datetime, by: int) -> None:
    """The customer says no to a revision; not to the one that their latest yes is to."""
    row = _row(db, quote_id)
    if row.issued_on is None or db.exec(_latest_yes(row.job_id)).first() == quote_id:
        raise InTheWay(f"Revision {row.revision} was not issued, or the customer has said yes to it.")
    row.turned_down_on = shopbook.the_shop(db).today(now)
    db.add(row)
    history.write(db, now=now, by=by, act="turned down", words=f"quote {row.revision}", job_id=row.job_id)


def of_job(db: Session, job_id: int) -> list[QuoteFacts]:
    """The revisions of a job, A first."""
    rows = db.exec(
        select(
            Quote.id, Quote.job_id, Quote.revision, Quote.pricing, Quote.minutes, Quote.net_cents, Quote.total_cents,
            Quote.issued_on, Quote.good_until, Quote.paper_id, Quote.turned_down_on,
            Quote.id == _latest_yes(job_id).scalar_subquery(),
        ).where(Quote.job_id == job_id).order_by(Quote.id)
    )  # fmt: skip
    return [QuoteFacts(*row[:3], PricingTyped.from_json(row[3]), *row[4:11], agreed=bool(row[11])) for row in rows]


def _latest_yes(job_id: int) -> Any:
    """The quote that the customer's latest yes to any quote is to."""
    said = select(GoAhead.quote_id).where(GoAhead.job_id == job_id, GoAhead.quote_id.is_not(None))
    return said.order_by(GoAhead.id.desc()).limit(1)


@dataclass(frozen=True)
class DraftFacts:
    """A price sheet that was kept and not issued yet."""

    job_no: int
    customer: str
    title: str
    revision: str
    total_cents: int


def drafts(db: Session, *, most: int = 50) -> list[DraftFacts]:
    """Price sheets that wait to be issued, in jobs that have not ended."""
    rows = db.exec(
        select(Job.no, Customer.name, Job.title, Quote.revision, Quote.total_cents)
        .join(Job, Job.id == Quote.job_id)
        .join(Customer, Customer.id == Job.customer_id)
        .where(Quote.issued_on.is_(None), Job.ended.is_(None))
        .order_by(Job.no)
        .limit(most)
    )
    return [DraftFacts(*row) for row in rows]


def yes_of_job(db: Session, job_id: int) -> GoAheadFacts | None:
    """The newest go-ahead of a job."""
    row = db.exec(
        select(GoAhead.said_by, GoAhead.how, Quote.revision, GoAhead.at)
        .outerjoin(Quote, Quote.id == GoAhead.quote_id)
        .where(GoAhead.job_id == job_id)
        .order_by(GoAhead.id.desc())
    ).first()
    return GoAheadFacts(*row) if row else None


def agreed_quote(db: Session, job_id: int) -> QuoteFacts | None:
    """The revision that the customer agreed to: that of their latest yes."""
    return next((quote for quote in of_job(db, job_id) if quote.agreed), None)


def _sheet(db: Session, job: jobs.JobFacts, row: Quote, typed: PricingTyped, told: Priced, by: int) -> QuoteSheet:
    shop = shopbook.the_shop(db)
    plans = [plan for (job_id, _), plan in cutting.newest_plans(db, {job.id}).items() if job_id == job.id]
    deposit, pieces = customers.one(db, job.customer_id).deposit_percent, jobs.pieces(db, job.id)
    return QuoteSheet(
        letterhead=shop.letterhead(),
        party=customers.one(db, job.customer_id).party(),
        number=f"{job.no} {row.revision}",
        revision=row.revision,
        job_no=str(job.no),
        title=job.title,
        issued_on=str(row.issued_on),
        good_until=str(row.good_until),
        drawn_by=history.initials(db, by),
        pieces=tuple(f"{p.number} {p.told}".strip() for p in pieces),
        priced_for=quotecheck.priced_for(typed, len(pieces)),
        lines=told.rows,
        totals=told.totals,
        minutes_text=f"{told.price.minutes} min at the bench" if told.price.minutes else "",
        removals=tuple(plan.removal for plan in plans),
        sections=tuple(plan.section for plan in plans),
        not_done=not_done(db, job.id),
        words=typed.words,
        deposit_text=deposit_words(told.totals.net_cents, deposit, shop.currency),
        phrases=phrases.printed(db, row.issued_on, "quote", "workmanship", "terms"),
        weight_note="What comes off is worked out from the drawing; the weight that counts is by the shop's scale.",
    )


def deposit_words(net_cents: int, percent: str, currency: str) -> str:
    """What is asked before the work begins, in words; empty where nothing is."""
    if percent in ("", "0"):
        return ""
    return f"Deposit before the work begins: {money.show(deposit_cents(net_cents, percent), currency)} ({percent} %)"


def deposit_cents(net_cents: int, percent: str) -> int:
    """The part of the net that is asked beforehand, half-up."""
    return money.tax(net_cents, Fraction(percent) / 100)


def deposit_asked(db: Session, job_id: int) -> int:
    """What the customer is asked for before the work begins: by the agreed quote, or the newest that is out [cents]."""
    out = [quote for quote in of_job(db, job_id) if quote.issued_on and not quote.turned_down_on]
    quote = agreed_quote(db, job_id) or (out[-1] if out else None)
    percent = customers.one(db, jobs.by_id(db, job_id).customer_id).deposit_percent
    return deposit_cents(quote.net_cents, percent) if quote and percent not in ("", "0") else 0


def not_done(db: Session, job_id: int) -> tuple[str, ...]:
    """What is not done here: the shop's lines, then those of the parts in the job."""
    return papers.not_done(db, job_id)


def next_revision(db: Session, job_id: int) -> str:
    """The letter of the open draft, or of the revision that comes next: A to Z, then AA."""
    rows = db.exec(select(Quote.revision, Quote.issued_on).where(Quote.job_id == job_id)).all()
    draft = next((revision for revision, issued_on in rows if issued_on is None), None)
    more, last = divmod(len(rows), 26)
    return draft or (chr(64 + more) if more else "") + chr(65 + last)


def _row(db: Session, quote_id: int) -> Quote:
    row = db.get(Quote, quote_id)
    if row is None:
        raise NotHere("That quote is not in the book.")
    return row
