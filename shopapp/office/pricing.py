"""The price sheet as typed, and the price that the bench makes of it."""

import json
from collections.abc import Callable
from dataclasses import asdict, dataclass, field
from fractions import Fraction

from shopapp.bench import money, quantities
from shopapp.bench import pricing as bench
from shopapp.bench.errors import BenchError
from shopapp.bench.rounding import half_up
from shopapp.office.errors import TryAgain
from shopapp.office.sheets.money import LineRow, Totals
from shopapp.office.shopbook import ShopFacts

MOST_CENTS = 10**11
"""What no paper comes to; far below what the tables can hold."""


@dataclass(frozen=True)
class SettingTyped:
    """One chuck setting: minutes for the first piece, each further piece, and cutting per piece."""

    name: str
    first: str
    each: str = ""
    cut: str = ""


@dataclass(frozen=True)
class ExtraTyped:
    """Something besides bench time: bevels by hand, bought metal, a trip."""

    words: str
    quantity: str
    price: str


@dataclass(frozen=True)
class PricingTyped:
    """Everything on a price sheet, as typed."""

    pieces: str = "1"
    settings: tuple[SettingTyped, ...] = ()
    extras: tuple[ExtraTyped, ...] = ()
    rush: bool = False
    agreed_each: str = ""
    agreed_words: str = ""
    words: str = ""
    deposit: str = ""

    def to_json(self) -> str:
        """The sheet as kept."""
        return json.dumps(asdict(self), ensure_ascii=False, sort_keys=True)

    @classmethod
    def from_json(cls, text: str) -> "PricingTyped":
        """A kept sheet read back."""
        told = json.loads(text)
        settings = tuple(SettingTyped(**row) for row in told.pop("settings"))
        return cls(settings=settings, extras=tuple(ExtraTyped(**row) for row in told.pop("extras")), **told)


@dataclass(frozen=True)
class Priced:
    """A price with its tax."""

    price: bench.Price
    totals: Totals
    rows: tuple[LineRow, ...] = field(default=())


def priced(
    typed: PricingTyped, *, shop: ShopFacts, rate_cents: int, tax_percent: str, exempt: bool, pieces: int | None = None
) -> Priced:
    """The price of a sheet, or every problem in it at once."""
    reader = _Reader()
    count = pieces if pieces is not None else reader.whole("pieces", typed.pieces, 1, 200)
    settings = [_setting(reader, i, row) for i, row in enumerate(typed.settings) if row.first or row.cut or row.name]
    extras = [_extra(reader, i, row) for i, row in enumerate(typed.extras) if row.words or row.price]
    agreed = reader.cents("agreed_each", typed.agreed_each) if typed.agreed_each.strip() else None
    if not reader.problems and not settings and not extras and agreed is None:
        reader.problems["setting_0_first"] = "Write the minutes of a chuck setting, or an agreed price for each piece."
    reader.stop()
    try:
        price = bench.price(
            count, settings, rate_cents, extras=extras, minimum_cents=shop.minimum_cents,
            rush=Fraction(shop.rush_percent) / 100 if typed.rush else None, agreed_each_cents=agreed,
            agreed_words=typed.agreed_words.strip() or "agreed price",
        )  # fmt: skip
    except BenchError as refusal:
        raise TryAgain(str(refusal)) from refusal
    if price.net > MOST_CENTS:
        raise TryAgain("That comes to more than any bill of a shop. Look at the figures again.")
    return Priced(price, taxed(price.net, price.taxable, tax_percent, exempt), rows(price.lines, shop.currency))


def taxed(net: int, taxable: int, tax_percent: str, exempt: bool) -> Totals:
    """Net, tax once per document, total."""
    base = 0 if exempt else taxable
    tax = money.tax(base, Fraction(tax_percent) / 100)
    return Totals(net, base, "0" if exempt else tax_percent, tax, net + tax)


def rows(lines: tuple[bench.PriceLine, ...], currency: str) -> tuple[LineRow, ...]:
    """Priced lines as they are printed; bench time in minutes at a price by the hour."""
    return tuple(
        LineRow(
            text=line.text,
            quantity=f"{float(line.quantity * 60):g} min" if line.kind == "bench" else count_text(line.quantity),
            unit_price=money.show(line.unit_cents, currency) + ("/h" if line.kind == "bench" else ""),
            amount=money.show(line.cents, currency),
            cents=line.cents,
            taxable=line.taxable,
        )
        for line in lines
    )


def count_text(quantity: Fraction) -> str:
    """A count as it is printed: whole, an exact decimal, or a fraction where a decimal would round it."""
    short = f"{float(quantity):.4f}".rstrip("0").rstrip(".")
    return short if Fraction(short) == quantity else str(quantity)


def _setting(reader: "_Reader", i: int, row: SettingTyped) -> bench.Setting:
    return bench.Setting(
        name=row.name.strip() or f"setting {i + 1}",
        first_min=reader.minutes(f"setting_{i}_first", row.first),
        each_min=reader.minutes(f"setting_{i}_each", row.each),
        cut_min=reader.minutes(f"setting_{i}_cut", row.cut),
    )


def _extra(reader: "_Reader", i: int, row: ExtraTyped) -> bench.Extra:
    if not row.words.strip():
        reader.problems[f"extra_{i}_words"] = "Say what this line is for; it stands on the quote."
    return bench.Extra(
        text=row.words.strip(),
        quantity=reader.number(f"extra_{i}_quantity", row.quantity or "1"),
        unit_cents=reader.cents(f"extra_{i}_price", row.price),
    )


class _Reader:
    """Reads typed text and gathers every problem, so that all are told at once."""

    def __init__(self) -> None:
        self.problems: dict[str, str] = {}

    def stop(self) -> None:
        if self.problems:
            raise TryAgain(self.problems)

    def minutes(self, name: str, text: str) -> int:
        return half_up(self._read(name, lambda: quantities.minutes(text).base)) if text.strip() else 0

    def cents(self, name: str, text: str) -> int:
        return int(self._read(name, lambda: quantities.money(text).base))

    def number(self, name: str, text: str) -> Fraction:
        return self._read(name, lambda: quantities.number(text))

    def whole(self, name: str, text: str, least: int, most: int) -> int:
        value = int(self._read(name, lambda: Fraction(quantities.whole(text))))
        if name not in self.problems and not least <= value <= most:
            self.problems[name] = f"Between {least} and {most}, please."
        return value

    def _read(self, name: str, act: Callable[[], Fraction]) -> Fraction:
        try:
            return act()
        except BenchError as refusal:
            self.problems[name] = str(refusal)
            return Fraction(1)
