"""A small cast for the tests: who works, who comes, and what they bring. All of it is invented."""

import io
from datetime import UTC, date, datetime

from PIL import Image

from shopapp.office.drawing import BodyTyped, CutsTyped, KeepTyped, Typed

#: Noon on a Tuesday in the shop, which lies four hours west of Greenwich in winter.
NOON = datetime(2031, 3, 4, 16, tzinfo=UTC)
TODAY = date(2031, 3, 4)
ZONE = "America/Halifax"

TURNER = {"initials": "MB", "name": "Mabel Brackwater"}
SECOND = {"initials": "OT", "name": "Osric Tallowfield"}

SHOP = {
    "name": "Brackwater Lathe Works", "owner": "Mabel Brackwater", "place": "Nether Sluice", "phone": "555-0301",
    "zone": ZONE, "rush_percent": "50", "minimum_cents": 4000, "not_done": "balancing\ncrack test",
}  # fmt: skip
SCALES = {
    "spring": {"unit": "lb", "division": ".5", "capacity": "60"},
    "counter": {"unit": "g", "division": "5", "capacity": "15000"},
    "weighbridge": {"unit": "lb", "division": "5", "capacity": "2000"},
}

MILL = {"name": "Cobbet Cider Mill", "contact": "Marn Cobbet", "phone": "555-0311", "terms_days": 30}
QUARRY = {"name": "Whinstone Quarry", "phone": "555 0322", "terms_days": 14, "order_number": "required"}
WALK_IN = {"name": "Ysolde", "phone": "555-0333"}

#: Two press plates that look alike; the one has a lip that the other has not.
PLATE = "press plate"
PLAIN = {"name": "plain", "signs": ["flat on both faces", "one drain hole"]}
LIPPED = {"name": "lipped", "signs": ["lip on one face", "one drain hole"]}
STEEL = {"material": "carbon_steel", "density": "7.85", "unit": "in"}

#: A disc of 8 in with a 2 in bore, 2 in long; a skim of a quarter inch takes an eighth of it.
DISC = BodyTyped("in", parts=(Typed("ring", {"outside": "8", "inside": "2", "start": "0", "end": "2"}),))
SKIM = CutsTyped("in", (Typed("face", {"depth": ".250"}, "A"),))
#: The same disc with a drain groove that the tool must stay clear of, and a least thickness.
GUARDED = BodyTyped(
    "in", parts=DISC.parts, keeps=(KeepTyped("drain groove", ".400", "from", ".100"),), web_least="1.500"
)


def face(depth: str, web: str = "", note: str = "") -> CutsTyped:
    """One facing cut on the back."""
    return CutsTyped("in", (Typed("face", {"depth": depth}, "A"),), web, note)


def a_photo(wide: int = 32, high: int = 24, colour: str = "slategray", kind: str = "JPEG") -> bytes:
    """A photo of nothing in particular."""
    raw = io.BytesIO()
    Image.new("RGB", (wide, high), colour).save(raw, kind)
    return raw.getvalue()


PHOTO = a_photo()
