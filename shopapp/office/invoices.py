"""Invoices: drawn from pieces that are finished or gone, frozen at issue with a number without gaps."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from fractions import Fraction

from sqlmodel import Session, select

from shopapp.bench import money, quantities
from shopapp.bench.errors import BenchError
from shopapp.office import (
    customers,
    history,
    jobs,
    ledger,
    numbering,
    papers,
    payments,
    phrases,
    pricing,
    quotes,
    shopbook,
    weighing,
)  # fmt: skip
from shopapp.office.errors import TryAgain
from shopapp.office.jobs import JobFacts, PieceFacts
from shopapp.office.sheets.invoice import InvoiceSheet
from shopapp.office.sheets.money import LineRow, Totals
from shopapp.office.tables.invoices import BilledPiece, Invoice, InvoiceLine
from shopapp.office.tables.jobs import Piece

BILLABLE = {"ready": ("checked", "shelf", "gone"), "fetched": ("gone",)}


@dataclass(frozen=True)
class LineTyped:
    """A line as typed: a quantity may be a count or minutes ("95 min"), the price is for one, or for an hour."""

    words: str
    quantity: str
    price: str

    @property
    def told(self) -> bool:
        """Whether anything was typed that a bill is made of."""
        return bool(self.words.strip() or self.price.strip())


@dataclass(frozen=True)
class Draft:
    """A bill as it would be issued now; `deposits` are pairs of text and the cents of it that the bill would use."""

    rows: tuple[LineRow, ...]
    totals: Totals
    exempt_reason: str
    deposits: tuple[tuple[str, int], ...]
    due_cents: int


def billed(db: Session, job_id: int) -> set[int]:
    """The pieces of a job that stand on an invoice."""
    ids = [piece.id for piece in jobs.pieces(db, job_id)]
    return set(db.exec(select(BilledPiece.piece_id).where(BilledPiece.piece_id.in_(ids))).all())


def to_bill(db: Session, job_id: int) -> list[PieceFacts]:
    """The pieces that may be billed now, by the customer's rule, and are not billed yet."""
    job = jobs.by_id(db, job_id)
    rule = BILLABLE[customers.one(db, job.customer_id).bill_when]
    done = billed(db, job_id)
    return [
        piece for piece in jobs.pieces(db, job_id) if piece.custody in rule and piece.worked and piece.id not in done
    ]


def draft_lines(db: Session, job_id: int, *, now: datetime) -> list[LineTyped]:
    """Lines for the pieces to bill, from the agreed quote: the price of all billed so far and these, less what
    was billed; by the pieces that are finished, never by those that were quoted. Work that was called off is billed
    by what was set up; a piece put right without a quote is on the bill at no charge."""
    quote = quotes.agreed_quote(db, job_id)
    pieces = to_bill(db, job_id)
    now_billed, before = len(pieces), len(billed(db, job_id))
    if quote is None or not now_billed:
        return _no_charge(db, pieces) if pieces else called_off_lines(db, job_id, now=now)
    day = quote.issued_on or shopbook.the_shop(db).today(now)
    whole = quotes.preview(db, job_id=job_id, typed=quote.pricing, day=day, pieces=before + now_billed).price
    if not before:
        return [_typed(line) for line in whole.lines]
    part = quotes.preview(db, job_id=job_id, typed=quote.pricing, day=day, pieces=before).price
    further = whole.net - part.net
    if agreed := next((line for line in whole.lines if line.kind == "agreed"), None):
        lines = [LineTyped(agreed.text, str(now_billed), f"{agreed.unit_cents / 100:.2f}")]
        rest = further - now_billed * agreed.unit_cents
        words = "rush for further pieces" if rest > 0 else "discount on further pieces"
        return [*lines, LineTyped(words, "1", f"{rest / 100:.2f}")] if rest else lines
    words = f"bench time for {now_billed} further pieces, {whole.minutes - part.minutes} min"
    return [LineTyped(words, "1", f"{further / 100:.2f}")] if further else []


def called_off_lines(db: Session, job_id: int, *, now: datetime) -> list[LineTyped]:
    """What was set up before the work was called off: the minutes written down, or the first setting as quoted."""
    job, shop = jobs.by_id(db, job_id), shopbook.the_shop(db)
    if job.ended != "called_off" or any(not bill.void_on for bill in ledger.of_job(db, job_id)):
        return []
    quote, minutes = quotes.agreed_quote(db, job_id), jobs.spent_minutes(db, job_id)
    if quote is None and not minutes:
        return []
    held = quote.pricing.held if quote else None
    rate = held.rate_cents if held else shopbook.rate_on(db, shop.today(now))
    if quote and not minutes:
        first = next((row.first for row in quote.pricing.settings if row.first.strip()), "")
        if not first:
            return []
        minutes = int(quantities.minutes(first).base)
    words = "set-up made before the work was called off"
    return [LineTyped(words, f"{minutes} min", f"{rate / 100:.2f}")]


def _no_charge(db: Session, pieces: list[PieceFacts]) -> list[LineTyped]:
    """A line of nothing for each piece that is put right; whose mistake it was is said before the bill is issued."""
    firsts = {piece.id: piece.rework_of for piece in pieces if piece.rework_of}
    if not firsts or len(firsts) < len(pieces):
        return []
    numbers = {piece.id: piece.number for piece in jobs.pieces_where(db, Piece.id.in_(firsts.values()))}
    return [LineTyped(f"{piece.number} put right, first {numbers[firsts[piece.id]]}: no charge", "1", "0.00")
            for piece in pieces]  # fmt: skip


def _typed(line: object) -> LineTyped:
    if line.kind == "bench":  # its words name no minutes, for the minutes may be changed on the bill
        return LineTyped("bench time", f"{float(line.quantity * 60):g} min", f"{line.unit_cents / 100:.2f}")
    return LineTyped(line.text, str(line.quantity), f"{line.unit_cents / 100:.2f}")


def preview(db: Session, *, job_id: int, lines: list[LineTyped], now: datetime) -> Draft:
    """What a bill comes to on the day, with the tax or the freedom from it of that day, less what is held."""
    job, shop = jobs.by_id(db, job_id), shopbook.the_shop(db)
    day = shop.today(now)
    rows = _rows(lines, shop.currency)
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
    preview(db, job_id=job_id, lines=lines, now=now)
    no = numbering.take(db, "invoice")  # whoever issues at the same moment waits here; what follows sees what they did
    told, day = preview(db, job_id=job_id, lines=lines, now=now), shop.today(now)
    totals, pieces = told.totals, _pieces_to_bill(db, job, piece_ids)
    due_on = day + timedelta(days=customer.terms_days)
    sheet = InvoiceSheet(
        letterhead=shop.letterhead(), party=customer.party(), number=no, job_no=str(job.no), title=job.title,
        order_number=job.order_number, issued_on=str(day), due_on=str(due_on), terms=customer.terms(),
        drawn_by=history.initials(db, by), lines=told.rows, totals=totals, due_cents=told.due_cents,
        exempt_reason=told.exempt_reason, pieces=_weights(db, pieces), deposit_rows=told.deposits,
        not_done=quotes.not_done(db, job_id), phrases=phrases.printed(db, day, "invoice", "workmanship", "terms"),
    )  # fmt: skip
    paper_id = papers.freeze(db, sheet, number=str(no), job_id=job_id, now=now, by=by)
    row = Invoice(
        no=no, customer_id=customer.id, job_id=job_id, issued_on=day, due_on=due_on, net_cents=totals.net_cents,
        tax_cents=totals.tax_cents, total_cents=totals.total_cents, paper_id=paper_id,
    )  # fmt: skip
    db.add(row)
    db.flush()
    _keep_lines(db, row.id, told.rows, _prices(lines), pieces)
    payments.apply_held(db, payments.usable(db, job_id), invoice_id=row.id, most=totals.total_cents)
    words = f"invoice {no}: {money.show(totals.total_cents, shop.currency)}, due {due_on}"
    history.write(db, now=now, by=by, act="billed", words=words, job_id=job_id, customer_id=customer.id)
    return no


def _pieces_to_bill(db: Session, job: JobFacts, piece_ids: list[int] | None) -> list[PieceFacts]:
    allowed = to_bill(db, job.id)
    if piece_ids is None:
        return allowed
    wrong = [piece for piece in jobs.pieces(db, job.id) if piece.id in piece_ids and piece not in allowed]
    if wrong:
        raise TryAgain(f"Piece {wrong[0].number} is billed already, or not yet to be billed. Leave it off this bill.")
    return [piece for piece in allowed if piece.id in piece_ids]


def _keep_lines(
    db: Session, invoice_id: int, rows: tuple[LineRow, ...], prices: list[int], pieces: list[PieceFacts]
) -> None:
    for row, each in zip(rows, prices, strict=True):
        db.add(
            InvoiceLine(
                invoice_id=invoice_id, words=row.text, quantity=row.quantity, unit_cents=each, cents=row.cents,
                taxable=row.taxable,
            )
        )  # fmt: skip
    for piece in pieces:
        db.add(BilledPiece(piece_id=piece.id, invoice_id=invoice_id))
    db.flush()


def _prices(lines: list[LineTyped]) -> list[int]:
    """What one, or an hour, costs in each line [cents]."""
    return [_price(line.price) for line in lines if line.told]


def _price(text: str) -> int:
    """The price of one [cents]; a discount is typed with its minus."""
    said = text.strip().replace("−", "-")
    cents = int(quantities.money(said.removeprefix("-")).base)
    return -cents if said.startswith("-") else cents


def _rows(lines: list[LineTyped], currency: str) -> tuple[LineRow, ...]:
    """Lines as typed, read and summed; every problem is told at once."""
    problems: dict[str, str] = {}
    rows = []
    for i, line in enumerate(lines):
        if not line.told:
            continue
        try:
            quantity, said, each = _count(line.quantity)
            cents = _price(line.price)
        except BenchError as refusal:
            problems[f"line_{i}"] = str(refusal)
            continue
        if not line.words.strip():
            problems[f"line_{i}"] = "Say what this line is for; it stands on the bill."
        amount = money.line(quantity, cents)
        unit = "min" if each else "each"
        rows.append(
            LineRow(
                line.words.strip(), said, money.show(cents, currency) + each, money.show(amount, currency), amount,
                count=str(quantity * 60 if each else quantity), unit=unit, unit_cents=cents,
            )
        )  # fmt: skip
    if not rows and not problems:
        problems["line_0"] = "Write at least one line: what was done, and its price."
    if problems:
        raise TryAgain(problems)
    return tuple(rows)


def _count(text: str) -> tuple[Fraction, str, str]:
    """A count, or minutes as a part of an hour; how it is printed, and what one price is for."""
    said = text.strip() or "1"
    if any(c.isalpha() for c in said):
        minutes = quantities.minutes(said)
        return minutes.base / 60, f"{float(minutes.base):g} min", "/h"
    return quantities.number(said), said, ""


def _weights(db: Session, pieces: list[PieceFacts]) -> tuple[str, ...]:
    """A line for each piece: what it weighed before and after, by which scale."""
    told = weighing.of_pieces(db, pieces)
    lines = []
    for piece in pieces:
        weighed = told[piece.id]
        if weighed.before and weighed.after:
            lines.append(
                f"{piece.number} {piece.name}: {weighed.before.text} before, {weighed.after.text} after, "
                f"{weighed.removed_text} off ({weighed.before.scale_words})"
            )
        else:
            lines.append(f"{piece.number} {piece.name}: not weighed before and after")
    return tuple(lines)
