"""The lines of a bill as typed: read and summed, every problem told at once; kept with the bill when it is issued."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from sqlmodel import Session

from shopapp.bench import money, quantities
from shopapp.bench.errors import BenchError
from shopapp.office import weighing
from shopapp.office.errors import TryAgain
from shopapp.office.jobs import PieceFacts
from shopapp.office.sheets.money import LineRow
from shopapp.office.tables.invoices import BilledPiece, InvoiceLine


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


def keep(db: Session, invoice_id: int, rows: tuple[LineRow, ...], prices: list[int], pieces: list[PieceFacts]) -> None:
    """Keep the lines of a bill, and which pieces stand on it."""
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


def prices(lines: Sequence[LineTyped]) -> list[int]:
    """What one, or an hour, costs in each line [cents]."""
    return [_price(line.price) for line in lines if line.told]


def sum_of(lines: Sequence[LineTyped]) -> int:
    """What lines of counts come to [cents]."""
    return sum(money.line(quantities.number(line.quantity), _price(line.price)) for line in lines)


def _price(text: str) -> int:
    """The price of one [cents]; a discount is typed with its minus."""
    said = text.strip().replace("−", "-")
    cents = int(quantities.money(said.removeprefix("-")).base)
    return -cents if said.startswith("-") else cents


def rows(lines: Sequence[LineTyped], currency: str) -> tuple[LineRow, ...]:
    """Lines as typed, read and summed; every problem is told at once."""
    problems: dict[str, str] = {}
    told = []
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
        told.append(
            LineRow(
                line.words.strip(), said, money.show(cents, currency) + each, money.show(amount, currency), amount,
                count=str(quantity * 60 if each else quantity), unit=unit, unit_cents=cents,
            )
        )  # fmt: skip
    if not told and not problems:
        problems["line_0"] = "Write at least one line: what was done, and its price."
    if problems:
        raise TryAgain(problems)
    return tuple(told)


def _count(text: str) -> tuple[Fraction, str, str]:
    """A count, or minutes as a part of an hour; how it is printed, and what one price is for."""
    said = text.strip() or "1"
    if any(c.isalpha() for c in said):
        minutes = quantities.minutes(said)
        return minutes.base / 60, f"{float(minutes.base):g} min", "/h"
    return quantities.number(said), said, ""


def weights(db: Session, pieces: list[PieceFacts]) -> tuple[str, ...]:
    """A line for each piece: what it weighed before and after, by which scale."""
    told = weighing.of_pieces(db, pieces)
    lines = []
    for piece in pieces:
        weighed = told[piece.id]
        if weighed.before and weighed.after:
            lines.append(
                f"{piece.number} {piece.name}: {weighed.before.text} before, {weighed.after.text} after, "
                f"{weighed.removed_text} off ({weighed.before.scale_words})"
                + (f"; by the drawing {weighed.predicted_text}: {weighed.verdict}" if weighed.verdict else "")
            )
        else:
            lines.append(f"{piece.number} {piece.name}: not weighed before and after")
    return tuple(lines)
