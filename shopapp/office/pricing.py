"""The price sheet as typed, and the price that the bench makes of it."""

import json
from collections.abc import Callable
from dataclasses import asdict, dataclass, field, replace
from fractions import Fraction

from shopapp.bench import money, quantities
from shopapp.bench import pricing as bench
from shopapp.bench.errors import BenchError
from shopapp.bench.rounding import half_up
from shopapp.office.errors import InTheWay, TryAgain
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
class MaterialTyped:
    """Bought material: what it costs the shop, and the mark-up in percent; the customer sees the price only."""

    words: str
    quantity: str
    cost: str
    markup: str = ""


@dataclass(frozen=True)
class OutsideTyped:
    """Work done by another shop: what that asks, and the handling in percent."""

    words: str
    cost: str
    handling: str = ""


@dataclass(frozen=True)
class HeldTerms:
    """What a quote was issued by, and is billed by whatever the shop book says later [cents]."""

    rate_cents: int
    minimum_cents: int
    rush_percent: str
    agreed_cents: int | None = None
    agreed_words: str = ""
    agreement_id: int = 0


@dataclass(frozen=True)
class PricingTyped:
    """Everything on a price sheet, as typed. `held` is written when its quote is issued; nobody types it."""

    pieces: str = "1"
    settings: tuple[SettingTyped, ...] = ()
    extras: tuple[ExtraTyped, ...] = ()
    rush: bool = False
    agreed_each: str = ""
    agreed_words: str = ""
    words: str = ""
    material: tuple[MaterialTyped, ...] = ()
    outside: tuple[OutsideTyped, ...] = ()
    discount: str = ""
    discount_reason: str = ""
    held: HeldTerms | None = field(default=None, compare=False)

    def to_json(self) -> str:
        """The sheet as kept."""
        return json.dumps(asdict(self), ensure_ascii=False, sort_keys=True)

    @classmethod
    def from_json(cls, text: str) -> "PricingTyped":
        """A kept sheet read back."""
        told = json.loads(text)
        lists = {
            name: tuple(made(**row) for row in told.pop(name, ()))
            for name, made in (
                ("settings", SettingTyped), ("extras", ExtraTyped), ("material", MaterialTyped),
                ("outside", OutsideTyped),
            )
        }  # fmt: skip
        held = told.pop("held", None)
        return cls(**lists, held=HeldTerms(**held) if held else None, **told)


@dataclass(frozen=True)
class Priced:
    """A price with its tax."""

    price: bench.Price
    totals: Totals
    rows: tuple[LineRow, ...] = field(default=())
    notices: tuple[str, ...] = ()
    """For the owner only; none of it stands on a paper."""
    terms: HeldTerms | None = None


def priced(
    typed: PricingTyped, *, shop: ShopFacts, rate_cents: int, tax_percent: str, exempt: bool, pieces: int | None = None,
    terms: HeldTerms | None = None, notices: tuple[str, ...] = (),
) -> Priced:  # fmt: skip
    """The price of a sheet, or every problem in it at once. `terms` hold against the shop's present ones."""
    terms = terms or HeldTerms(rate_cents, shop.minimum_cents, shop.rush_percent)
    reader = _Reader()
    count = pieces if pieces is not None else reader.whole("pieces", typed.pieces, 1, 200)
    settings = [_setting(reader, i, row) for i, row in enumerate(typed.settings) if row.first or row.cut or row.name]
    extras = [_extra(reader, i, row) for i, row in enumerate(typed.extras) if row.words or row.price]
    extras += [_material(reader, i, row) for i, row in enumerate(typed.material) if row.words or row.cost]
    extras += [_outside(reader, i, row) for i, row in enumerate(typed.outside) if row.words or row.cost]
    agreed = reader.cents("agreed_each", typed.agreed_each) if typed.agreed_each.strip() else terms.agreed_cents
    agreed_words = typed.agreed_words if typed.agreed_each.strip() else terms.agreed_words
    if not reader.problems and not settings and not extras and agreed is None:
        reader.problems["setting_0_first"] = "Write the minutes of a chuck setting, or an agreed price for each piece."
    reader.stop()
    try:
        price = bench.price(
            count, settings, terms.rate_cents, extras=extras, minimum_cents=terms.minimum_cents,
            rush=Fraction(terms.rush_percent) / 100 if typed.rush else None, agreed_each_cents=agreed,
            agreed_words=agreed_words.strip() or "agreed price",
        )  # fmt: skip
    except BenchError as refusal:
        raise TryAgain(str(refusal)) from refusal
    price = _discounted(price, typed)
    if price.net > MOST_CENTS:
        raise TryAgain("That comes to more than any bill of a shop. Look at the figures again.")
    each = [line.cents for line in price.lines if line.taxable] if shop.tax_by == "line" else None
    totals = taxed(price.net, price.taxable, tax_percent, exempt, each)
    return Priced(price, totals, rows(price.lines, shop.currency), notices, terms)


def taxed(net: int, taxable: int, tax_percent: str, exempt: bool, each: list[int] | None = None) -> Totals:
    """Net, tax, total. Tax is rounded once per document, or on each line where the lines' cents are told."""
    base, rate = (0, Fraction(0)) if exempt else (taxable, Fraction(tax_percent) / 100)
    parts = [base] if each is None or exempt else each
    try:
        tax = sum(money.tax(cents, rate) for cents in parts)
    except BenchError as refusal:
        raise InTheWay(str(refusal)) from refusal
    by = "document" if each is None else "line"
    return Totals(net, base, "0" if exempt else tax_percent, tax, net + tax, by)


def _discounted(price: bench.Price, typed: PricingTyped) -> bench.Price:
    """A discount stands on a line of its own, after everything else, with its reason."""
    said, reason = typed.discount.strip(), typed.discount_reason.strip()
    if not said:
        return price
    reader = _Reader()
    if said.endswith("%"):
        cents = half_up(price.net * reader.percent("discount", said))
    else:
        cents = reader.cents("discount", said)
    if not reason:
        reader.problems["discount_reason"] = "Say what the discount is for; it stands on the quote."
    if "discount" not in reader.problems and cents > price.net:
        reader.problems["discount"] = "That is more than the sheet comes to. Look at the discount again."
    reader.stop()
    if not cents:
        return price
    taxable = price.taxable == price.net
    line = bench.PriceLine(f"discount: {reason}", Fraction(1), -cents, -cents, taxable, "discount")
    return replace(
        price, lines=(*price.lines, line), net=price.net - cents,
        taxable=price.taxable - cents if taxable else price.taxable,
    )  # fmt: skip


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
            count=str(line.quantity * 60 if line.kind == "bench" else line.quantity),
            unit="min" if line.kind == "bench" else "each",
            unit_cents=line.unit_cents,
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


def _material(reader: "_Reader", i: int, row: MaterialTyped) -> bench.Extra:
    """What the customer pays for one is the cost with the mark-up, half-up to whole cents."""
    if not row.words.strip():
        reader.problems[f"material_{i}_words"] = "Say what was bought; it stands on the quote."
    cost = reader.cents(f"material_{i}_cost", row.cost)
    markup = reader.percent(f"material_{i}_markup", row.markup)
    quantity = reader.number(f"material_{i}_quantity", row.quantity or "1")
    return bench.Extra(text=row.words.strip(), quantity=quantity, unit_cents=half_up(cost * (1 + markup)))


def _outside(reader: "_Reader", i: int, row: OutsideTyped) -> bench.Extra:
    if not row.words.strip():
        reader.problems[f"outside_{i}_words"] = "Say what is done elsewhere; it stands on the quote."
    cost = reader.cents(f"outside_{i}_cost", row.cost)
    handling = reader.percent(f"outside_{i}_handling", row.handling)
    return bench.Extra(text=row.words.strip(), quantity=Fraction(1), unit_cents=half_up(cost * (1 + handling)))


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

    def percent(self, name: str, text: str) -> Fraction:
        return self._read(name, lambda: quantities.percent(text)) if text.strip() else Fraction(0)

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
