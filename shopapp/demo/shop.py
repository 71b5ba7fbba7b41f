"""The invented shop itself: its letterhead, hands, scales, dated rates, and the customers in its book."""

from dataclasses import dataclass, field
from typing import Any

from shopapp.demo.days import ZONE

FACTS: dict[str, Any] = {
    "name": "Knurlbottom Turning & Repair",
    "owner": "Wendeline Knurlbottom",
    "place": "4 Tailstock Lane, Lower Quench",
    "phone": "555-0100",
    "email": "book@knurlbottom.example",
    "tax_id": "LQ 00-0417 (invented)",
    "zone": ZONE,
    "currency": "$",
    "unit": "in",
    "paper": "Letter",
    "hours": "Monday to Friday, 8 to 5",
    "minimum_cents": 4500,
    "rush_percent": "35",
    "quote_days": 30,
    "left_behind_days": 30,
    "not_done": "balancing\ncrack test\nheat treatment",
}

HANDS = (("WK", "Wendeline Knurlbottom"), ("JT", "Jory Thimblewright"))

SCALES = {
    "DIAL": ("bench dial", "lb", "0.5", "50"),
    "PLAT": ("platform", "lb", "0.2", "150"),
    "CNTR": ("counter", "g", "5", "15000"),
}
"""Name, unit, division, capacity."""

RATES = (("2025-01-01", 8600), ("2026-01-01", 9200))
TAX = ("2025-01-01", "6.25")

FIRST = {"job": 1161, "invoice": 701, "credit": 31}
"""Where the shop's numbers go on from its paper book."""


@dataclass(frozen=True)
class Certificate:
    """A certificate that frees from tax, with its two days."""

    number: str
    issuer: str
    valid_from: str
    valid_to: str


@dataclass(frozen=True)
class CustomerRow:
    """A customer as told to the office; `facts` holds what differs from a walk-in who pays at pick-up."""

    key: str
    name: str
    contact: str
    phone: str
    email: str = ""
    facts: dict[str, Any] = field(default_factory=dict)
    certificate: Certificate | None = None


CUSTOMERS = (
    CustomerRow(
        "C1", "Snickerby Sawmill", "Tovald Snickerby", "555-0111", "yard@snickerby.example",
        {"terms_days": 30, "address": "The Log Yard\nUpper Quench",
         "note": "Price agreement: reverse wheels $138.00 each, 2025-07-01 to 2026-06-30."},
    ),
    CustomerRow(
        "C2", "Plumwick Press Room", "Ilsabet Plumwick", "555-0114", "press@plumwick.example",
        {"address": "11 Composing Row\nLower Quench"},
    ),
    CustomerRow(
        "C3", "Fenlatch Grain Growers", "Dorrick Fenlatch", "555-0119", "stores@fenlatch.example",
        {"terms_days": 30, "order_number": "wanted", "bill_when": "fetched", "address": "Elevator Road\nFenlatch",
         "note": "Price agreement: bearing carriers $62.00 each from 4 up, else $74.00, 2025-09-01 to 2026-08-31."},
    ),
    CustomerRow(
        "C4", "Ottoline Quarrelhop", "Ottoline Quarrelhop", "555-0123", "otto@quarrelhop.example",
        {"deposit_percent": "40", "address": "The Observatory Shed\nQuarrelhop Hill"},
    ),
    CustomerRow(
        "C5", "Thistlewump County Road Garage", "Bram Oakapple", "555-0128", "garage@thistlewump.example",
        {"terms_days": 45, "order_number": "required", "address": "County Yard 2\nThistlewump"},
        Certificate("TC-77-310", "Thistlewump County", "2024-07-01", "2027-06-30"),
    ),
    CustomerRow(
        "C6", "Gannetbrow Harbour Hoists", "Maribel Gannetbrow", "555-0132", "deck@gannetbrow.example",
        {"terms_days": 30, "address": "East Quay\nGannetbrow"},
    ),
    CustomerRow(
        "C7", "Mottlebury Pottery School", "Fenwick Daubley", "555-0137", "kiln@mottlebury.example",
        {"terms_days": 30, "address": "The Old Brickworks\nMottlebury"},
        Certificate("MP-2025-08", "Mottlebury Board of Schools", "2024-01-01", "2025-12-31"),
    ),
    CustomerRow(
        "C8", "Humblewhey Creamery", "Greta Curdlestone", "555-0141", "plant@humblewhey.example",
        {"terms_days": 30, "address": "Churn Street 9\nHumblewhey"},
    ),
    CustomerRow(
        "C9", "Brasspenny Theatre Rigging", "Lucasta Flyrail", "555-0146", "loft@brasspenny.example",
        {"address": "Stage Door, Curtain Alley\nBrasspenny"},
    ),
    CustomerRow("C10", "Crispin Oddwhistle", "Crispin Oddwhistle", "555-0150", "", {"note": "Walk-in, pays cash."}),
)  # fmt: skip
