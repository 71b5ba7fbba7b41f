"""Scratch sums about metal that comes off: cuts alone, part of a web, a stop, one free size, passes."""

from collections.abc import Mapping

from shopapp.bench import aim, cuts, passes, passplan, quantities, rounding, solids, uncertainty
from shopapp.bench.cuts import Body, Cut
from shopapp.bench.errors import Refused
from shopapp.bench.materials import MATERIALS, Material
from shopapp.bench.outline import Ring
from shopapp.office import drawing, removals
from shopapp.office.drawing import CutsTyped, Drawn, Typed
from shopapp.office.parts import VariantFacts
from shopapp.office.scratch_form import (
    MOST_ROWS,
    UNIT,
    WEIGH,
    Answer,
    Field,
    Group,
    Sum,
    Table,
    Told,
    chosen,
    no_more_than,
    plain,
)  # fmt: skip
from shopapp.office.scratch_sizes import HALF_WIDTHS, MEASURED

MATERIAL = Field("material", "Material", "choice", options=tuple((key, m.words) for key, m in MATERIALS.items()))
DENSITY = Field("density", "Density, if another", "number", False, "g/cm³", hint="empty: the table's, with its range")
_MOST_PASSES = 200


def material_of(told: Told) -> Material:
    """The material that was chosen, with the density typed for it, if one was; that one is taken as it stands."""
    row = MATERIALS.get(told.word("material"), next(iter(MATERIALS.values())))
    typed = told.maybe("density")
    if typed is None:
        return row
    return Material(row.key, row.words, typed, typed, typed, row.made, "as typed")


def _source(row: Material) -> tuple[tuple[str, str], ...]:
    said = f"{row.nominal:g} g/cm³" if row.low == row.high else f"{row.nominal:g} ({row.low:g} to {row.high:g}) g/cm³"
    return ((f"density of {row.words}", said), ("its source", row.source))


def _variant(row: Material, unit: str) -> VariantFacts:
    """What a drawing is headed with where no part is in the book."""
    return VariantFacts(0, 0, "Scratch sheet", row.words, row.key, row.made, f"{row.nominal:g}", unit, "")


def _rows(typed: Mapping[str, str]) -> int:
    told = typed.get("rows", "")
    asked = int(told) if told.isdecimal() and len(told) < 4 else 2
    last = max((i + 1 for i in range(MOST_ROWS) if f"cut_{i}_kind" in typed), default=0)
    return min(max(asked, last, 1), MOST_ROWS)


def _cut_groups(typed: Mapping[str, str]) -> tuple[Group, ...]:
    kinds = drawing.cut_kinds()
    sides = tuple((key, words) for key, words in drawing.SIDES.items())
    web = Field("web", "Web, measured", needed=False, hint="Then a face may be half, 1/3 of web, leave .350.")
    groups = [Group((MATERIAL, DENSITY, MEASURED, web), "metal", "What it is")]
    for i in range(_rows(typed)):
        start = ("turn", "face")[i] if i < 2 else "turn"
        options = tuple((key, kind.words) for key, kind in kinds.items())
        first = sorted(options, key=lambda option, start=start: option[0] != start)
        kind = Field(f"cut_{i}_kind", "Cut", "choice", options=tuple(first), fits=f"cut-{i}")
        sizes = tuple(
            Field(f"cut_{i}_{size.name}", size.label, "size", False, hint=size.note)
            for size in kinds[chosen(kind, typed)].sizes
        )
        side = Field(f"cut_{i}_side", "Side", "choice", options=sides)
        groups.append(Group(sizes, f"cut-{i}", f"Cut {i + 1}", (side, kind)))
    return tuple(groups)


def _cuts_typed(told: Told) -> CutsTyped:
    kinds, rows = drawing.cut_kinds(), []
    for i in range(MOST_ROWS):
        kind = told.word(f"cut_{i}_kind")
        if kind not in kinds:
            break
        sizes = {size.name: told.word(f"cut_{i}_{size.name}").strip() for size in kinds[kind].sizes}
        side = told.word(f"cut_{i}_side")
        rows.append(Typed(kind, {name: text for name, text in sizes.items() if text}, side))
    return CutsTyped(told.unit, tuple(rows), told.texts.get("web", ""))


def _cuts(told: Told) -> Answer:
    typed, row = _cuts_typed(told), material_of(told)
    read, rows, problems = drawing.read_cuts(typed)
    waiting = tuple(dict.fromkeys(_waits(name, words) for name, words in problems.items()))
    if not read:
        raise Refused(waiting[0] if waiting else "Type a cut: its Ø now and wanted, and how far it goes.")
    removal, section = removals.sheets(
        _variant(row, told.unit), Drawn(None), read, rows, unit=told.unit, mass_unit=told.weigh
    )  # fmt: skip
    found = uncertainty.predict(None, read, row.nominal, row.low, row.high, HALF_WIDTHS[told.word("measured")])
    worth = float(quantities.WORTH[told.weigh])
    about, low, high = rounding.about(found.mass / worth, found.low / worth, found.high / worth)
    inputs = (*((f"cut {i + 1}, {one.kind}", one.as_said()) for i, one in enumerate(rows)), *_source(row))
    why = found.contributions[0].name if found.contributions else ""
    return Answer(
        figures=(("comes off, about", about, told.weigh), ("between", f"{low} and {high}", told.weigh)),
        sentences=(
            *((f"Most of what is unsure comes from the {why}.",) if why else ()),
            *(f"Not counted yet: {words}" for words in waiting), *removal.refusals, *removal.hints,
        ),
        tables=(
            Table(
                ("Side", "Cut", "Sizes as typed", "Takes|"),
                tuple((take.side, take.words, take.sizes_as_typed, take.text) for take in removal.rows),
            ),
        ),
        section=section,
        workings=(
            told.shown(uncertainty.predict, "comes off, about", f"{about} {told.weigh}", "measured", more=inputs),
            told.shown(cuts.removal, "what each cut takes", f"{told.mass(found.mass)} {told.weigh} in all"),
            told.shown(solids.volume, "volume", f"{rounding.significant(1000 * found.mass / row.nominal, 5)} mm³"),
        ),
    )  # fmt: skip


def _waits(name: str, words: str) -> str:
    parts = name.split("_")
    return f"cut {int(parts[1]) + 1}: {words}" if parts[0] == "cut" and len(parts) > 1 else words


def _take(told: Told) -> Answer:
    found = passes.take(told.word("said"), told.num("web"), told.unit)
    taken, left = (f"{told.length(mm)} {told.unit}" for mm in (found.take, found.left))
    sheet = told.shown(passes.take, "take", taken, "web", "said")
    return Answer(
        figures=(
            ("take", told.length(found.take), told.unit), ("stays", told.length(found.left), told.unit),
            ("that is", rounding.fixed(100 * found.part, 1, strip=True), "% of it"),
        ),
        sentences=(f"Take {taken}; {left} of the web stays.",),
        warnings=("Nine tenths of a web or more is asked about on a job: the rest may not hold.",)
        if found.part >= 0.9 else (),
        workings=(sheet,),
    )  # fmt: skip


def _stop(told: Told) -> Answer:
    left = passes.stop_clearance(told.num("back_off"), told.num("extra_feed"))
    said = f"{told.fine(left)} {told.unit}"
    gone = left <= 0
    least = told.maybe("least")
    words = f"{said} stays between the shoulder and the edge."
    if gone:
        words = f"The last cut goes {told.fine(-left)} {told.unit} past the edge: back off more, or feed less."
    elif least is not None and left < least - 1e-9:
        words = f"{said} is left, less than the {told.fine(least)} {told.unit} to stay clear by."
        gone = True
    return Answer(
        figures=(("clearance left", told.fine(left), told.unit),), sentences=(words,), tone="no" if gone else "plain",
        workings=(told.shown(passes.stop_clearance, "clearance left", said, "back_off", "extra_feed", "least"),),
    )  # fmt: skip


_FREE = {
    "face": ("face the front, how deep", "face", "depth"),
    "turn": ("turn the outside, to which Ø", "turn", "to"),
    "bore": ("bore out, to which Ø", "bore", "to"),
}


def _aim(told: Told) -> Answer:
    row = material_of(told)
    body = Body((Ring(told.num("outside"), told.num("inside"), 0.0, told.num("length")),))
    words, kind, name = _FREE[told.word("free")]
    sizes = {"end": told.num("over")} if kind != "face" and told.has("over") else {}
    cut = Cut("B" if kind == "face" else "A", kind, sizes)
    what = told.word("what")
    found = aim.aim(body, [cut], 0, name, told.num("wanted"), what, row.nominal)
    done = Cut(cut.side, kind, {**sizes, name: found.size})
    typed = Typed(kind, {name: f"{told.fine(found.size)} {told.unit}"}, cut.side)
    drawn = Drawn(body)
    _, section = removals.sheets(_variant(row, told.unit), drawn, [done], [typed], unit=told.unit)
    names = ("outside", "inside", "length", "free", "over", "what", "wanted")
    result = f"{told.mass(found.result)} {told.weigh}"
    return Answer(
        figures=(
            (words, told.fine(found.size), told.unit), (aim.AIMS[what], told.mass(found.result), told.weigh),
            ("weighs now", told.mass(cuts.mass_of(body, row.nominal)), told.weigh),
        ),
        sentences=(found.words,), tone="plain" if found.reached else "no", section=section,
        warnings=(
            "How thin a web or wall may become, and what must not be cut, is not looked at here: that is on a drawing.",
        ),
        workings=(
            told.shown(aim.aim, words, f"{told.fine(found.size)} {told.unit}", *names, more=_source(row)),
            told.shown(cuts.mass_of, aim.AIMS[what], result),
        ),
    )  # fmt: skip


def _passes(told: Told) -> Answer:
    kind, now, wanted = told.word("kind"), told.exact("now"), told.exact("wanted")
    way = 1 if kind == "bore" else -1
    stock = (wanted - now) * way / (1 if kind == "face" else 2)
    if stock < 0:
        raise Refused("The size wanted lies the other way. Exchange the two, or choose the other kind of cut.")
    most, finish = told.exact("most"), told.exact("finish")
    no_more_than(float(stock / most) if most else 0, _MOST_PASSES, "That is over 200 passes. Allow more for each.")
    reads = told.word("dial") if kind != "face" else passplan.RADIUS
    found = passplan.plan(stock, most, finish, reads)
    each = 1 if kind == "face" else 2
    rows = tuple(
        (
            f"{one.number}{', finish' if one.finish else ''}", told.fine(float(one.depth)),
            told.fine(float(one.dial)), told.fine(float(one.dial_so_far)),
            told.fine(float(now + way * each * one.so_far)),
        )
        for one in found
    )  # fmt: skip
    inputs = ("kind", "now", "wanted", "most", "finish", "dial")
    depth = f"{told.fine(float(found[0].depth))} {told.unit}"
    alike = [one for one in found if not one.finish] or list(found)
    rest = len(found) > len(alike)
    last = f", then {told.fine(float(found[-1].depth))} {told.unit} to finish" if rest else ""
    return Answer(
        figures=(
            ("passes", str(len(found)), ""), ("each deep", told.fine(float(found[0].depth)), told.unit),
            ("dial for each", told.fine(float(found[0].dial)), told.unit),
            ("stock in all", told.fine(float(stock)), told.unit),
        ),
        sentences=(f"{_counted(len(alike))} of {depth}{last}.",),
        tables=(Table(("Pass", "Deep|", "Dial|", "Dial in all|", "Size then|"), rows, f"Figures in {told.unit}"),),
        workings=(
            told.shown(passplan.depths, "each deep", depth, *inputs),
            told.shown(passplan.dial, "dial for each", f"{told.fine(float(found[0].dial))} {told.unit}", "dial"),
            told.shown(passplan.plan, "passes", _counted(len(found))),
        ),
    )  # fmt: skip


def _counted(passes: int) -> str:
    return f"{passes} pass" if passes == 1 else f"{passes} passes"


_KIND = Field("kind", "Cut", "choice", options=(("turn", "outside Ø"), ("bore", "bore Ø"), ("face", "face")))
_DIAL = Field(
    "dial", "Cross-slide dial reads", "choice", options=((passplan.RADIUS, "radius"), (passplan.DIAMETER, "diameter"))
)  # fmt: skip
_WANTED = Field("what", "Wanted is the", "choice", options=(("mass", "finished mass"), ("removed", "mass removed")))
_FREE_CUT = Field("free", "Free size", "choice", options=tuple((key, words[0]) for key, words in _FREE.items()))

SUMS = (
    Sum(
        "cuts", "Just the cuts", "What cuts take off with no part drawn: any material, weight by cut, the drawing.",
        _cut_groups, _cuts,
        {"unit": "in", "weigh": "lb", "material": "carbon_steel", "measured": "caliper", "cut_0_side": "A",
         "cut_0_kind": "turn", "cut_0_from": "4", "cut_0_to": "3-7/8", "cut_0_start": "0", "cut_0_end": "1.5",
         "cut_1_side": "A", "cut_1_kind": "bevel", "cut_1_corner": "1/16", "cut_1_diameter": "3-7/8"},
        (UNIT, WEIGH), "One more cut",
    ),
    Sum(
        "take", "Part of a web", "How much to take when it is said as half, 1/3 of it, or leave .350.",
        plain(
            Field("web", "Web, measured"),
            Field("said", "Take", "text", hint="half · 1/3 of it · 40 % · leave .350"),
        ),
        _take, {"unit": "in", "web": ".700", "said": "leave .350"}, (UNIT,),
    ),
    Sum(
        "stop", "Stop and back-off", "What a stop leaves between the shoulder and an edge that must not be touched.",
        plain(
            Field("back_off", "Backed off when the stop was set"),
            Field("extra_feed", "Last cut goes deeper by", hint="0 if it ends at the stop"),
            Field("least", "Must stay clear by", needed=False),
        ),
        _stop, {"unit": "in", "back_off": "15 thou", "extra_feed": "5 thou", "least": ".005"}, (UNIT,),
    ),
    Sum(
        "aim", "Aim at a weight", "The one free size that brings a plain ring to a wanted weight.",
        plain(
            Field("outside", "Outside Ø"), Field("inside", "Inside Ø", needed=False, hint="empty: solid"),
            Field("length", "Length"), MATERIAL, DENSITY, _FREE_CUT,
            Field("over", "Turned or bored over", needed=False, hint="empty: all along"), _WANTED,
            Field("wanted", "Weight wanted", "mass"),
        ),
        _aim,
        {"unit": "mm", "weigh": "g", "outside": "120", "inside": "20", "length": "45", "material": "brass_464",
         "density": "8.49", "free": "face", "what": "mass", "wanted": "3500"},
        (UNIT, WEIGH),
    ),
    Sum(
        "passes", "Passes and dial", "Stock to equal passes and a finish pass, with the number to dial for each.",
        plain(
            _KIND, Field("now", "Size now", hint="for a face: its length now"), Field("wanted", "Size wanted"),
            Field("most", "Most per pass, deep"), Field("finish", "Left to finish, deep", needed=False), _DIAL,
        ),
        _passes,
        {"unit": "in", "kind": "turn", "now": "9.500", "wanted": "9.250", "most": ".060", "finish": ".010",
         "dial": "diameter"},
        (UNIT,),
    ),
)  # fmt: skip
