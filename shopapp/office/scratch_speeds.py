"""Scratch sums about speed, time, power and finish."""

from collections.abc import Mapping

from shopapp.bench import power, roughness, speeds
from shopapp.bench.errors import Refused
from shopapp.bench.rounding import fixed, significant
from shopapp.bench.speed_table import FOOT, GROUPS, SpeedRow
from shopapp.office.scratch_form import (
    CHUCK_KEY,
    UNIT,
    Answer,
    Field,
    Group,
    Groups,
    Sum,
    Table,
    Told,
    chosen,
    minutes,
    plain,
)
from shopapp.office.sheets.working import WorkingSheet

_HOW = Field(
    "how", "The spindle runs at", "choice", fits="sizes",
    options=(("rpm", "constant revolutions"), ("speed", "constant surface speed")),
)  # fmt: skip
_RPM = Field("rpm", "Revolutions", "rpm")
_SPEED = Field("speed", "Cutting speed", "speed")
_FEED = Field("feed", "Feed per turn")


def _cutting_speed(told: Told, metres: float) -> str:
    return f"{fixed(metres, 1)} m/min" if told.metric else f"{fixed(metres / FOOT, 0)} ft/min"


def _spindle(told: Told) -> Answer:
    wanted = speeds.revolutions(told.num("speed"), told.num("diameter"))
    found = speeds.choose(wanted, told.several("list"), told.maybe("chuck"))
    real = _cutting_speed(told, speeds.cutting_speed(found.rpm, told.num("diameter")))
    limits = told.shown(speeds.choose, "set", f"{fixed(found.rpm, 0)} rpm", "list", "chuck")
    unknown = () if told.has("chuck") else ("No limit of the chuck was typed: look at what stands on the chuck.",)
    return Answer(
        figures=(
            ("set", fixed(found.rpm, 0), "rpm"), ("wanted", fixed(wanted, 0), "rpm"),
            ("cuts at", *real.split(" ")),
        ),
        sentences=(found.words,), tone="look" if found.held_by in (speeds.CHUCK, speeds.SLOWEST) else "plain",
        warnings=(*unknown, f"This sum {limits.limits}", CHUCK_KEY),
        workings=(
            limits, told.shown(speeds.revolutions, "wanted", f"{fixed(wanted, 0)} rpm", "speed", "diameter"),
            told.shown(speeds.cutting_speed, "cuts at", real, "diameter"),
        ),
    )  # fmt: skip


def _recommended(told: Told) -> Answer:
    group, own = told.word("group"), []
    low, high = told.maybe("low"), told.maybe("high")
    if (low is None) != (high is None):
        raise Refused("The shop's own speed needs both ends. Type the other one, or the same twice.")
    if low is not None and high is not None:
        ends = sorted((low / FOOT, high / FOOT))
        own.append(SpeedRow(group, GROUPS[group], ends[0], ends[1], "the shop's own, as typed"))
    found = speeds.recommended(group, own)
    rows = tuple(_row(told, row) for row in found.rows)
    said = f"{_cutting_speed(told, found.low)} to {_cutting_speed(told, found.high)}"
    ends_said = (("from", found.low), ("to", found.high))
    figures = [(label, *_cutting_speed(told, end).split(" ")) for label, end in ends_said]
    sheets = [told.shown(speeds.recommended, "recommended", said, "group", "low", "high")]
    if told.has("diameter") and found.low > 0:
        ends_rpm = [fixed(speeds.revolutions(v, told.num("diameter")), 0) for v in (found.low, found.high)]
        figures.append(("that is", " to ".join(ends_rpm), "rpm"))
        sheets.append(told.shown(speeds.revolutions, "that is", " to ".join(ends_rpm) + " rpm", "diameter"))
    return Answer(
        figures=tuple(figures), sentences=(found.words,),
        tables=(Table(("Source", "Speed|", "Year", "How to read it"), rows, "Each source by itself"),),
        warnings=("The chuck's limit goes before any of these.", f"Read them as {sheets[0].limits}", CHUCK_KEY),
        workings=tuple(sheets),
    )  # fmt: skip


def _row(told: Told, row: SpeedRow) -> tuple[str, ...]:
    ends = (row.low_ft, row.high_ft) if not told.metric else (row.low_ft * FOOT, row.high_ft * FOOT)
    low, high = (fixed(end, 0) for end in ends)
    said = f"below {high}" if row.ceiling else low if low == high else f"{low} to {high}"
    unit = "m/min" if told.metric else "ft/min"
    return row.source, f"{said} {unit}", str(row.year) if row.year else "", row.note


def _time_groups(*before: Field, fixed_speed: tuple[Field, ...], surface: tuple[Field, ...]) -> Groups:
    def groups(typed: Mapping[str, str]) -> tuple[Group, ...]:
        more = fixed_speed if chosen(_HOW, typed) == "rpm" else surface
        return (Group((*before, *more), head=(_HOW,)),)

    return groups


def _turning(told: Told) -> Answer:
    passes, names = told.count("passes"), ("length", "feed", "passes")
    if told.word("how") == "rpm":
        found = speeds.turning_minutes(told.num("length"), told.num("feed"), told.num("rpm"), passes)
        sheet = told.shown(speeds.turning_minutes, "in the cut", f"{minutes(found)} min", *names, "rpm")
    else:
        mean = (told.num("before") + told.num("after")) / 2
        found = speeds.turning_minutes_at_speed(told.num("length"), told.num("feed"), told.num("speed"), mean, passes)
        sheet = told.shown(
            speeds.turning_minutes_at_speed, "in the cut", f"{minutes(found)} min", *names, "speed", "before", "after"
        )  # fmt: skip
    return _timed(found, sheet)


def _timed(found: float, *sheets: WorkingSheet, extra: tuple[tuple[str, str, str], ...] = ()) -> Answer:
    seconds = f"{fixed(found * 60, 0)} s" if found < 10 else f"{fixed(found / 60, 2)} h"
    return Answer(
        figures=(("in the cut", minutes(found), "min"), ("that is", *seconds.split(" ")), *extra),
        sentences=("Truing, touching off, measuring and the way back come on top.",), workings=sheets,
    )  # fmt: skip


def _facing(told: Told) -> Answer:
    outer, inner, feed = told.num("outer"), told.num("inner"), told.num("feed")
    names = ("outer", "inner", "feed")
    if told.word("how") == "rpm":
        found = speeds.facing_minutes(outer, inner, feed, told.num("rpm"))
        return _timed(found, told.shown(speeds.facing_minutes, "in the cut", f"{minutes(found)} min", *names, "rpm"))
    facing = speeds.facing_at_speed(outer, inner, feed, told.num("speed"), told.maybe("cap"))
    sheet = told.shown(speeds.facing_at_speed, "in the cut", f"{minutes(facing.minutes)} min", *names, "speed", "cap")
    if facing.cap_from is None:
        return _timed(facing.minutes, sheet)
    return _timed(facing.minutes, sheet, extra=(("cap bites under Ø", told.length(facing.cap_from), told.unit),))


def _power(told: Told) -> Answer:
    rating = told.maybe("rating")
    if rating is not None and not told.metric:
        rating *= power.HORSEPOWER
    key = int(told.word("group"))
    found = power.load(
        key, told.num("depth"), told.num("feed"), told.num("speed"), told.num("approach", 90.0),
        told.num("drive", 0.8), rating,
    )  # fmt: skip
    names = ("group", "depth", "feed", "speed", "approach", "drive", "rating")
    unit, worth = ("kW", 1.0) if told.metric else ("hp", power.HORSEPOWER)
    rate = speeds.removal_rate(told.num("speed"), told.num("feed"), told.num("depth"))
    off = (fixed(rate / 1000, 1), "cm³/min") if told.metric else (fixed(rate / 25.4**3, 2), "in³/min")
    row = power.group(key)
    other: tuple[str, ...] = ()
    if row.other:
        other = (f"Another edition of the table gives {row.other[0]:g} N/mm² and {row.other[1]:g} for this group.",)
    asked = f"{fixed(found.motor / worth, 2)} {unit}"
    return Answer(
        figures=(
            ("asks of the motor", *asked.split(" ")), ("at the edge", fixed(found.cutting / worth, 2), unit),
            ("force on the tool", fixed(found.force, 0), "N"), ("metal off", *off),
        ),
        sentences=(found.words, *other), tone="no" if found.enough is False else "plain",
        workings=(
            told.shown(power.load, "asks of the motor", asked, *names),
            told.shown(power.cutting_power, "at the edge", f"{fixed(found.cutting / worth, 2)} {unit}"),
            told.shown(power.specific_force, "specific cutting force", f"{fixed(found.specific, 0)} N/mm²"),
            told.shown(speeds.removal_rate, "metal off", " ".join(off), "speed", "feed", "depth"),
        ),
    )  # fmt: skip


def _roughness(told: Told) -> Answer:
    feed, nose = told.num("feed"), told.num("nose")
    found = roughness.roughness(feed, nose, told.num("end", 5.0))
    micro, unit = (0.001, "µm") if told.metric else (25.4e-6, "µin")
    ra, rt = (significant(mm / micro, 2) for mm in (found.average, found.depth))
    figures = [("Ra, theoretical", ra, unit), ("depth", rt, unit)]
    sheets = [
        told.shown(roughness.cusp_average, "Ra, theoretical", f"{ra} {unit}", "feed", "nose"),
        told.shown(roughness.cusp_depth, "depth", f"{rt} {unit}", "feed", "nose"),
        told.shown(roughness.roughness, "whether that holds", "yes" if found.valid else "no", "end"),
    ]
    if told.has("wanted"):
        best = roughness.feed_for(told.num("wanted") * micro, nose)
        figures.append(("feed for the Ra wanted", told.fine(best), told.unit))
        sheets.append(told.shown(roughness.feed_for, "feed", f"{told.fine(best)} {told.unit}", "wanted", "nose"))
    return Answer(
        figures=tuple(figures), sentences=(found.words,), tone="plain" if found.valid else "look",
        workings=tuple(sheets),
    )  # fmt: skip


_GROUP = Field("group", "Material", "choice", options=tuple(GROUPS.items()))
_FORCE = Field(
    "group", "Material, VDI 3323 group", "choice",
    options=tuple((str(number), f"{number}, {row.words}") for number, row in power.GROUPS.items()),
)  # fmt: skip
_LENGTH = Field("length", "Length of the cut", hint="run-in and run-out with it")
_PASSES = Field("passes", "Passes", "count", False, hint="empty: one")
_WIDE = (Field("outer", "From Ø"), Field("inner", "In to Ø", needed=False, hint="empty: to the middle"), _FEED)
_CAP = Field("cap", "Most revolutions", "rpm", False, hint="of the spindle or the chuck")
_BOTH = (Field("before", "Ø before"), Field("after", "Ø after"))

SUMS = (
    Sum(
        "spindle", "Spindle speed", "Revolutions from cutting speed and diameter, as the machine and the chuck allow.",
        plain(
            _SPEED, Field("diameter", "Diameter cut"),
            Field("list", "Speeds of the machine", "rpms", False, hint="such as 70, 200, 460; empty: stepless"),
            Field("chuck", "Chuck's limit", "rpm", False),
        ),
        _spindle, {"unit": "in", "speed": "100", "diameter": "1/2", "list": "70 200 460 800 1500", "chuck": "1200"},
        (UNIT,),
    ),
    Sum(
        "recommended", "Recommended speeds", "What the sources say for a material, side by side; they differ.",
        plain(
            _GROUP, Field("diameter", "Diameter cut", needed=False), Field("low", "Shop's own, from", "speed", False),
            Field("high", "Shop's own, to", "speed", False),
        ),
        _recommended, {"unit": "in", "group": "iron_soft", "diameter": "9"}, (UNIT,),
    ),
    Sum(
        "turning", "Turning time", "Minutes along a cylinder, outside or in a bore.",
        _time_groups(_LENGTH, _FEED, _PASSES, fixed_speed=(_RPM,), surface=(_SPEED, *_BOTH)), _turning,
        {"unit": "mm", "how": "rpm", "length": "100", "feed": "0.2", "rpm": "500"}, (UNIT,),
    ),
    Sum(
        "facing", "Facing time", "Minutes across a face, at constant revolutions or at constant speed with a cap.",
        _time_groups(*_WIDE, fixed_speed=(_RPM,), surface=(_SPEED, _CAP)), _facing,
        {"unit": "mm", "how": "speed", "outer": "200", "feed": "0.2", "speed": "100", "cap": "800"}, (UNIT,),
    ),
    Sum(
        "power", "Power against the motor", "What a cut asks of the machine, and whether the motor has it.",
        plain(
            _FORCE, Field("depth", "Deep"), _FEED, _SPEED,
            Field("approach", "Approach angle", "number", False, "°", "empty: 90, a square shoulder"),
            Field("drive", "Drive passes on", "percent", False, hint="empty: 80 %"),
            Field("rating", "Motor's rating", "number", False, ("hp", "kW")),
        ),
        _power,
        {"unit": "mm", "group": "15", "depth": "2", "feed": "0.25", "speed": "100", "rating": "1.5"}, (UNIT,),
    ),
    Sum(
        "roughness", "Roughness", "What feed and nose radius leave at best, and the feed for a wanted Ra.",
        plain(
            _FEED, Field("nose", "Nose radius"),
            Field("end", "End-cutting-edge angle", "number", False, "°", "empty: 5"),
            Field("wanted", "Ra wanted", "number", False, ("µin", "µm")),
        ),
        _roughness, {"unit": "mm", "feed": "0.2", "nose": "0.8", "end": "15", "wanted": "1.6"}, (UNIT,),
    ),
)  # fmt: skip
