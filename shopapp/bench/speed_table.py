"""Cutting speeds that books recommend, a row for each source; they differ a lot, and the shop's own row goes first."""

from dataclasses import dataclass

FOOT = 0.3048  # m, exact


@dataclass(frozen=True)
class SpeedRow:
    """One source's range of cutting speeds for one group of materials, in ft/min as the source gives it.

    A ceiling is no recommendation: it says only what never to go over.
    """

    group: str
    words: str
    low_ft: float
    high_ft: float
    source: str
    year: int | None = None
    note: str = ""
    ceiling: bool = False


GROUPS = {
    "iron_soft": "grey cast iron, soft", "iron_hard": "cast iron, hard", "steel_low": "low-carbon or machine steel",
    "steel_medium": "medium-carbon steel", "steel_alloy": "alloy steel, hard", "steel_tool": "tool steel, annealed",
    "stainless": "stainless steel", "aluminium": "aluminium", "brass": "brass or soft bronze", "bronze": "bronze, hard",
    "titanium": "titanium", "magnesium": "magnesium",
}  # fmt: skip

# Which group a material of the shop's table belongs to; common practice, no source.
GROUP_OF = {
    "grey_iron": "iron_soft", "ductile_iron": "iron_hard", "cast_steel": "steel_medium", "carbon_steel": "steel_low",
    "alloy_steel": "steel_alloy", "stainless_304": "stainless", "aluminium_6061": "aluminium",
    "aluminium_cast": "aluminium", "brass_360": "brass", "bronze_660": "brass", "titanium": "titanium",
    "magnesium": "magnesium",
}  # fmt: skip

_BOOK = "Jones, Turning and Boring, general practice"
_SHEET = "a university's shop sheet"
_OWNER = "a lathe owner's manual, high-speed steel"
_ARMY = "TC 9-524, high-speed steel, straight turning"
_READ = "columns read as drill, lathe, mill: middle one taken; twice as fast for carbide"
_MEMORY = "from memory, not seen"

_READINGS: tuple[tuple[str, int | None, str, tuple[tuple[str, float, float], ...]], ...] = (
    (_BOOK, 1914, "", (
        ("iron_soft", 40, 50), ("steel_low", 45, 65), ("steel_tool", 25, 35), ("brass", 150, 200), ("bronze", 35, 80),
    )),
    (_SHEET, None, _READ, (
        ("iron_soft", 100, 250), ("iron_hard", 50, 150), ("steel_low", 100, 250), ("steel_alloy", 50, 150),
        ("steel_tool", 50, 150), ("stainless", 60, 180), ("aluminium", 350, 700), ("brass", 250, 500),
        ("titanium", 90, 200), ("magnesium", 400, 800),
    )),
    (_OWNER, None, "one figure", (
        ("iron_soft", 80, 80), ("iron_hard", 50, 50), ("steel_low", 90, 90), ("steel_alloy", 40, 40),
        ("steel_tool", 50, 50), ("stainless", 60, 60), ("aluminium", 300, 300), ("brass", 150, 150),
        ("titanium", 50, 50),
    )),
    (_ARMY, None, _MEMORY, (
        ("iron_soft", 50, 80), ("steel_low", 80, 100), ("steel_medium", 60, 80), ("steel_tool", 35, 40),
        ("stainless", 40, 50), ("aluminium", 200, 300), ("brass", 100, 200), ("bronze", 40, 60),
    )),
    ("T.O. 1-1A-9, section 11", None, "keep below this", (("magnesium", 0, 700),)),
)  # fmt: skip

SPEEDS: tuple[SpeedRow, ...] = tuple(
    SpeedRow(group, GROUPS[group], low, high, source, year, note, ceiling=not low)
    for source, year, note, rows in _READINGS
    for group, low, high in rows
)
