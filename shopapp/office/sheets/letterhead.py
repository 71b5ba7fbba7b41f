"""Who writes and to whom: frozen on a paper with everything else, never read again from today's rows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True)
class Letterhead:
    """The shop as it stood on the day of issue, its paper, and the cautions printed on every sheet of it."""

    shop: str
    owner: str
    place: str
    phone: str = ""
    email: str = ""
    tax_id: str = ""
    paper: Literal["Letter", "A4"] = "Letter"
    cautions: tuple[str, ...] = ()
    address: str = ""
    country: str = ""
    currency: str = ""


@dataclass(frozen=True)
class Party:
    """The customer as it stood on the day of issue; `address` may hold line breaks."""

    name: str
    contact: str = ""
    address: str = ""
    phone: str = ""
    email: str = ""
    country: str = ""
    tax_id: str = ""
