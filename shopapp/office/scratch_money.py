"""Scratch sums about money and minutes: markup and margin, history, learning, standard time."""

from collections.abc import Callable
from fractions import Fraction

from shopapp.bench import estimates, learning
from shopapp.bench.errors import Refused
from shopapp.bench.money import show
from shopapp.bench.rounding import fixed
from shopapp.office.scratch_form import Answer, Field, Sum, Told, minutes, plain

_WAYS = (("single", "time of each single piece (Crawford)"), ("mean", "mean of all so far (Wright)"))


def _percent(share: Fraction) -> str:
    return fixed(share * 100, 1, strip=True)


def _markup(told: Told) -> Answer:
    cost, share = told.count("cost"), told.exact("percent")
    names = ("cost", "percent")
    by_markup = estimates.price_by_markup(cost, share)
    figures = [("as markup on the cost", show(by_markup, told.sign), "")]
    words = [f"A markup of {_percent(share)} % is a margin of {_percent(estimates.margin_of(share))} % of the price."]
    sheets = [told.shown(estimates.price_by_markup, "as markup on the cost", show(by_markup, told.sign), *names)]
    if share < 1:
        by_margin = show(estimates.price_by_margin(cost, share), told.sign)
        figures.append(("as margin of the price", by_margin, ""))
        on_cost = _percent(estimates.markup_of(share))
        words.append(f"A margin of {_percent(share)} % is a markup of {on_cost} % on the cost.")
        sheets.append(told.shown(estimates.price_by_margin, "as margin of the price", by_margin, *names))
    return Answer(tuple(figures), tuple(words), workings=tuple(sheets))


def _left(told: Told) -> Answer:
    found = estimates.price_margin(
        told.count("price"), told.exact("minutes"), told.count("hour"), told.count("bought", 0)
    )  # fmt: skip
    figures = [("leaves", show(found.left, told.sign), "")]
    if found.margin is not None:
        figures.append(("margin", _percent(found.margin), "% of the price"))
    if found.hour is not None:
        figures.append(("an hour earns", show(found.hour, told.sign), ""))
    sheet = told.shown(
        estimates.price_margin, "leaves", show(found.left, told.sign), "price", "minutes", "hour", "bought"
    )  # fmt: skip
    return Answer(tuple(figures), (found.words,), workings=(sheet,), tone="no" if found.left < 0 else "plain")


def _history(told: Told) -> Answer:
    estimated, took = told.several("estimated"), told.several("took")
    if len(estimated) != len(took):
        counts = f"{len(estimated)} estimated and {len(took)} taken"
        raise Refused(f"Each job needs both its minutes: {counts}. Type as many in both lists.")
    found = estimates.corrected(told.num("estimate"), list(zip(estimated, took, strict=True)))
    figures = [("corrected", fixed(found.minutes, 0), "min")]
    if found.ratio is not None:
        figures.append(("between", f"{fixed(found.low, 0)} and {fixed(found.high, 0)}", "min"))
    names = ("estimate", "estimated", "took")
    sheet = told.shown(estimates.corrected, "corrected", f"{fixed(found.minutes, 0)} min", *names)
    return Answer(tuple(figures), (found.words,), workings=(sheet,), tone="plain" if found.ratio else "coarse")


def _learning(told: Told) -> Answer:
    functions: tuple[Callable[..., float], Callable[..., float]]
    other: Callable[..., float]
    known, rate, last = told.num("known"), told.num("rate"), told.count("last")
    names = ("known", "rate", "last", "way")
    if told.word("way") == "single":
        one, run = learning.piece_time(known, rate, last), learning.run_time(known, rate, last)
        functions, other = (learning.piece_time, learning.run_time), learning.wright_time
    else:
        one, run = learning.wright_time(known, rate, last, last), learning.wright_time(known, rate, last)
        functions, other = (learning.wright_time, learning.wright_time), learning.run_time
    every, each, end = (minutes(value) for value in (run, run / last, one))
    words = f"{last} pieces take {every} min in all, {each} min each; the last {end} min."
    figures = (("all of them", every, "min"), ("the last one", end, "min"), ("mean", each, "min"))
    twice = "" if rate <= 0.5 else f" Counted the other way it would be {minutes(other(known, rate, last))} min in all."
    return Answer(
        figures, (words + twice,), workings=(
            told.shown(functions[0], "the last one", f"{end} min", *names),
            told.shown(functions[1], "all of them", f"{every} min", *names),
        ),
    )  # fmt: skip


def _standard(told: Told) -> Answer:
    on = told.word("on")
    found = estimates.standard_time(told.num("observed"), told.num("rating"), told.num("allowance"), on)
    names = ("observed", "rating", "allowance", "on")
    return Answer(
        figures=(("standard time", minutes(found.standard), "min"), ("basic time", minutes(found.basic), "min")),
        sentences=(found.words,),
        workings=(
            told.shown(estimates.standard_time, "standard time", f"{minutes(found.standard)} min", *names),
            told.shown(estimates.basic_time, "basic time", f"{minutes(found.basic)} min", *names[:2]),
        ),
    )  # fmt: skip


_LIST = "in order, with spaces or commas between"
_ON = (("basic", "on the basic time"), ("shift", "of the whole shift"))

SUMS = (
    Sum(
        "markup", "Markup and margin", "The same percentage on the cost and of the price: two prices.",
        plain(Field("cost", "Cost", "money"), Field("percent", "Percentage", "percent")), _markup,
        {"cost": "1000", "percent": "25"},
    ),
    Sum(
        "left", "What a price leaves", "Price against its minutes and what was bought for it.",
        plain(
            Field("price", "Price, without tax", "money"), Field("minutes", "Bench time", "minutes"),
            Field("hour", "An hour costs the shop", "money"), Field("bought", "Bought for it", "money", False),
        ),
        _left, {"price": "145.13", "minutes": "75", "hour": "60"},
    ),
    Sum(
        "history", "Minutes by history", "An estimate corrected by what the same variant took before.",
        plain(
            Field("estimate", "Estimate now", "minutes"),
            Field("estimated", "Estimated before", "times", hint=_LIST), Field("took", "Took", "times", hint=_LIST),
        ),
        _history, {"estimate": "60", "estimated": "60 50 40", "took": "66 50 60"},
    ),
    Sum(
        "learning", "Learning curve", "What a run takes when each doubling leaves the same part of the time.",
        plain(
            Field("known", "First piece took", "minutes"),
            Field("rate", "A doubling leaves", "percent", hint="such as 85 % of the time"),
            Field("last", "Pieces in all", "count"), Field("way", "The rate is that of the", "choice", options=_WAYS),
        ),
        _learning, {"known": "100", "rate": "85", "last": "125", "way": "single"},
    ),
    Sum(
        "standard", "Standard time", "A timed piece at the standard pace, with the allowance for rest and delays.",
        plain(
            Field("observed", "Timed", "minutes"),
            Field("rating", "Pace seen", "percent", hint="100 is the standard pace"),
            Field("allowance", "Allowance", "percent"), Field("on", "Allowance is", "choice", options=_ON),
        ),
        _standard, {"observed": "12", "rating": "95", "allowance": "15", "on": "basic"},
    ),
)  # fmt: skip
