"""Densities of what comes through the door: nominal, low and high, cast or wrought, and where each value is from.

Where tables disagree the row says which value is taken and what the other prints.
"""

import math
import re
from dataclasses import dataclass

from shopapp.bench.errors import Impossible, Refused


@dataclass(frozen=True)
class Material:
    """One material: density [g/cm3] nominal, low and high; `made` is cast or wrought."""

    key: str
    words: str
    nominal: float
    low: float
    high: float
    made: str
    source: str


_PNNL = "PNNL-15870, Compendium of Material Composition Data"

_ALL = (
    Material("grey_iron", "grey iron", 7.15, 6.8, 7.4, "cast",
             f"{_PNNL}, iron, cast (gray); others print 6.6 to 7.8, and EN 1991-1-1, for loads, 7.24 to 7.39"),
    Material("ductile_iron", "ductile iron", 7.10, 7.0, 7.3, "cast", "EN 1563, informative annex, from memory"),
    Material("cast_steel", "cast steel", 7.85, 7.75, 7.87, "cast", "foundry lexicon, density; range common practice"),
    Material("carbon_steel", "carbon steel", 7.85, 7.82, 7.88, "wrought",
             f"Gere, table of densities; {_PNNL} prints 7.82"),
    Material("alloy_steel", "alloy steel (4140, 4340)", 7.85, 7.83, 7.86, "wrought", "TU Delft, AISI 4340"),
    Material("stainless_304", "stainless 304", 7.90, 7.86, 8.03, "wrought",
             f"EN 10088-1, 1.4301; {_PNNL} prints 8.00"),
    Material("stainless_316", "stainless 316", 8.00, 7.95, 8.03, "wrought", "EN 10088-1, 1.4401"),
    Material("aluminium_6061", "aluminium 6061", 2.70, 2.69, 2.72, "wrought", f"{_PNNL}, aluminum alloy 6061"),
    Material("aluminium_7075", "aluminium 7075", 2.81, 2.79, 2.82, "wrought", f"{_PNNL}, aluminum alloy 7075"),
    Material("aluminium_cast", "aluminium, cast (A356)", 2.68, 2.65, 2.70, "cast", ".097 lb/in3, from memory"),
    Material("brass_360", "brass C36000", 8.50, 8.44, 8.53, "wrought", "C36000 data sheet, .307 lb/in3"),
    Material("brass_464", "naval brass C46400", 8.41, 8.38, 8.45, "wrought", "C46400 data sheet, .304 lb/in3"),
    Material("copper", "copper", 8.96, 8.89, 8.96, "wrought", f"{_PNNL}, copper"),
    Material("bronze_660", "bronze C93200 (660)", 8.91, 8.6, 8.93, "cast", "C93200 data sheet, .322 lb/in3"),
    Material("zinc_cast", "zinc, die cast (3, 5, 7)", 6.6, 6.55, 6.7, "cast", "die caster's table, .24 lb/in3"),
    Material("nylon_6", "nylon 6", 1.14, 1.12, 1.16, "cast", f"{_PNNL}, nylon, type 6 and type 6/6"),
    Material("acetal", "acetal", 1.41, 1.39, 1.43, "wrought", "ISO 1183 data-sheet value, from memory"),
    Material("titanium", "titanium Ti-6Al-4V", 4.43, 4.42, 4.45, "wrought",
             f"{_PNNL}, titanium alloy, grade 5; of the pure metal it prints 4.54, newer tables 4.506"),
    Material("magnesium", "magnesium AZ91D", 1.81, 1.80, 1.83, "cast", "DIN 1729 data sheet, 3.5912"),
)

MATERIALS: dict[str, Material] = {material.key: material for material in _ALL}


def material(key: str) -> Material:
    """A material by its key; each row names its source, and the ranges are common practice, no source.

    Formula: none; a row of the table of materials

    key: one of the table's keys [text]

    Returns: the row [g/cm3].
    Limits: the rows of the table; the shop's own are made by `own`.
    Raises: Refused for a key that is not in the table.

    >>> material("grey_iron").nominal
    7.15
    """
    if key not in MATERIALS:
        raise Refused(f"There is no material named {key}. There are: {', '.join(MATERIALS)}.")
    return MATERIALS[key]


def own(words: str, nominal: float, low: float, high: float, made: str, source: str) -> Material:
    """A material of the shop's own, its figures looked at; common practice, no source.

    Formula: none; low <= nominal <= high, each above nothing

    words: what the shop calls it [text]
    nominal: its usual density [g/cm3]
    low: the least it honestly is [g/cm3]
    high: the most it honestly is [g/cm3]
    made: cast or wrought [word]
    source: who says so: a data sheet, a certificate, a piece weighed in the shop [text]

    Returns: the row, its key made of the words [g/cm3].
    Limits: the key may be one of the table's; whoever keeps the shop's own looks for that.
    Raises: Refused for a word that is missing, Impossible for figures that cannot be.

    >>> own("Meehanite GC 40", 7.3, 7.2, 7.35, "cast", "foundry certificate").key
    'meehanite_gc_40'
    """
    key = re.sub(r"[^a-z0-9]+", "_", words.casefold()).strip("_")
    if not key or not source.strip():
        raise Refused("A material needs a name, and who says what it weighs: a data sheet, or “a piece we weighed”.")
    if made not in ("cast", "wrought"):
        raise Refused("Say how the material was made: cast or wrought.")
    if not (math.isfinite(high) and 0.1 <= low <= nominal <= high <= 23):
        raise Impossible(
            "The usual density lies between the least and the most, in g/cm³: steel 7.82, 7.85, 7.88. "
            "Nothing in a shop is under 0.1 or over 23."
        )
    return Material(key, words.strip(), nominal, low, high, made, source.strip())
