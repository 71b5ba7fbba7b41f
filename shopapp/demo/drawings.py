"""What the look-alikes look like in section and what is cut off them, as somebody at the bench typed it."""

from shopapp.office.drawing import BodyTyped, CutsTyped, KeepTyped, Typed


def _rows(told: str) -> tuple[Typed, ...]:
    """Lines such as "ring: outside 9.500, inside 7-1/2, start 0, end 2.5"; a cut begins with its side."""
    rows = []
    for line in filter(None, (line.strip() for line in told.splitlines())):
        what, _, sizes = line.partition(":")
        side, _, kind = what.rpartition(" ")
        pairs = (size.split(maxsplit=1) for size in filter(None, (size.strip() for size in sizes.split(","))))
        rows.append(Typed(kind, dict(pairs), side))
    return tuple(rows)


def _body(unit: str, told: str, *keeps: KeepTyped, **least: str) -> BodyTyped:
    return BodyTyped(unit, _rows(told), keeps, **least)


def _cuts(unit: str, told: str, **web: str) -> CutsTyped:
    return CutsTyped(unit, _rows(told), **web)


def _wheel(pockets: int, step: str = "") -> BodyTyped:
    told = f"""
        ring: outside 9.500, inside 7-1/2, start 0, end 2.500
        ring: outside 7.500, inside 3.250, start 0, end .650
        ring: outside 3-1/4, inside 1-3/4, start 0, end 2.100
        {step}
        holes: count 4, diameter .530, circle 5-1/2
        pocket: count {pockets}, diameter 3/8, outside 9.500, depth .300, at 1-1/4
        keyway: width 3/8, depth 3/16, bore 1.750, start 0, end 2.100
    """
    back = KeepTyped("pocket edge, back", "1-1/16", "from", ".010")
    front = KeepTyped("pocket edge, front", "1.4375", "to", ".010")
    return _body("in", told, back, front, web_least=".300", wall_least="5/8")


def _end_plate(screws: int) -> BodyTyped:
    told = f"""
        ring: outside 14.000, inside 2-7/16, start 0, end 1.100
        ring: outside 5.000, inside 2.4375, start 0, end 3.000
        holes: count 6, diameter .690, circle 11.000, start 0, end 1.100
        keyway: width 5/8, depth 5/16, bore 2.4375, start 0, end 3.000
        pocket: count {screws}, diameter 1/2, outside 5.000, depth 1.280, at 2.050
    """
    slot = KeepTyped("rope-anchor slot", ".700", "from", ".100", "12.2", "13")
    return _body("in", told, slot, web_least="15/16")


def _disc(outside: str, thick: str, boss_end: str, stud_end: str, keep: KeepTyped) -> BodyTyped:
    told = f"""
        ring: outside {outside}, start 0, end {thick}
        ring: outside 2.000, start {thick}, end {boss_end}
        ring: outside 3/4, start {boss_end}, end {stud_end}
    """
    return _body("in", told, keep, web_least="7/16")


def _wheel_head(pins: int) -> BodyTyped:
    told = f"""
        ring: outside 3.000, inside 1.000, start 0, end 1.000
        ring: outside 12.000, inside 1.000, start 1.000, end 1-3/4
        holes: count {pins}, diameter 3/8, circle 10.000
    """
    return _body("in", told, KeepTyped("bat-pin holes", "1.000", "from", "0", "9.450", "10.550"), web_least="3/8")


def _coupling(bore: str, keyway: str) -> BodyTyped:
    told = f"""
        ring: outside 4-1/4, inside {bore}, start 0, end 1.000
        ring: outside 2.500, inside {bore}, start 0, end 2-1/4
        keyway: {keyway}, bore {bore}, start 0, end 2.250
        slot: count 3, width .500, depth .600, outside 3.900, start 0, end .600
    """
    return _body("in", told, KeepTyped("drive slots", ".600", "to", ".050", "2.700", "3.900"))


def _counterweight(collar: str = "") -> BodyTyped:
    told = f"""
        ring: outside 120, inside 20, start 0, end 45
        {collar}
    """
    return _body("mm", told, KeepTyped("bore 20 H7", "0", "from", "0", "0", "20"), web_least="30")


def _carrier(foot: str) -> BodyTyped:
    told = f"""
        ring: outside 140, inside 52, start 0, end 45
        hollow: outside 62, inside 52, start 0, end 17
        lump: length 165, width {foot}, height 45, full 55
    """
    return _body("mm", told, KeepTyped("grease drilling", "24", "from", "3", "52", "140"), wall_least="1-1/4 in")


_SHEAVE = _body("in", """
    ring: outside 8.000, inside 6.600, start 1/8, end 1-5/8
    ring: outside 8.000, inside 2-1/2, start .575, end 1.175
    ring: outside 2.500, inside 20 mm, start 0, end 1-3/4
    hollow_cone: outside_start 8.1, outside_end 8.1, inside_start 8.1, inside_end 7.76, start .505, end .675
    hollow: outside 8.1, inside 7.76, start .675, end 1.075
    hollow_cone: outside_start 8.1, outside_end 8.1, inside_start 7.76, inside_end 8.1, start 1.075, end 1.245
""", KeepTyped("bearing bore", "0", "from", "0", "0", "1"), wall_least="3/8")  # fmt: skip
_BAR = _body("in", "ring: outside 1-3/4, start 0, end 3-1/4")
_COLLAR = _body("in", """
    ring: outside 4-1/2, inside 2-1/4, start 0, end 3.000
    pocket: count 1, diameter 1/4, outside 4.500, depth 1.100, at 1-1/2
""", wall_least="15/16")  # fmt: skip
_STUD = KeepTyped("stud thread", "1-1/2", "from", "1/16", "0", "3/4")
_TEETH = KeepTyped("ratchet teeth", ".100", "from", "1/16", "11-1/2", "12")

BODIES: dict[str, BodyTyped] = {
    "RW-6": _wheel(6),
    "RW-8": _wheel(8, "ring: outside 3.250, inside 2.000, start 2.100, end 2.350"),
    "WF-L": _end_plate(2),
    "WF-R": _end_plate(3),
    "ID-10": _disc("10.000", "1/2", "1-1/2", "3", _STUD),
    "ID-12": _disc("12.000", ".560", "1.560", "3.060", _TEETH),
    "PH-2": _wheel_head(2),
    "PH-3": _wheel_head(3),
    "CH-28": _coupling("28.00 mm", "width 8 mm, depth 3.3 mm"),
    "CH-118": _coupling("1-1/8", "width 1/4, depth 1/8"),
    "CW-P": _counterweight(),
    "CW-C": _counterweight("ring: outside 60, inside 20, start 45, end 53"),
    "BC-T": _carrier("60"),
    "BC-S": _carrier("35"),
    "HS-I": _SHEAVE,
    "HS-N": _SHEAVE,
    "PS-P": _BAR,
    "PS-S": _BAR,
    "SC-L": _COLLAR,
    "SC-R": _COLLAR,
}

_WHEEL_CUTS = """
    A turn: from 9-1/2, to 8-7/8, end 1.0505
    A face: depth leave .350, from 9.500, to 4-1/4
    A bevel: corner 1/32, diameter 8.875
    B turn: from 9.500, to 8.875, start 1.4495
    B bevel: corner 1/32, diameter 8-7/8
"""
_COUPLING_CUTS = """
    A turn: from 4-1/4, to 4.000, end 1.000
    B face: depth 1/4, from 2.500
    B bevel: corner 1/32, diameter 2-1/2
"""
_SLEEVE_CUTS = """
    A turn: from 1-3/4, to 1.625, end 3.000
    {shoulder}
    A bore: from 0, to 1-1/8
    B face: depth .250
"""
_PLATE = _cuts("in", "A face: depth .090, from 14.000, to 5-1/4\nA bevel: corner 1/16, diameter 14.000")
_HEAD = _cuts("in", "A face: depth .350, from 9-1/4, to 4.000\nA bevel: corner 1/8, diameter 12.000")
_SEAT = _cuts("mm", "A bore: to 72, end 18")
_GROOVE = _cuts("in", "A groove: from 8.1, to 7.560, start .425, end 1.325, bottom_start .675, bottom_end 1.075")
_COLLAR_CUTS = _cuts("in", "A bore: from 2-1/4, to 2-1/2")
_SKIM = _cuts("in", "A face: depth .030")

CUTS: dict[str, CutsTyped] = {
    "RW-6": _cuts("in", _WHEEL_CUTS, web=".650"),
    "RW-8": _cuts("in", _WHEEL_CUTS, web=".650"),
    "WF-L": _PLATE,
    "WF-R": _PLATE,
    "ID-10": _SKIM,
    "ID-12": _SKIM,
    "PH-2": _HEAD,
    "PH-3": _HEAD,
    "CH-28": _cuts("in", _COUPLING_CUTS),
    "CH-118": _cuts("in", _COUPLING_CUTS),
    "CW-P": _cuts("mm", "A face: depth 7.51, from 120, to 20"),
    "CW-C": _cuts("mm", "A face: depth 9.34, from 120, to 20"),
    "BC-T": _SEAT,
    "BC-S": _SEAT,
    "HS-I": _GROOVE,
    "HS-N": _GROOVE,
    "PS-P": _cuts("in", _SLEEVE_CUTS.format(shoulder="")),
    "PS-S": _cuts("in", _SLEEVE_CUTS.format(shoulder="A turn: from 1-5/8, to 1.375, start 1/2, end 3.000")),
    "SC-L": _COLLAR_CUTS,
    "SC-R": _COLLAR_CUTS,
}

MEASURED: dict[str, tuple[tuple[str, str], ...]] = {
    **dict.fromkeys(("RW-6", "RW-8"), (("web", ".650"), ("wall", "1.000"))),
    **dict.fromkeys(("WF-L", "WF-R"), (("web", "1.100"),)),
    "ID-10": (("web", ".500"),),
    "ID-12": (("web", ".560"),),
    **dict.fromkeys(("PH-2", "PH-3"), (("web", ".750"),)),
    **dict.fromkeys(("CW-P", "CW-C"), (("web", "45.0 mm"),)),
    **dict.fromkeys(("BC-T", "BC-S"), (("wall", "44.0 mm"),)),
    **dict.fromkeys(("HS-I", "HS-N"), (("wall", ".680"),)),
    **dict.fromkeys(("SC-L", "SC-R"), (("wall", "1.125"),)),
}
"""What the caliper showed before the first chip, where a drawing names the least that must stay."""
