"""Sheets of the desk's papers: the invented sawmill's bills and money, and the hand-over of its wheels."""

from base64 import b64encode
from dataclasses import replace
from functools import cache
from io import BytesIO

from PIL import Image

from shopapp.office.sheets.handover import GonePiece, HandOverSheet
from shopapp.office.sheets.letter import LetterSheet
from shopapp.office.sheets.question import QuestionSheet, Shown
from shopapp.office.sheets.receipt import DepositSheet, ReceiptSheet
from shopapp.office.sheets.statement import ReminderSheet, StatementRow, StatementSheet
from tests.papers.samples import NOT_DONE, PARTY, letterhead

AGES = ("not yet due", "1 to 30 days", "31 to 60 days", "61 to 90 days", "over 90 days")
OWNER_SAYS = "Please pay by the number of the bill."
SIGNED = ("M40 150C60 20 110 20 120 140L130 90Q160 60 180 120T230 110S260 60 300 120L320 60M330 130H420"
          "C440 80 470 80 480 130l20 -40 20 40z")  # fmt: skip
"""A signature as a finger leaves it."""


def bill(number: int, due: int, late: int, **told: object) -> StatementRow:
    plain = StatementRow(number, str(number + 460), "2 reverse wheels", "2026-01-12", "2026-02-11", due, 0, due, late)
    return replace(plain, **told)


BILLS = (
    bill(709, 7615, 96, title="End plates, truing up", issued_on="2025-11-25", due_on="2025-12-25"),
    bill(716, 30616, 48, total_cents=35616, off_cents=5000, due_on="2026-02-11"),
    bill(719, 11350, 1, title="Brake drum, skim", issued_on="2026-02-28", due_on="2026-03-30"),
    bill(721, 4888, 0, title="Idler, bevels", issued_on="2026-03-20", due_on="2026-04-19"),
)
"""Four bills, one of each age but one."""


def statement(rows: tuple[StatementRow, ...] = BILLS, **told: object) -> StatementSheet:
    cents = [0] * len(AGES)
    for row in rows:
        cents[0 if row.days_late <= 0 else min(1 + (row.days_late - 1) // 30, 4)] += row.due_cents
    plain = StatementSheet(
        letterhead(), PARTY, "S3-1", "2026-03-31", "2026-03-31", "WK", rows, tuple(zip(AGES, cents, strict=True)),
        sum(cents), 5000, "account, 30 days", (OWNER_SAYS,),
    )  # fmt: skip
    return replace(plain, **told)


def reminder(**told: object) -> ReminderSheet:
    late = tuple(row for row in BILLS if row.days_late > 0)
    plain = ReminderSheet(
        letterhead(), PARTY, "M3-1", "2026-03-31", "2026-03-31", "WK", late, sum(row.due_cents for row in late),
        "Tovald, these slipped by.", (OWNER_SAYS,),
    )  # fmt: skip
    return replace(plain, **told)


def receipt(**told: object) -> ReceiptSheet:
    plain = ReceiptSheet(
        letterhead(), PARTY, "1161-P2", "1161", "2 reverse wheels", "2025-10-09", "2025-10-08", "WK", 30000, "$300.00",
        "cheque", "no. 4471", (("invoice 701", 24325),), 5675, "paid in full", (OWNER_SAYS,),
    )  # fmt: skip
    return replace(plain, **told)


def deposit(**told: object) -> DepositSheet:
    plain = DepositSheet(
        letterhead(), PARTY, "1161-P1", "1161", "2 reverse wheels", "2025-10-03", "2025-10-03", "WK", 5000, "$50.00",
        "cash", "", "total by quote A: $293.25", "left after what is held: $243.25", (OWNER_SAYS,),
    )  # fmt: skip
    return replace(plain, **told)


def hand_over(**told: object) -> HandOverSheet:
    pieces = (
        GonePiece("1187-1", "Carriage reverse wheel, six-pocket", "gone home", "26.0 lb", "17.5 lb", "8.5 lb",
                  "for carriage 2"),
        GonePiece("1190-1", "Brake drum", "gone home", destination="for the customer's shelf"),
    )  # fmt: skip
    plain = HandOverSheet(
        letterhead(), PARTY, "1187-H1", ("1187", "1190"), "2026-04-02", "WK", pieces, "Ottoline Snickerby", "signed",
        SIGNED, ("1187-1 Carriage reverse wheel, six-pocket", "1190-1 Brake drum", "key of 1187-1"),
        ("key of 1187-1",), ("two set screws of 1187-1",),
        ("1187-2 Carriage reverse wheel, eight-pocket: on the pick-up shelf",), True,
        "job 1187: To pay: $243.25; job 1190: To pay: $0.00", NOT_DONE,
        ("I took the pieces named here and looked them over.",),
    )  # fmt: skip
    return replace(plain, **told)


def letter(**told: object) -> LetterSheet:
    plain = LetterSheet(
        letterhead(), PARTY, "1165-L1", "1165", "2 end plates", "2026-03-31", "WK",
        ("1165-1 End plate, cast", "1165-2 End plate, cast"), "2026-02-25", 34,
        ("26 Feb 2026: left a message (WK)", "9 Mar 2026: no answer (WK)"), "To pay: $76.15", "Mon-Fri 7:30-16:30",
        "Your plates are in the way of the saw, a little.",
        "Pieces wait 60 days free of charge.\nAfter that a shelf costs $2.00 a week.", NOT_DONE,
    )  # fmt: skip
    return replace(plain, **told)


@cache
def photo(wide: int = 640, high: int = 480, colour: str = "#8a8f94") -> str:
    """A picture of one colour, as JPEG in base64."""
    held = BytesIO()
    Image.new("RGB", (wide, high), colour).save(held, "JPEG", quality=82)
    return b64encode(held.getvalue()).decode()


def question(**told: object) -> QuestionSheet:
    shown = (Shown("the crack, beside the key", photo()), Shown("from the back", photo(480, 640, "#b5301a")))
    plain = QuestionSheet(
        letterhead(), PARTY, "1174-Q1", "1174", "2 end plates", "2025-12-12", "2025-12-11", "WK",
        "There is a crack from the bore to the rim, .350 long.\nShall we turn the plate all the same?",
        "Tovald Snickerby", ("1174-1 End plate, cast", "1174-2 End plate, cast"), "", shown, NOT_DONE,
    )  # fmt: skip
    return replace(plain, **told)
