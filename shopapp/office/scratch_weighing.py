"""Scratch sums about what a scale can say: can it judge, does it agree, twins, what a piece is made of."""

import math
from fractions import Fraction

from shopapp.bench import densities, together, weighing
from shopapp.bench.cuts import Body
from shopapp.bench.materials import MATERIALS
from shopapp.bench.outline import Ring
from shopapp.bench.quantities import WORTH
from shopapp.bench.rounding import exact, fixed, significant
from shopapp.office.scratch_form import UNIT, WEIGH, Answer, Field, Sum, Told, plain
from shopapp.office.scratch_sizes import HALF_WIDTHS, MEASURED

TONES = {weighing.AGREES: "agree", weighing.LOOK: "look", weighing.NOT: "no", weighing.COARSE: "coarse"}
_DIVISION = Field("division", "Division of the scale", "mass", hint="the step from one reading to the next")
_SURE = Field("sure", "Prediction good to", "percent", hint="plus and minus, as the cuts show it by their range")


def _scale(told: Told) -> Answer:
    predicted, division, pieces = told.num("predicted"), told.num("division"), told.count("pieces")
    alone = weighing.can_judge(predicted, division)
    sure = weighing.difference_uncertainty(division)
    finest = predicted / 2 * 6**0.5 / 2
    words = [
        f"This scale can judge it: the difference of two readings is good to ± {told.mass(sure)} {told.weigh}."
        if alone else
        f"Too coarse: ± {told.mass(sure)} {told.weigh} is more than half of what comes off. "
        f"It takes a division of {_down(told, finest)} {told.weigh} or finer."
    ]  # fmt: skip
    sheets = [
        told.shown(weighing.can_judge, "can it judge", "yes" if alone else "no", "predicted", "division"),
        told.shown(weighing.difference_uncertainty, "good to", f"± {told.mass(sure)} {told.weigh}", "division"),
    ]
    if pieces > 1:
        way = together.ways(pieces, 0.0, [together.Scale("this scale", division)])[0]
        judges = weighing.can_judge_by(predicted, way.expanded_g)
        good = f"± {told.mass(way.expanded_g)} {told.weigh}"
        words.append(f"{way.words[0].upper()}{way.words[1:]}: good to {good} each, which {_can(judges)} judge it.")
        sheets.append(told.shown(together.ways, "weighed together", good, "pieces", "division"))
    return Answer(
        figures=(
            ("good to", f"± {told.mass(sure)}", told.weigh), ("comes off, each", told.mass(predicted), told.weigh),
        ),
        sentences=tuple(words), tone="agree" if alone else "coarse", workings=tuple(sheets),
    )  # fmt: skip


def _down(told: Told, grams: float) -> str:
    """A weight in the unit of the weights to three figures, figures alone, and never more than it is."""
    value = exact(grams) / WORTH[told.weigh]
    places = max(0, 2 - math.floor(math.log10(value))) if value > 0 else 0
    return fixed(Fraction(math.floor(value * 10**places), 10**places), places, strip=True)


def _can(judges: bool) -> str:
    return "can" if judges else "still cannot"


def _verdict(told: Told) -> Answer:
    found = weighing.verdict(
        told.num("before"), told.num("after"), told.num("division"), told.num("predicted"), told.num("sure")
    )  # fmt: skip
    removed, sure = told.mass(found.removed_g), told.mass(found.uncertainty_g)
    names = ("before", "after", "division", "predicted", "sure")
    error = fixed(found.normalised, 2)
    return Answer(
        figures=(
            ("off by the scale", removed, told.weigh), ("predicted", told.mass(found.predicted_g), told.weigh),
            ("differ by", told.mass(found.difference_g), told.weigh), ("explained", f"± {sure}", told.weigh),
        ),
        sentences=(f"{found.word.capitalize()}: normalised error {error}, up to 1 either way is explained.",),
        tone=TONES[found.word],
        workings=(
            told.shown(weighing.verdict, "verdict", found.word, *names),
            told.shown(weighing.verdict_by, "how the word is chosen", found.word),
            told.shown(weighing.normalised_error, "normalised error", error),
        ),
    )  # fmt: skip


def _twins(told: Told) -> Answer:
    names = ("a_before", "a_after", "b_before", "b_after")
    found = weighing.twins(*(told.num(name) for name in names), told.num("division"), told.weigh)
    both = f"{found.removal}, {found.finish}"
    tone = "no" if weighing.NO in (found.removal, found.finish) else "agree"
    if weighing.UNKNOWN in (found.removal, found.finish) and tone == "agree":
        tone = "coarse"
    return Answer(
        figures=(("same off both", found.removal, ""), ("same now", found.finish, "")),
        sentences=(found.words,), tone=tone,
        workings=(told.shown(weighing.twins, "same off, same now", both, *names, "division"),),
    )  # fmt: skip


def _made_of(told: Told) -> Answer:
    body = Body((Ring(told.num("outside"), told.num("inside"), 0.0, told.num("length")),))
    volume, volume_u = densities.drawn_volume(body, HALF_WIDTHS[told.word("measured")])
    weighed = together.read(told.num("mass"), told.num("division"))
    found = densities.implied(weighed.grams, weighed.u, volume, volume_u)
    said = f"{fixed(found.density, 2)} g/cm³"
    fits = [fit.material.words for fit in densities.fits(found) if fit.fits][:4]
    words = densities.material_told(found, MATERIALS.get(told.word("claimed")))
    sizes = ("outside", "inside", "length", "measured")
    return Answer(
        figures=(
            ("density", fixed(found.density, 2), "g/cm³"), ("good to", f"± {significant(found.expanded, 1)}", "g/cm³"),
        ),
        sentences=(f"{words}.", *((f"What fits: {', '.join(fits)}.",) if fits else ())),
        workings=(
            told.shown(densities.implied, "density", said, *sizes, "mass", "division"),
            told.shown(densities.drawn_volume, "volume", f"{fixed(volume / 1000, 2)} cm³", *sizes),
            told.shown(densities.material_told, "seems to be", words, "claimed"),
        ),
    )  # fmt: skip


_CLAIMED = Field(
    "claimed", "Said to be", "choice",
    options=(("", "nobody says"), *((key, row.words) for key, row in MATERIALS.items())),
)  # fmt: skip

SUMS = (
    Sum(
        "scale", "Can this scale judge?", "Told before weighing: whether the scale can see what the cuts take off.",
        plain(
            Field("predicted", "Comes off, each", "mass"), _DIVISION,
            Field("pieces", "Alike pieces", "count", False, hint="weighed together a coarse scale can see more"),
        ),
        _scale, {"weigh": "g", "predicted": "360", "division": "200", "pieces": "2"}, (WEIGH,),
    ),
    Sum(
        "verdict", "Does the weight agree?", "Before, after, the division and the prediction: agrees, or what it is.",
        plain(
            Field("before", "Before", "mass"), Field("after", "After", "mass"), _DIVISION,
            Field("predicted", "Predicted off", "mass"), _SURE,
        ),
        _verdict,
        {"weigh": "lb", "before": "26", "after": "17-1/2", "division": ".5", "predicted": "8.47", "sure": "5"},
        (WEIGH,),
    ),
    Sum(
        "twins", "Twins", "Two pieces that should be alike: the same off both, the same now, tags swapped?",
        plain(
            Field("a_before", "First, before", "mass"), Field("a_after", "First, after", "mass"),
            Field("b_before", "Second, before", "mass"), Field("b_after", "Second, after", "mass"), _DIVISION,
        ),
        _twins,
        {"weigh": "kg", "a_before": "26.6", "a_after": "17.4", "b_before": "25.8", "b_after": "18.2", "division": ".2"},
        (WEIGH,),
    ),
    Sum(
        "made-of", "What is it made of?", "The density that a weighed ring implies, and the materials that fit.",
        plain(
            Field("outside", "Outside Ø"), Field("inside", "Inside Ø", needed=False, hint="empty: solid"),
            Field("length", "Length"), MEASURED, Field("mass", "Weighs", "mass"), _DIVISION, _CLAIMED,
        ),
        _made_of,
        {"unit": "mm", "weigh": "g", "outside": "80", "inside": "20", "length": "30", "mass": "164", "division": "1",
         "measured": "caliper", "claimed": "ductile_iron"},
        (UNIT, WEIGH),
    ),
)  # fmt: skip
