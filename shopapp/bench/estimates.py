"""Estimates: markup and margin, a price against its minutes, minutes corrected by what a variant took before."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from statistics import median

from shopapp.bench.errors import Impossible, Refused
from shopapp.bench.money import line, show
from shopapp.bench.rounding import fixed, half_up

ENOUGH = 3  # jobs before a history says anything
BASIC, SHIFT = "basic", "shift"


@dataclass(frozen=True)
class Margin:
    """A price against what it costs [cents]; margin as a share of the price, markup of the cost, None if there is none.

    `hour` is what the minutes earned an hour once bought things are paid [cents].
    """

    price: int
    cost: int
    left: int
    margin: Fraction | None
    markup: Fraction | None
    hour: int | None
    words: str


@dataclass(frozen=True)
class Corrected:
    """Minutes by the shop's own history [min]: estimate, corrected, low, high, the median ratio, of how many jobs.

    With too few jobs `minutes`, `low` and `high` are the estimate as it was and `ratio` is None.
    """

    estimate: float
    minutes: float
    low: float
    high: float
    ratio: float | None
    count: int
    words: str


@dataclass(frozen=True)
class StandardTime:
    """Basic and standard time [min], the name of the allowance's convention, what the other one would give [min]."""

    basic: float
    standard: float
    on: str
    other: float
    words: str


def margin_of(markup: Fraction) -> Fraction:
    """Markup on cost as margin of the price (common practice, no source).

    Formula: m = k / (1 + k)

    markup: share of the cost, 1/4 for 25 % [share]

    Returns: the margin, a share of the price [share].
    Limits: a markup above -1: a loss is negative.
    Raises: Impossible at -1 and under it: the price would be nothing.

    >>> margin_of(Fraction(1, 4))
    Fraction(1, 5)
    """
    if markup <= -1:
        raise Impossible("A markup of -100 % gives the work away. Type one above that.")
    return markup / (1 + markup)


def markup_of(margin: Fraction) -> Fraction:
    """Margin of the price as markup on cost (common practice, no source).

    Formula: k = m / (1 - m)

    margin: share of the price, 1/4 for 25 % [share]

    Returns: the markup, a share of the cost [share].
    Limits: a margin below 1: no price is all margin.
    Raises: Impossible at 1 and above.

    >>> markup_of(Fraction(2, 5))
    Fraction(2, 3)
    """
    if margin >= 1:
        raise Impossible("A margin is a part of the price, below 100 %. Did you mean a markup on the cost?")
    return margin / (1 - margin)


def price_by_markup(cost_cents: int, markup: Fraction) -> int:
    """The price of a cost with a markup on it (common practice, no source).

    Formula: P = C (1 + k), half-up

    cost_cents: what it costs [cents]
    markup: share of the cost [share]

    Returns: the price [cents].
    Limits: a markup above -1.
    Raises: Impossible for a markup of -1 and under or a cost below zero.

    >>> price_by_markup(100_000, Fraction(1, 4))
    125000
    """
    margin_of(markup)
    return half_up(_cost(cost_cents) * (1 + markup))


def price_by_margin(cost_cents: int, margin: Fraction) -> int:
    """The price of a cost that leaves a margin of the price (common practice, no source).

    Formula: P = C / (1 - m), half-up

    cost_cents: what it costs [cents]
    margin: share of the price [share]

    Returns: the price [cents].
    Limits: a margin below 1.
    Raises: Impossible for a margin of 1 and above or a cost below zero.

    >>> price_by_margin(100_000, Fraction(1, 4))
    133333
    """
    markup_of(margin)
    return half_up(_cost(cost_cents) / (1 - margin))


def _cost(cents: int) -> Fraction:
    if cents < 0:
        raise Impossible("A cost is below zero. Look it up in the shop book.")
    return Fraction(cents)


def _percent(share: Fraction) -> str:
    return f"{fixed(share * 100, 1, strip=True)} %"


def _left(price: int, cost: int, minutes: Fraction, hour: int | None) -> str:
    said = f"{show(price)} less {show(cost)} cost "
    said += f"leaves {show(price - cost)}" if price >= cost else f"is {show(cost - price)} short"
    if price and cost:
        said += f": margin {_percent(Fraction(price - cost, price))} of the price, "
        said += f"markup {_percent(Fraction(price - cost, cost))} on the cost"
    if hour is not None:
        said += f". The {fixed(minutes, 0)} min earn {show(hour)} an hour"
    return said + "."


def price_margin(price_cents: int, minutes: Fraction, cost_cents_per_hour: int, bought_cents: int = 0) -> Margin:
    """What a price leaves once minutes and bought things are paid (common practice, no source).

    Formula: left = price - minutes·cost/60 - bought; margin = left / price; hour = (price - bought)·60 / minutes

    price_cents: net, without tax [cents]
    minutes: of bench time [min]
    cost_cents_per_hour: what an hour costs the shop, not what it asks [cents/h]
    bought_cents: material and outside work in the price [cents]

    Returns: cost, what is left, margin, markup, what an hour earns, a sentence [cents, share, text].
    Limits: no margin of a price of nothing, no markup on a cost of nothing, no hour without minutes.
    Raises: Impossible for money or minutes below zero.

    >>> found = price_margin(14513, Fraction(75), 6000)
    >>> found.left, found.hour, round(float(found.margin or 0), 3)
    (7013, 11610, 0.483)
    """
    if minutes < 0 or min(price_cents, cost_cents_per_hour, bought_cents) < 0:
        raise Impossible("Money or minutes are below zero. Type them again.")
    cost = line(Fraction(minutes) / 60, cost_cents_per_hour) + bought_cents
    left = price_cents - cost
    hour = half_up(Fraction(price_cents - bought_cents) * 60 / minutes) if minutes else None
    return Margin(
        price_cents, cost, left, Fraction(left, price_cents) if price_cents else None,
        Fraction(left, cost) if cost else None, hour, _left(price_cents, cost, minutes, hour),
    )


def corrected(estimate: float, history: Sequence[tuple[float, float]]) -> Corrected:
    """An estimate corrected by what the same variant took before (common practice, no source).

    Formula: minutes = estimate · median(actual / estimated); range = estimate · least and greatest of them

    estimate: of this job [min]
    history: estimated and actual minutes of each job before [min]

    Returns: corrected minutes and their range, the median, how many jobs, a sentence [min, 1, text].
    Limits: three jobs at least; with fewer the estimate stands and the sentence says so.
    Raises: Impossible for minutes of nothing or less.

    >>> corrected(60, [(60, 66), (50, 50), (40, 60)]).minutes
    66.0
    """
    every = [estimate, *(minutes for pair in history for minutes in pair)]
    if not all(minutes > 0 and math.isfinite(minutes) for minutes in every):
        raise Impossible("Minutes are above nothing. Leave jobs out that have none written down.")
    count, ratios = len(history), sorted(actual / told for told, actual in history)
    jobs = f"{count} job{'' if count == 1 else 's'} of this variant"
    if count < ENOUGH:
        words = f"{jobs if count else 'No job of this variant'} so far: too few to correct by, {ENOUGH} are needed."
        return Corrected(estimate, estimate, estimate, estimate, None, count, words)
    middle, low, high = median(ratios), ratios[0], ratios[-1]
    words = (
        f"{fixed(estimate, 0)} min estimated; {jobs} took {fixed(middle, 2)} times the estimate (the middle one; "
        f"{fixed(low, 2)} to {fixed(high, 2)}): {fixed(estimate * middle, 0)} min, "
        f"{fixed(estimate * low, 0)} to {fixed(estimate * high, 0)}."
    )
    return Corrected(estimate, estimate * middle, estimate * low, estimate * high, middle, count, words)


def basic_time(observed_min: float, rating: float) -> float:
    """Observed time at the standard pace (ILO term: basic time; work measurement, from memory).

    Formula: basic = observed · rating

    observed_min: as timed [min]
    rating: the pace seen, 1.1 for 110 % [share]

    Returns: the basic time [min].
    Limits: a rating from above 0 to 2.
    Raises: Impossible outside these limits.

    >>> round(basic_time(800 / 60, 1.10) * 60, 6)
    880.0
    """
    if not (observed_min >= 0 and math.isfinite(observed_min)):
        raise Impossible("Observed minutes are 0 or more.")
    if not 0 < rating <= 2:
        raise Impossible("A rating is from above 0 to 200 %: 100 % is the standard pace.")
    return observed_min * rating


def standard_time(observed_min: float, rating: float, allowance: float, on: str = BASIC) -> StandardTime:
    """Standard time, with the convention of the allowance named (ILO term: standard time; Slack et al., p. 263).

    Text books differ: an allowance on the basic time (taken unless said otherwise) or a part of the whole shift. For
    15 % of 11.4 minutes that is 13.11 against 13.41. Both stand in the answer.

    Formula: basic: ST = BT (1 + A); shift: ST = BT / (1 - A)

    observed_min: as timed [min]
    rating: the pace seen, 1.1 for 110 % [share]
    allowance: for rest and delays, 0.15 for 15 % [share]
    on: "basic" for an allowance on the basic time, "shift" for a part of the shift [text]

    Returns: basic and standard time, the convention, what the other one gives, a sentence [min, text].
    Limits: an allowance from 0 to below 1.
    Raises: Impossible outside the limits, Refused for another convention.

    >>> round(standard_time(12, 0.95, 0.15).standard, 2), round(standard_time(12, 0.95, 0.15, "shift").standard, 2)
    (13.11, 13.41)
    """
    if on not in (BASIC, SHIFT):
        raise Refused("Say what the allowance is a part of: basic, for the basic time, or shift, for the whole shift.")
    if not 0 <= allowance < 1:
        raise Impossible("An allowance is from 0 to below 100 %.")
    basic = basic_time(observed_min, rating)
    ways = {BASIC: basic * (1 + allowance), SHIFT: basic / (1 - allowance)}
    names = {BASIC: "on the basic time", SHIFT: "of the shift"}
    other = SHIFT if on == BASIC else BASIC
    percent = fixed(100 * allowance, 1, strip=True)
    words = (
        f"{fixed(ways[on], 2)} min: basic time {fixed(basic, 2)} min and an allowance of {percent} % {names[on]}. "
        f"Counted {names[other]} it would be {fixed(ways[other], 2)} min."
    )
    return StandardTime(basic, ways[on], on, ways[other], words)
