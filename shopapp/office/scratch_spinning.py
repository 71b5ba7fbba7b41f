"""Scratch sums about what turns in use: information only, with every caution that the bench gives."""

from shopapp.bench import spinning, unbalance
from shopapp.bench.rounding import fixed, significant
from shopapp.office.scratch_cutting import DENSITY, MATERIAL, material_of
from shopapp.office.scratch_form import UNIT, WEIGH, Answer, Field, Sum, Told, plain

_IRONS = ("grey_iron", "ductile_iron")
_TURNS = Field("turns", "Turns at, as the customer states", "rpm")


def _spin(told: Told) -> Answer:
    row = material_of(told)
    iron = row.key in _IRONS
    outside, bore, turns = told.num("outside"), told.num("bore"), told.num("turns")
    found = spinning.spin(outside, bore, turns, row.nominal, iron, 0.26 if iron else 0.3)
    facts, cautions = found.sentences[:2], found.sentences[2:]
    names = ("outside", "bore", "turns")
    more = ((f"density of {row.words}", f"{row.nominal:g} g/cm³"), ("its source", row.source))
    rim, peak = f"{significant(found.rim_speed, 3)} m/s", significant(found.peaks.hoop, 3)
    limit = "over it" if found.over else "not over it" if iron else "not asked: no cast iron"
    feet = fixed(found.rim_speed / 0.3048, 0)
    return Answer(
        figures=(
            ("rim speed", significant(found.rim_speed, 3), "m/s"), ("that is", feet, "ft/s"),
            ("thin ring", significant(found.ring, 3), "MPa"), ("flat disc, peak", peak, "MPa"),
        ),
        sentences=facts if not found.over else (cautions[0], *facts), tone="no" if found.over else "plain",
        warnings=cautions[1:] if found.over else cautions,
        workings=(
            told.shown(spinning.rim_speed, "rim speed", rim, "outside", "turns"),
            told.shown(spinning.ring_stress, "thin ring", f"{significant(found.ring, 3)} MPa", *names, more=more),
            told.shown(spinning.peaks, "flat disc, peak", f"{peak} MPa", *names, more=more),
            told.shown(spinning.spin, "limit for cast iron", limit),
        ),
    )  # fmt: skip


def _unbalance(told: Told) -> Answer:
    limit = unbalance.grade(told.word("grade"))
    allowed = unbalance.unbalance_allowed(limit.g, told.num("turns"), told.num("mass"))
    off = unbalance.eccentricity_allowed(limit.g, told.num("turns"))
    said = f"{significant(allowed, 3)} g·mm"
    far = significant(off, 3)
    figures = [("may stay", significant(allowed, 3), "g·mm"), ("centre of mass off by", far, "µm")]
    sheets = [
        told.shown(unbalance.unbalance_allowed, "may stay", said, "grade", "turns", "mass"),
        told.shown(unbalance.eccentricity_allowed, "centre of mass off by", f"{far} µm", "grade", "turns"),
    ]
    sentences: tuple[str, ...] = (f"G {limit.g:g}: {limit.words}.",)
    tone = "plain"
    if told.has("off"):
        found = unbalance.off_centre(told.num("mass"), told.num("off"), told.word("grade"), told.num("turns"))
        figures.append(("the new bore leaves", significant(found.made, 3), "g·mm"))
        sentences, tone = (*found.sentences[:2], *sentences), "no" if found.over else "plain"
        sheets.append(
            told.shown(unbalance.off_centre, "the new bore leaves", f"{significant(found.made, 3)} g·mm", "mass", "off")
        )
    return Answer(
        tuple(figures), sentences, (unbalance.CLOSING,), tuple(sheets), tone=tone
    )  # fmt: skip


_GRADE = Field(
    "grade", "Balance grade", "choice",
    options=tuple((name, f"{name}, {row.words}") for name, row in sorted(
        unbalance.GRADES.items(), key=lambda item: (item[1].g != 6.3, -item[1].g))),
)  # fmt: skip

SUMS = (
    Sum(
        "spin", "Rim speed and stress", "Information only: how fast a rim runs, and what a plain ring has to bear.",
        plain(
            Field("outside", "Outside Ø"), Field("bore", "Bore Ø", needed=False, hint="empty: solid"), _TURNS, MATERIAL,
            DENSITY,
        ),
        _spin, {"unit": "in", "outside": "8.875", "bore": "1.75", "turns": "1800", "material": "ductile_iron"}, (UNIT,),
    ),
    Sum(
        "unbalance", "Unbalance and a bore off centre", "What a grade lets stay, and what a bore off centre leaves.",
        plain(
            _GRADE, _TURNS, Field("mass", "Part weighs", "mass"),
            Field("off", "New bore off centre by", needed=False, hint="half of what the indicator swings"),
        ),
        _unbalance,
        {"unit": "mm", "weigh": "kg", "grade": "G 6.3", "turns": "3000", "mass": "10", "off": "0.05"}, (UNIT, WEIGH),
    ),
)  # fmt: skip
