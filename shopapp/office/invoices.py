"""Invoices: drawn from pieces that are finished or gone, frozen at issue with a number without gaps."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlmodel import Session, select

from shopapp.bench import money, quantities
from shopapp.bench.errors import BenchError
from shopapp.bench.pricing import Price, PriceLine
from shopapp.office import (
    customers,
    history,
    invoices_lines,
    jobs,
    ledger,
    numbering,
    papers,
    payments,
    phrases,
    pricing,
    quotes,
    shopbook,
    sums,
)  # fmt: skip
from shopapp.office.errors import TryAgain
from shopapp.office.invoices_lines import LineTyped
from shopapp.office.jobs import JobFacts, PieceFacts
from shopapp.office.quotes import QuoteFacts
from shopapp.office.sheets.invoice import InvoiceSheet
from shopapp.office.sheets.money import LineRow, Totals
from shopapp.office.tables.invoices import Invoice
from shopapp.office.tables.jobs import Job, Piece

BILLABLE = {"ready": ("checked", "shelf", "gone"), "fetched": ("gone",)}
NOT_YET = "not billed with the pieces before"
ABOVE = "less what was billed before above this price"
CREDITED = "taken back before by credit note, billed again"


@dataclass(frozen=True)
class Draft:
    """A bill as it would be issued now; `deposits` are pairs of text and the cents of it that the bill would use."""

    rows: tuple[LineRow, ...]
    totals: Totals
    exempt_reason: str
    deposits: tuple[tuple[str, int], ...]
    due_cents: int


def billed(db: Session, job_id: int) -> set[int]:
    """The pieces of a job that stand on an invoice that stands."""
    return set(db.exec(select(Piece.id).where(Piece.job_id == job_id, sums.on_a_bill())).all())


def to_bill(db: Session, job_id: int, *, ready: bool = False) -> list[PieceFacts]:
    """The pieces that may be billed now, by the customer's rule, and are not billed yet; `ready`: as if they were
    billed when they are ready, whatever the rule."""
    job = jobs.by_id(db, job_id)
    rule = BILLABLE["ready" if ready else customers.one(db, job.customer_id).bill_when]
    done = billed(db, job_id)
    return [
        piece for piece in jobs.pieces(db, job_id) if piece.custody in rule and piece.worked and piece.id not in done
    ]


def drawn(db: Session, job_id: int, pieces: list[PieceFacts], *, now: datetime) -> Draft | None:
    """The bill that these pieces come to now, by the lines that it is drawn with; None where it cannot be known."""
    try:
        return preview(db, job_id=job_id, lines=lines_for(db, job_id, pieces, now=now), now=now)
    except TryAgain:
        return None


def draft_lines(
    db: Session, job_id: int, *, now: datetime, piece_ids: list[int] | None = None
) -> list[LineTyped]:  # fmt: skip
    """Lines for the pieces to bill, or for these of them. Work that was called off is billed by what was set up."""
    pieces = [one for one in to_bill(db, job_id) if piece_ids is None or one.id in piece_ids]
    return lines_for(db, job_id, pieces, now=now) if pieces else called_off_lines(db, job_id, now=now)


def lines_for(db: Session, job_id: int, pieces: list[PieceFacts], *, now: datetime) -> list[LineTyped]:
    """Lines for these pieces, from the agreed quote: the price of all billed so far and these, less what was billed;
    by the pieces that are finished, never by those that were quoted. A piece put right by our own mistake is on the
    bill at no charge."""
    quote = quotes.agreed_quote(db, job_id)
    if quote is None:
        return _no_charge(db, job_id, pieces)
    before, count = len(billed(db, job_id)), len(pieces)
    whole = _price(db, quote, before + count, now)
    if not before:
        return [*(_typed(line) for line in whole.lines), *_set_right(db, job_id, whole.net, whole.net)]
    lines = _further(whole, _price(db, quote, before, now), count)
    return [*lines, *_set_right(db, job_id, whole.net, invoices_lines.sum_of(lines))]


def _price(db: Session, quote: QuoteFacts, count: int, now: datetime) -> Price:
    day = quote.issued_on or shopbook.the_shop(db).today(now)
    return quotes.preview(db, job_id=quote.job_id, typed=quote.pricing, day=day, pieces=count).price


def _further(whole: Price, part: Price, count: int) -> list[LineTyped]:
    """Lines for further pieces: what all cost less what those before cost, and a line of nothing where it is none."""
    further = whole.net - part.net
    agreed = next((line for line in whole.lines if line.kind == "agreed"), None)
    if agreed and further >= 0:
        rest = further - count * agreed.unit_cents
        words = "rush for further pieces" if rest > 0 else "discount on further pieces"
        return [_line(agreed.text, agreed.unit_cents, count), *([_line(words, rest)] if rest else [])]
    pieces = f"{count} further pieces" if count > 1 else "1 further piece"
    if further <= 0:
        return [_line(f"{pieces}, in the price of those before", 0)]
    return [_line(f"bench time for {pieces}, {whole.minutes - part.minutes} min", further)]


def _set_right(db: Session, job_id: int, whole: int, now_cents: int) -> list[LineTyped]:
    """What sets lines of `now_cents` right, so that all bills come to the whole price [cents]: by what was billed
    before above or below its own price, and by what was taken back of it. No bill goes below nothing."""
    standing = [bill for bill in ledger.of_job(db, job_id) if bill.stands]
    back = sum(bill.credited_net_cents for bill in standing)
    apart = whole - now_cents - sum(bill.net_cents for bill in standing)
    if now_cents + apart + back < 0:
        return [_line(ABOVE, -now_cents)] if now_cents else []
    told = ((ABOVE if apart < 0 else NOT_YET, apart), (CREDITED, back))
    return [_line(words, cents) for words, cents in told if cents]


def _line(words: str, cents: int, count: int = 1) -> LineTyped:
    return LineTyped(words, str(count), f"{cents / 100:.2f}")


def called_off_lines(db: Session, job_id: int, *, now: datetime) -> list[LineTyped]:
    """What was set up before the work was called off: the minutes written down, or the first setting as quoted where
    a piece was in the chuck; nothing where nothing was begun, or it is billed."""
    if not _set_up_to_bill(db, job_id):
        return []
    quote, minutes = quotes.agreed_quote(db, job_id), jobs.spent_minutes(db, job_id)
    held = quote.pricing.held if quote else None
    rate = held.rate_cents if held else shopbook.rate_on(db, shopbook.the_shop(db).today(now))
    if quote and not minutes:
        first = next((row.first for row in quote.pricing.settings if row.first.strip()), "")
        minutes = int(quantities.minutes(first).base) if first else 0
    words = "set-up made before the work was called off"
    return [LineTyped(words, f"{minutes} min", f"{rate / 100:.2f}")] if minutes else []


def _set_up_to_bill(db: Session, job_id: int) -> bool:
    """Whether the job was called off after it was set up, and no bill of it stands."""
    return db.exec(select(Job.id).where(Job.id == job_id, ledger.set_up_to_bill())).first() is not None


def price_is_wanted(db: Session, job_id: int) -> bool:
    """Whether a piece is put right that is to be billed, and neither a price was agreed nor that there is none."""
    pieces = to_bill(db, job_id)
    put_right = bool(pieces) and all(piece.rework_of for piece in pieces)
    return put_right and not quotes.agreed_quote(db, job_id) and not _no_charge(db, job_id, pieces)


def billed_above_cents(db: Session, job_id: int, *, now: datetime) -> int:
    """By how much what is billed goes above the agreed price of the pieces billed and to be billed [cents]."""
    quote, count = quotes.agreed_quote(db, job_id), len(billed(db, job_id)) + len(to_bill(db, job_id))
    if quote is None or not count:
        return 0
    kept = sum(bill.kept_net_cents for bill in ledger.of_job(db, job_id) if bill.stands)
    return max(kept - _price(db, quote, count, now).net, 0)


def _no_charge(db: Session, job_id: int, pieces: list[PieceFacts]) -> list[LineTyped]:
    """A line of nothing for each piece that is put right, where its price sheet says that it is our own mistake."""
    firsts = {piece.id: piece.rework_of for piece in pieces if piece.rework_of}
    sheets = quotes.of_job(db, job_id)
    if len(firsts) < len(pieces) or not sheets or not _is_nothing(sheets[-1].pricing.agreed_each):
        return []
    numbers = {piece.id: piece.number for piece in jobs.pieces_where(db, Piece.id.in_(firsts.values()))}
    return [
        LineTyped(f"{piece.number} put right, first {numbers[firsts[piece.id]]}: no charge", "1", "0.00")
        for piece in pieces
    ]


def _is_nothing(price: str) -> bool:
    try:
        return bool(price.strip()) and not quantities.money(price).base
    except BenchError:
        return False


def _typed(line: PriceLine) -> LineTyped:
    if line.kind == "bench":  # its words name no minutes, for the minutes may be changed on the bill
        return LineTyped("bench time", f"{float(line.quantity * 60):g} min", f"{line.unit_cents / 100:.2f}")
    return LineTyped(line.text, pricing.count_text(line.quantity), f"{line.unit_cents / 100:.2f}")


def preview(db: Session, *, job_id: int, lines: list[LineTyped], now: datetime) -> Draft:
    """What a bill comes to on the day, with the tax or the freedom from it of that day, less what is held."""
    job, shop = jobs.by_id(db, job_id), shopbook.the_shop(db)
    day = shop.today(now)
    rows = invoices_lines.rows(lines, shop.currency)
    net = sum(row.cents for row in rows)
    if not 0 <= net <= pricing.MOST_CENTS:
        raise TryAgain("An invoice comes to nothing or more, and to no fortune. Look at the figures again.")
    paper = customers.exempt_on(db, job.customer_id, day)
    each = [row.cents for row in rows] if shop.tax_by == "line" else None
    totals = pricing.taxed(net, net, shopbook.tax_on(db, day), paper is not None, each)
    due, deposits = totals.total_cents, []
    for payment in payments.usable(db, job_id):
        used = min(payment.left_cents, due)
        if used > 0:
            deposits.append((payment.words(job.no), used))
            due -= used
    return Draft(rows, totals, paper.reason() if paper else "", tuple(deposits), due)


def issue(
    db: Session, *, job_id: int, lines: list[LineTyped], piece_ids: list[int] | None = None, now: datetime, by: int
) -> int:
    """Issue an invoice and freeze it, in one transaction with its number; gives the number."""
    job, shop = jobs.by_id(db, job_id), shopbook.the_shop(db)
    customer = customers.one(db, job.customer_id)
    if customer.order_number == "required" and not job.order_number:
        raise TryAgain(
            {"order_number": f"{customer.name} wants its order number on the bill. Ask for it and write it here."}
        )
    told, day = preview(db, job_id=job_id, lines=lines, now=now), shop.today(now)
    totals, pieces = told.totals, _pieces_to_bill(db, job, piece_ids)
    no, due_on = numbering.take(db, "invoice"), day + timedelta(days=customer.terms_days)
    sheet = InvoiceSheet(
        letterhead=shop.letterhead(), party=customer.party(), number=no, job_no=str(job.no), title=job.title,
        order_number=job.order_number, issued_on=str(day), due_on=str(due_on), terms=customer.terms(),
        drawn_by=history.initials(db, by), lines=told.rows, totals=totals, due_cents=told.due_cents,
        exempt_reason=told.exempt_reason, pieces=invoices_lines.weights(db, pieces), deposit_rows=told.deposits,
        not_done=quotes.not_done(db, job_id), phrases=phrases.printed(db, day, "invoice", "workmanship", "terms"),
    )  # fmt: skip
    paper_id = papers.freeze(db, sheet, number=str(no), job_id=job_id, now=now, by=by)
    row = Invoice(
        no=no, customer_id=customer.id, job_id=job_id, issued_on=day, due_on=due_on, net_cents=totals.net_cents,
        tax_cents=totals.tax_cents, total_cents=totals.total_cents, paper_id=paper_id,
    )  # fmt: skip
    db.add(row)
    db.flush()
    invoices_lines.keep(db, row.id, told.rows, invoices_lines.prices(lines), pieces)
    held = payments.usable(db, job_id)
    payments.apply_held(db, held, invoice_id=row.id, most=totals.total_cents, now=now, by=by)
    words = f"invoice {no}: {money.show(totals.total_cents, shop.currency)}, due {due_on}"
    history.write(db, now=now, by=by, act="billed", words=words, job_id=job_id, customer_id=customer.id)
    return no


def _pieces_to_bill(db: Session, job: JobFacts, piece_ids: list[int] | None) -> list[PieceFacts]:
    """The pieces of a bill. There are some, or it is for the set-up of work that was called off, once."""
    allowed = to_bill(db, job.id)
    told = allowed if piece_ids is None else [piece for piece in allowed if piece.id in piece_ids]
    wrong = [piece for piece in jobs.pieces(db, job.id) if piece.id in (piece_ids or ()) and piece not in allowed]
    if wrong:
        raise TryAgain(f"Piece {wrong[0].number} is billed already, or not yet to be billed. Leave it off this bill.")
    if told or (not allowed and _set_up_to_bill(db, job.id)):
        return told
    if allowed:
        raise TryAgain({"pieces": "Tick the pieces that this bill is for."})
    standing = [bill.no for bill in ledger.of_job(db, job.id) if bill.stands]
    if standing and (billed(db, job.id) or job.ended):
        raise TryAgain(f"What can be billed of job {job.no} is billed already, by invoice {standing[0]}.")
    if job.ended == "called_off":
        raise TryAgain("No minutes are written down for this job. Write down on it what was spent, then bill that.")
    raise TryAgain("No piece of this job is finished and to be billed. A bill is for pieces; finish one first.")
