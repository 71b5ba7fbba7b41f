"""The price of a job: minutes by chuck setting, extras, rush and the minimum charge, each on a line of its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from shopapp.bench.errors import Impossible
from shopapp.bench.money import line, show
from shopapp.bench.rounding import fixed

_MOST_RUSH = 5  # a share: 500 %


@dataclass(frozen=True)
class Setting:
    """One chuck setting: minutes for the first piece in it, for each further one, and of cutting per piece."""

    name: str
    first_min: int
    each_min: int
    cut_min: int


@dataclass(frozen=True)
class Extra:
    """Something beside the bench time: bought material, a part, a trip."""

    text: str
    quantity: Fraction
    unit_cents: int
    taxable: bool = True


@dataclass(frozen=True)
class PriceLine:
    """One line as it stands on the paper; kind is bench, agreed, extra, rush or minimum."""

    text: str
    quantity: Fraction
    unit_cents: int
    cents: int
    taxable: bool
    kind: str


@dataclass(frozen=True)
class Price:
    """All lines, the bench minutes, the net sum and the part of it that is taxed."""

    lines: tuple[PriceLine, ...]
    minutes: int
    net: int
    taxable: int


def setting_minutes(pieces: int, setting: Setting) -> int:
    """Minutes of one chuck setting for so many pieces (common practice, no source).

    Formula: first_min + (pieces - 1)·each_min + pieces·cut_min

    pieces: how many pieces go through this setting [count]
    setting: its minutes [min]

    Returns: the minutes [min].
    Limits: one piece or more, no minutes below zero.
    Raises: Impossible outside these limits.

    >>> setting_minutes(2, Setting("side A", 25, 10, 8))
    51
    """
    if pieces < 1:
        raise Impossible("A price is for one piece or more. Type how many.")
    if min(setting.first_min, setting.each_min, setting.cut_min) < 0:
        raise Impossible(f"The minutes of {setting.name} are below zero. Type them again.")
    return setting.first_min + (pieces - 1) * setting.each_min + pieces * setting.cut_min


def _line(text: str, quantity: Fraction, unit_cents: int, taxable: bool, kind: str) -> PriceLine:
    return PriceLine(text, quantity, unit_cents, line(quantity, unit_cents), taxable, kind)


def _work(
    pieces: int, minutes: int, rate: int, agreed_each: int | None, agreed_words: str, taxed: bool
) -> list[PriceLine]:
    """The bench time, or the agreed price that stands in its place."""
    if agreed_each is not None:
        return [_line(agreed_words, Fraction(pieces), agreed_each, taxed, "agreed")]
    if not minutes:
        return []
    text = f"bench time {minutes} min at {show(rate)}/h"
    return [_line(text, Fraction(minutes, 60), rate, taxed, "bench")]


def _rush(work: list[PriceLine], rush: Fraction | None, taxed: bool) -> list[PriceLine]:
    """The rush share of the bench time, or of the agreed price that stands in its place."""
    if not rush or not work:
        return []
    if not 0 < rush <= _MOST_RUSH:
        raise Impossible("Rush is from 0 to 500 %. Look at the percentage.")
    of = "the agreed price" if work[0].kind == "agreed" else "bench time"
    cents = line(rush, sum(one.cents for one in work))
    text = f"rush {fixed(rush * 100, 2, strip=True)} % of {of}"
    return [PriceLine(text, Fraction(1), cents, cents, taxed, "rush")]


def price(
    pieces: int,
    settings: Sequence[Setting],
    rate_cents_per_hour: int,
    extras: Sequence[Extra] = (),
    minimum_cents: int = 0,
    rush: Fraction | None = None,
    agreed_each_cents: int | None = None,
    agreed_words: str = "agreed price",
    exempt: bool = False,
) -> Price:
    """The price of so many pieces, line by line (common practice, no source).

    Formula: net = max(minimum, minutes·rate/60 + rush share of that + extras); each line half-up to whole cents.

    pieces: how many go through every setting [count]
    settings: the chuck settings with their minutes [min]
    rate_cents_per_hour: the shop rate [cents/h]
    extras: what is charged beside the bench time [cents]
    minimum_cents: the least the shop charges, topped up with a line of its own [cents]
    rush: share of the bench time, 7/20 for 35 % [share]
    agreed_each_cents: agreed price of one piece, in place of the bench time [cents]
    agreed_words: what the line of the agreed price says [text]
    exempt: the customer pays no tax [yes/no]

    Returns: the lines, minutes in [min], net and taxable in [cents].
    Limits: an agreed price stands as agreed: no minimum is put on top of it.
    Raises: Impossible for no pieces, minutes or money below zero, or a rush above 500 %.

    >>> bill = price(1, [Setting("face", 45, 0, 30)], 8600, rush=Fraction(35, 100))
    >>> [(row.text, row.cents) for row in bill.lines]
    [('bench time 75 min at $86.00/h', 10750), ('rush 35 % of bench time', 3763)]
    """
    if min(rate_cents_per_hour, minimum_cents, agreed_each_cents or 0) < 0:
        raise Impossible("A rate or a price is below zero. Look it up in the shop book.")
    minutes = sum(setting_minutes(pieces, setting) for setting in settings)
    lines = _work(pieces, minutes, rate_cents_per_hour, agreed_each_cents, agreed_words, not exempt)
    lines += _rush(lines, rush, not exempt)
    lines += [_line(one.text, one.quantity, one.unit_cents, one.taxable and not exempt, "extra") for one in extras]
    short = minimum_cents - sum(one.cents for one in lines)
    if short > 0 and agreed_each_cents is None:
        text = f"to the minimum charge of {show(minimum_cents)}"
        lines.append(PriceLine(text, Fraction(1), short, short, not exempt, "minimum"))
    net = sum(one.cents for one in lines)
    return Price(tuple(lines), minutes, net, sum(one.cents for one in lines if one.taxable))
