"""Ten kinds of parts and their twenty look-alikes: what tells them apart, and what they are made of."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Variant:
    """One look-alike: its short name here, its name in the book, its signs (the first decides)."""

    key: str
    name: str
    signs: tuple[str, ...]
    material: str
    density: str
    unit: str = "in"
    note: str = ""


@dataclass(frozen=True)
class Kind:
    """A kind of part with its look-alikes."""

    name: str
    variants: tuple[Variant, ...]
    note: str = ""
    not_done: str = ""


def _like(one: Variant, key: str, name: str, *signs: str, material: str = "", density: str = "") -> Variant:
    """A look-alike of another: the same stuff unless another is named."""
    return Variant(key, name, signs, material or one.material, density or one.density, one.unit, one.note)


_RW = Variant(
    "RW-6", "six-pocket", ("six round pockets in the rim land", "hub end fully faced"), "ductile_iron", "7.10",
    note="Magnet pockets in the rim land: finished shoulders at 1.0505 and 1.4495, .012 off. "
    "No jaws on the friction bore, 7.500.",
)  # fmt: skip
_WF = Variant(
    "WF-L", "left", ("two set-screw holes in the hub", "keyway opposite the anchor slot"), "cast_steel", "7.80",
    note="Rope-anchor slot at 12.6 Ø on the far side, blind, .40 deep.",
)  # fmt: skip
_ID = Variant(
    "ID-10", "10 inch", ("plain rim", "one drive pin hole under the boss"), "grey_iron", "7.15",
    note="Stud thread below the boss.",
)  # fmt: skip
_PH = Variant(
    "PH-2", "two-pin", ("2 bat-pin holes on a 10 inch circle",), "aluminium_6061", "2.70",
    note="Stay .100 off the bat-pin holes.",
)  # fmt: skip
_CH = Variant(
    "CH-28", "28 mm bore", ("dot punched beside the keyway", "bore 28.00 mm, 8 mm keyway"), "carbon_steel", "7.85",
    note="Three drive slots in the flange face.",
)  # fmt: skip
_CW = Variant(
    "CW-P", "plain", ("no collar, both faces flat",), "brass_360", "8.49", "mm", "Bore 20 H7 is not to be touched."
)
_BC = Variant(
    "BC-T", "tall foot", ("foot to bore centre 148 mm",), "grey_iron", "7.15", "mm",
    "Grease drilling into the seat at 12 o'clock.",
)  # fmt: skip
_HS = Variant(
    "HS-I", "ductile iron", ("rings when tapped, magnet holds",), "ductile_iron", "7.10",
    note="Its twin has the same outline. Bore is a bearing fit.",
)  # fmt: skip
_PS = Variant("PS-P", "plain", ("one outside diameter",), "stainless_304", "7.93", note="Seal land 1.625: polish only.")
_SC = Variant(
    "SC-L", "left", ("grease hole left of the stamped arrow",), "carbon_steel", "7.85",
    note="Jaws not over the grease hole.",
)  # fmt: skip

KINDS = (
    Kind("Carriage reverse wheel", (
        _RW,
        _like(_RW, "RW-8", "eight-pocket", "eight round pockets in the rim land", "as-cast step left on the hub end"),
    ), "Lighten rim and back."),
    Kind("Winch drum end plate", (
        _WF,
        _like(_WF, "WF-R", "right", "three set-screw holes in the hub", "keyway in line with the anchor slot"),
    ), not_done="proof load"),
    Kind("Ink disc", (
        _ID,
        _like(_ID, "ID-12", "12 inch", "rim has a ratchet of 40 teeth", "two pin holes"),
    )),
    Kind("Potter's wheel head", (
        _PH,
        _like(_PH, "PH-3", "three-pin", "3 bat-pin holes on a 10 inch circle"),
    )),
    Kind("Pump coupling half", (
        _CH,
        _like(_CH, "CH-118", "1-1/8 in bore", "no dot beside the keyway", "bore 1-1/8 in, 1/4 in keyway"),
    )),
    Kind("Telescope counterweight", (
        _CW,
        _like(_CW, "CW-C", "with collar", "collar 60 mm x 8 mm on one face"),
    ), "Brought to 3.500 kg."),
    Kind("Auger bearing carrier", (
        _BC,
        _like(_BC, "BC-S", "short foot", "foot to bore centre 123 mm"),
    )),
    Kind("Head-block sheave", (
        _HS,
        _like(
            _HS, "HS-N", "cast nylon", "dull when tapped, magnet does not hold", material="nylon_6", density="1.15"
        ),
    ), not_done="rigging inspection"),
    Kind("Pump shaft sleeve", (
        _PS,
        _like(_PS, "PS-S", "shouldered", "shoulder 1/2 in long at one end"),
    ), "From 1-3/4 bar, cut to 3-1/4."),
    Kind("Plow swivel collar", (
        _SC,
        _like(_SC, "SC-R", "right", "grease hole right of the stamped arrow"),
    )),
)  # fmt: skip
