"""Sheets to print: the invented reverse wheel of the demo shop, and the papers of its job."""

from dataclasses import replace

from shapely import Polygon, box, unary_union
from shapely.geometry.base import BaseGeometry

from shopapp.office.sheets.credit import CreditSheet
from shopapp.office.sheets.invoice import InvoiceSheet
from shopapp.office.sheets.letterhead import Letterhead, Party
from shopapp.office.sheets.money import LineRow, Totals
from shopapp.office.sheets.quote import QuoteSheet
from shopapp.office.sheets.ready import ReadyPiece, ReadySheet
from shopapp.office.sheets.removal import RemovalSheet, TakeRow
from shopapp.office.sheets.section import KeepOutMark, Patch, SectionSheet, SizeMark

INCH = 25.4


def ring(outside: float, inside: float, start: float, end: float) -> Polygon:
    return box(start * INCH, inside / 2 * INCH, end * INCH, outside / 2 * INCH)


def patches(area: BaseGeometry) -> tuple[Patch, ...]:
    return tuple(
        Patch(tuple(part.exterior.coords), tuple(tuple(hole.coords) for hole in part.interiors))
        for part in getattr(area, "geoms", (area,))
    )


def size(what: str, a: tuple[float, float], b: tuple[float, float], text: str, before: bool = False) -> SizeMark:
    return SizeMark(what, (a[0] * INCH, a[1] * INCH), (b[0] * INCH, b[1] * INCH), text, before)


def wheel() -> SectionSheet:
    body = unary_union([ring(9.5, 7.5, 0, 2.5), ring(7.5, 3.25, 0, 0.65), ring(3.25, 1.75, 0, 2.1)])
    cuts = unary_union([ring(9.5, 8.875, 0, 1.0505), ring(8.875, 4.25, 0, 0.3), ring(9.5, 8.875, 1.4495, 2.5)])
    hole = tuple(ring(6.03, 4.97, 0.3, 0.65).exterior.coords)
    edges = [(z, KeepOutMark("pocket edge", z * INCH, 8.9 * INCH, 9.5 * INCH, ".012 left")) for z in (1.0625, 1.4375)]
    sizes = (
        size("diameter", (2.5, 4.4375), (2.5, 0), "8.875"),
        size("diameter", (2.5, 4.75), (2.5, 0), "9.500", before=True),
        size("diameter", (0, 2.125), (0, 0), "4.250"),
        size("diameter", (2.5, 3.75), (0.65, 3.75), "7.500"),
        size("diameter", (2.1, 0.875), (0, 0.875), "1.750"),
        size("diameter", (2.1, 1.625), (2.1, 0), "3.250"),
        size("length", (0, 2.125), (0.3, 2.125), ".300"),
        size("length", (0.3, 3.2), (0.65, 3.2), ".350"),
        size("length", (0, 4.4375), (1.0505, 4.4375), "1.0505"),
        size("length", (0, 0.9), (2.5, 3.75), "2.500"),
        size("length", (2.5, 4.4375), (2.5, 3.75), ".6875"),
    )
    return SectionSheet(
        "Carriage reverse wheel, six-pocket",
        "in",
        patches(body.difference(cuts)),
        patches(body.intersection(cuts)),
        (hole,),
        tuple(mark for _, mark in edges),
        sizes,
    )


def letterhead(**told: object) -> Letterhead:
    plain = Letterhead(
        "Knurlbottom Turning & Repair",
        "Wendeline Knurlbottom",
        "Lower Quench",
        "555-0100",
        "book@knurlbottom.example",
        cautions=("Weights are by the shop's scale, which shows halves of a pound.", "No speed rating given."),
    )
    return replace(plain, **told)


def removal() -> RemovalSheet:
    rows = (
        TakeRow("A", "turn", "9.500 → 8-7/8, to 1.0505", 1102.0, "2.43 lb"),
        TakeRow("A", "face", ".300 deep, 8-7/8 → 4.250", 1633.5, "3.60 lb"),
    )
    return RemovalSheet(
        rows, (("A", "6.03 lb"),), 3841.0, 3650.0, 4030.0, "8.5 lb", "8.0 to 8.9 lb", "26.0 lb", "17.6 lb", pieces=2
    )


def line(text: str = "bench time 75 min at $86.00/h", cents: int = 10750, taxable: bool = True) -> LineRow:
    money = f"${cents // 100}.{cents % 100:02}"
    return LineRow(text, "1", money, money, cents, taxable)


PARTY = Party("Snickerby Sawmill", "Tovald Snickerby", "Log Pond Road 4\nLower Quench")
NOT_DONE = ("Balancing", "Crack test", "Heat treatment")
TOTALS = Totals(27600, 27600, "6.25", 1725, 29325)


def quote(**told: object) -> QuoteSheet:
    plain = QuoteSheet(
        letterhead(), PARTY, "1189 A", "A", "1189", "2 reverse wheels", "2026-03-25", "2026-04-24", "WK",
        ("1189-1 six-pocket", "1189-2 eight-pocket"), (line("2 reverse wheels, agreed price", 27600),), TOTALS,
        "170 min", (removal(),), (wheel(),), NOT_DONE, ("Truing up", "Bevels 1/32"),
    )  # fmt: skip
    return replace(plain, **told)


def ready(**told: object) -> ReadySheet:
    piece = ReadyPiece("1161-1", "six-pocket, for carriage 2", "on the pick-up shelf", "26.0 lb", "17.5 lb", "8.5 lb",
                       "8.5 lb", "bench dial, shows halves", "agrees")  # fmt: skip
    plain = ReadySheet(letterhead(), PARTY, "1161", "2 reverse wheels", "2025-10-09", "WK", (piece,), "$293.25",
                       NOT_DONE, "Mon-Fri 7:30-16:30", "Your reverse wheels are ready.")  # fmt: skip
    return replace(plain, **told)


def invoice(**told: object) -> InvoiceSheet:
    plain = InvoiceSheet(
        letterhead(), PARTY, 701, "1161", "2 reverse wheels", "PO-88", "2025-10-09", "2025-11-08", "account, 30 days",
        "WK", (line("2 reverse wheels, agreed price", 27600),), TOTALS, 24325,
        pieces=("1161-1: 26.0 to 17.5 lb",), deposit_rows=(("Deposit of 3 Oct 2025, cash", 5000),), not_done=NOT_DONE,
    )  # fmt: skip
    return replace(plain, **told)


def credit(**told: object) -> CreditSheet:
    plain = CreditSheet(
        letterhead(), PARTY, 12, 714, "1174", "Labour for one end plate", "One end plate was spoiled in our chuck.",
        "2025-12-20", "WK", (line(),), Totals(10750, 10750, "6.25", 672, 11422), NOT_DONE,
    )  # fmt: skip
    return replace(plain, **told)
