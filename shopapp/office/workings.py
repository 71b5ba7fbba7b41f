"""The working behind a figure, read out of the docstring of the bench function that found it."""

import inspect
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache
from typing import Any

from shopapp.office.sheets.working import WorkingSheet

_ENTRY = re.compile(r"^([A-Za-z_]\w*): ")
_SOURCE = re.compile(
    r"\bpp?\. ?\d|Handbook|NIST|GUM|ISO \d|EN \d|DIN \d|ASME|BR-CO|AFIT|VDI \d|catalogue|no source|from memory|theorem",
    re.IGNORECASE,
)
# Signs as a reader knows them, for what a docstring writes in plain letters.
_SIGNS = tuple(
    (re.compile(pattern), sign)
    for pattern, sign in (
        (r"\bpi\b", "π"), (r"\brho\b", "ρ"), (r"\bnu\b", "ν"), (r"\bOmega\b", "Ω"), (r"\bINT\b", "∫"),
        (r"\bSUM\b", "Σ"), (r"\bsqrt\(", "√("), (r"(?<=[\w)])\^2\b", "²"), (r"(?<=[\w)])\^3\b", "³"),
        (r"(?<=[\w)])\^4\b", "⁴"), ("<=", "≤"), (">=", "≥"), (r"\+-", "±"), (r"-\+", "∓"),
    )
)  # fmt: skip
_NAME = re.compile(r"`(\w+)`|\b[a-z]{3,}(?:_[a-z]{2,})+\b(?!: )")
_CLAUSE = re.compile(r"[;:] (?=[^;:]*$)")


@dataclass(frozen=True)
class Drawing:
    """What the docstring of a bench function says, taken apart."""

    sentence: str
    source: str
    notes: str
    formula: str
    limits: str


def of(
    function: Callable[..., Any], *, figure: str = "", value: str = "", inputs: Iterable[tuple[str, str]] = ()
) -> WorkingSheet:
    """The working of a figure that this function of the bench gave, from these inputs as typed."""
    said = drawing(function)
    return WorkingSheet(
        figure=figure, value=value, sentence=said.sentence, formula=said.formula, inputs=tuple(inputs),
        limits=said.limits, source=said.source, notes=said.notes,
    )  # fmt: skip


@cache
def drawing(function: Callable[..., Any]) -> Drawing:
    """The docstring of a bench function as sentence, source, notes, formula and limits."""
    text = (inspect.getdoc(function) or "").split(">>>")[0]
    lead, entries = _parts(_NAME.sub(_spoken, text))
    sentence, source, notes = _sourced(lead)
    if not source:
        clauses = (one for said in entries.values() for one in re.split(r"; ", said))
        source = next((one.rstrip(".") for one in clauses if _SOURCE.search(one)), "")
    return Drawing(sentence, _capital(source), notes, signs(entries.get("Formula", "")), entries.get("Limits", ""))


def signs(formula: str) -> str:
    """A formula in the signs of a book: π for pi, √ for sqrt, x² for x^2."""
    for pattern, sign in _SIGNS:
        formula = pattern.sub(sign, formula)
    return formula


def _parts(text: str) -> tuple[list[str], dict[str, str]]:
    """The paragraphs before the first entry, and the entries by name; an entry ends at the next or at a blank line."""
    lead: list[str] = []
    entries: dict[str, str] = {}
    for paragraph in re.split(r"\n\s*\n", text.strip()):
        name = ""
        for line in paragraph.splitlines():
            if met := _ENTRY.match(line):
                name = met[1]
                entries[name] = line[met.end() :].strip()
            elif name:
                entries[name] += " " + line.strip()
        if not name and not entries:
            lead.append(" ".join(paragraph.split()))
    return lead, entries


def _sourced(lead: list[str]) -> tuple[str, str, str]:
    """The sentence, its source and what else is said, of the paragraphs before the formula."""
    first, *more = lead or [""]
    notes = " ".join(more)
    in_brackets = [met for met in re.finditer(r" \(((?:[^()]|\([^()]*\))*)\)", first) if _SOURCE.search(met[1])]
    if in_brackets:
        last = in_brackets[-1]
        after = first[last.end() :].lstrip(". ")
        return _stopped(first[: last.start()]), last[1], f"{after} {notes}".strip()
    cut = _CLAUSE.search(first)
    if cut and _SOURCE.search(tail := first[cut.end() :]):
        return _stopped(first[: cut.start()]), tail.rstrip("."), notes
    told = [one for one in more if _SOURCE.search(one)]
    if told:
        said = _sentences(told[0])
        source = " ".join(one for one in said if _SOURCE.search(one))
        rest = " ".join(one for one in _sentences(notes) if one not in said or not _SOURCE.search(one))
        return _stopped(first), source.rstrip("."), rest
    return _stopped(first), "", notes


def _sentences(text: str) -> list[str]:
    return [one for one in re.split(r"(?<=[.!?]) (?=[A-Z])", text.strip()) if one]


def _stopped(text: str) -> str:
    return text.rstrip(" .;:,") + "."


def _spoken(name: re.Match[str]) -> str:
    """The name of another function as it is said: general length, not general_length."""
    return (name[1] or name[0]).replace("_", " ")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
