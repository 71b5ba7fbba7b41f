"""The invented shop itself: its letterhead, hands, tools, dated rates and words, and the customers in its book."""

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

MACHINES = (
    ("16 in lathe", "radius", "800", "36 58 92 146 230 370 585 930", "5.5", "1/4 in"),
    ("10 in lathe", "diameter", "1200", "70 115 190 310 500 820 1330", "1.5", "5 mm"),
)
"""Name, what the cross-slide dial reads, the chuck's limit, speeds [rpm], motor [kW], a turn of the jaw screw."""

INSTRUMENTS = (
    ("dial caliper", "in", ".001", ".001"),
    ("digital caliper", "in", ".0005", ".001"),
    ("depth micrometer", "in", ".001", ".0005"),
    ("bore gauge", "mm", "0.01", "0.02"),
)
"""Name, unit, least step, good to."""

PHRASES = (
    ("quote", "2025-09-01", "The price is for the work named here. If we find more, we ask before we go on."),
    ("terms", "2025-09-01", "Cheque, transfer or card, by the day on the bill."),
    ("invoice", "2025-09-01", "Thank you for the work. A question about this bill? Call 555-0100."),
    ("ready", "2025-09-01", "Say the job number at the counter and it is brought to your car."),
    ("storage", "2025-09-01", "Finished pieces wait on our shelf. Please fetch them soon; the shelf is short."),
    ("storage", "2026-01-01", "Finished pieces wait here free for 30 days. Call us if you need longer."),
    ("workmanship", "2025-09-01", "If something is not as agreed, bring the piece back and we look at it with you."),
    ("hand_over", "2025-09-01", "Count the pieces and what came along before you sign."),
    ("reminder", "2025-09-01", "If your payment is on its way already, nothing more is needed."),
)
"""Subject, from which day, the owner's words."""

RATES = (("2025-01-01", 8600), ("2026-01-01", 9200))
TAX = ("2025-01-01", "6.25")

AGREEMENTS = (
    ("C1", "Carriage reverse wheel", "1", "138.00", "2025-07-01", "2026-06-30", "reverse wheel, agreed price"),
    ("C3", "Auger bearing carrier", "4", "62.00", "2025-09-01", "2026-08-31",
     "bearing carrier, agreed price from 4 up"),
    ("C3", "Auger bearing carrier", "1", "74.00", "2025-09-01", "2026-08-31", "bearing carrier, agreed price"),
)  # fmt: skip
"""Customer, kind of part, from how many, each, first and last day, the words on a quote."""

UNSIGNED = ("C2", "C9")
"""Customers who are known at the counter and take their pieces without a signature."""

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
         "note": "The log truck fetches, mornings only."},
    ),
    CustomerRow(
        "C2", "Plumwick Press Room", "Ilsabet Plumwick", "555-0114", "press@plumwick.example",
        {"address": "11 Composing Row\nLower Quench"},
    ),
    CustomerRow(
        "C3", "Fenlatch Grain Growers", "Dorrick Fenlatch", "555-0119", "stores@fenlatch.example",
        {"terms_days": 30, "order_number": "wanted", "bill_when": "fetched", "address": "Elevator Road\nFenlatch",
         "note": "Statement at the end of the month."},
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
