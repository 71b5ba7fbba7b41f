"""How one figure came to be: its formula, what was typed, where it is from and how far it holds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar


@dataclass(frozen=True)
class WorkingSheet:
    """The working of one figure. `inputs` are pairs of name and text as typed, with its unit.

    Formula and limits are empty where a rule of words has none; `notes` says where other sources differ.
    """

    figure: str
    value: str
    sentence: str
    formula: str
    inputs: tuple[tuple[str, str], ...]
    limits: str
    source: str
    notes: str = ""

    kind: ClassVar[str] = "working"
