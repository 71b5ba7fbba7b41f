"""Scratch sums about sizes: two statements, a slip of the unit, tolerances, limits, and a size in both units."""

from shopapp.bench import clash, inspection, quantities, tolerances
from shopapp.bench.errors import Refused
from shopapp.office.predicting import AS_IT_CAME
from shopapp.office.scratch_form import UNIT, WEIGH, Answer, Field, Sum, Told, plain
from shopapp.office.sizes import INSTRUMENTS

_TONES = {inspection.IN: "agree", inspection.OUT: "no", inspection.UNKNOWN: "look"}
_KINDS = {"length": "length or Ø", "corner": "bevel or outside radius", "angle": "angle, by its shorter leg"}
HALF_WIDTHS = {name: mm for name, mm in INSTRUMENTS.items() if mm} | {"taken off a raw casting": AS_IT_CAME["cast"]}
"""How far a size may be off to either side [mm], by what it was measured with."""
MEASURED = Field("measured", "Measured with", "choice", options=tuple((name, name) for name in HALF_WIDTHS))
_TOLD = Field("measured", "Measured with", "choice", options=tuple((name, name) for name in INSTRUMENTS))


def _clash(told: Told) -> Answer:
    a, b = told.quantity("a"), told.quantity("b")
    good = INSTRUMENTS[told.word("measured")]
    found = clash.clash(a, b, good)
    gap = abs(a.amount - b.amount)
    words = found.words if found else f"Both can be so: they differ by {told.fine(gap)} {told.unit}."
    return Answer(
        figures=(("apart", told.fine(gap), told.unit),), sentences=(words,), tone="look" if found else "agree",
        workings=(told.shown(clash.clash, "apart", f"{told.fine(gap)} {told.unit}", "a", "b", "measured"),),
    )  # fmt: skip


def _ratio(told: Told) -> Answer:
    now, last = told.num("now"), told.num("last")
    found = clash.ratio_watch(now, last)
    ratio = f"{now / last:.4g}" if last else "–"
    return Answer(
        figures=(("now over last time", ratio, ""),),
        sentences=(found[0].upper() + found[1:] if found else "No multiple that looks like a slip.",),
        tone="look" if found else "plain",
        workings=(told.shown(clash.ratio_watch, "now over last time", ratio, "now", "last"),),
    )  # fmt: skip


def _tolerance(told: Told) -> Answer:
    size, name, what = told.num("size"), told.word("grade"), told.word("what")
    inputs = ("size", "what", "grade")
    if what == "angle":
        value = f"± {tolerances.general_angle(size, name) * 60:.0f}′"
        sheet = told.shown(tolerances.general_angle, "not stated", value, *inputs)
        words = f"An angle with a leg of that length: {value}."
        return Answer((("not stated", value, "of arc"),), (words,), workings=(sheet,))
    if what == "corner":
        value = f"± {told.fine(tolerances.general_corner(size, name))}"
        sheet = told.shown(tolerances.general_corner, "not stated", f"{value} {told.unit}", *inputs)
        words = f"A bevel or radius: {value} {told.unit}."
        return Answer((("not stated", value, told.unit),), (words,), workings=(sheet,))
    limits = tolerances.unstated(size, name)
    value = f"± {told.fine(tolerances.general_length(size, name))}"
    return Answer(
        figures=(
            ("not stated", value, told.unit), ("from", told.fine(limits.low), told.unit),
            ("to", told.fine(limits.high), told.unit),
        ),
        sentences=(f"{limits.words}.",),
        warnings=("It holds where the drawing names the standard; where it does not, ask.",),
        workings=(told.shown(tolerances.unstated, "not stated", f"{value} {told.unit}", *inputs),),
    )  # fmt: skip


def _grade(told: Told) -> Answer:
    size, grade, lies = told.num("size"), int(told.word("grade")), told.word("lies")
    limits, width = tolerances.graded(size, grade, lies), tolerances.grade_table(size, grade)
    names = ("size", "grade", "lies")
    return Answer(
        figures=(
            ("from", told.fine(limits.low), told.unit), ("to", told.fine(limits.high), told.unit),
            (f"width, IT{grade}", told.fine(width), told.unit),
        ),
        sentences=(f"{limits.words}.",),
        workings=(
            told.shown(tolerances.graded, "limits", f"{told.fine(limits.low)} to {told.fine(limits.high)}", *names),
            told.shown(tolerances.grade_table, f"width, IT{grade}", f"{told.fine(width)} {told.unit}", *names[:2]),
        ),
    )  # fmt: skip


def _limits(told: Told) -> Answer:
    if not (told.has("low") or told.has("high")):
        raise Refused("Type the low limit, the high limit, or both.")
    good = told.num("good", HALF_WIDTHS[told.word("measured")])
    found = inspection.judge(
        told.num("size"), told.num("low", float("-inf")), told.num("high", float("inf")), good
    )  # fmt: skip
    inside = f"{told.fine(abs(found.inside))} {told.unit}"
    label = "inside by" if found.inside >= 0 else "beyond by"
    return Answer(
        figures=((label, told.fine(abs(found.inside)), told.unit), ("instrument", f"± {told.fine(good)}", told.unit)),
        sentences=(found.words,), tone=_TONES[found.word],
        workings=(told.shown(inspection.judge, label, inside, "size", "low", "high", "measured", "good"),),
    )  # fmt: skip


def _echo(told: Told) -> Answer:
    figures, sheets = [], []
    if told.has("length"):
        said = quantities.echo_length(told.quantity("length"))
        figures.append(("length", said, ""))
        sheets.append(told.shown(quantities.echo_length, "length", said, "length"))
    if told.has("mass"):
        said = quantities.echo_mass(told.quantity("mass"))
        figures.append(("weight", said, ""))
        sheets.append(told.shown(quantities.echo_mass, "weight", said, "mass"))
    if not figures:
        raise Refused("Type a length, a weight, or both.")
    return Answer(tuple(figures), workings=tuple(sheets))


_CLASS = Field(
    "grade", "Class", "choice", options=tuple((key, f"{key}, {words}") for key, words in tolerances.CLASSES.items())
)  # fmt: skip
_IT = Field("grade", "Grade", "choice", options=tuple((str(n), f"IT{n}") for n in (7, 5, 6, 8, 9, 10, 11)))
_LIES = Field(
    "lies", "Lies", "choice",
    options=(("H", "H, a hole from the size up"), ("h", "h, a shaft from the size down"),
             ("JS", "JS, a hole, half each way"), ("js", "js, a shaft, half each way")),
)  # fmt: skip

SUMS = (
    Sum(
        "clash", "Two statements", "Two sizes told of one thing: can both be so?",
        plain(Field("a", "One says"), Field("b", "The other says"), _TOLD), _clash,
        {"unit": "in", "a": "22 mm", "b": "3/4", "measured": "caliper"}, (UNIT,),
    ),
    Sum(
        "ratio", "A slip of the unit?", "A size against last time's: millimetres, a radius, a point one place off?",
        plain(Field("now", "Size now"), Field("last", "Last time, or the drawing")), _ratio,
        {"unit": "in", "now": "22", "last": ".866"}, (UNIT,),
    ),
    Sum(
        "tolerance", "General tolerance", "What a size may stray where the drawing names ISO 2768 and no limits.",
        plain(
            Field("size", "Size"),
            Field("what", "It is a", "choice", options=tuple(_KINDS.items())), _CLASS,
        ),
        _tolerance, {"unit": "mm", "size": "30", "what": "length", "grade": "m"}, (UNIT,),
    ),
    Sum(
        "grade", "ISO grade", "The limits of a size such as 25 H7.", plain(Field("size", "Size"), _IT, _LIES), _grade,
        {"unit": "mm", "size": "25", "grade": "7", "lies": "H"}, (UNIT,),
    ),
    Sum(
        "limits", "Measured against limits", "In, out, or can't tell with this instrument.",
        plain(
            Field("size", "Measured"), Field("low", "Low limit", needed=False),
            Field("high", "High limit", needed=False), MEASURED,
            Field("good", "Good to, plus and minus", needed=False, hint="empty: as usual for that instrument"),
        ),
        _limits, {"unit": "mm", "size": "25.01", "low": "25", "high": "25.021", "measured": "micrometer"}, (UNIT,),
    ),
    Sum(
        "units", "In both units", "A length with its nearest 64th, a weight in pounds and kilograms.",
        plain(Field("length", "Length", needed=False), Field("mass", "Weight", "mass", False)), _echo,
        {"unit": "in", "weigh": "lb", "length": "22 mm", "mass": "8 lb 8 oz"}, (UNIT, WEIGH),
    ),
)  # fmt: skip
