"""The price sheet as a form: its rows read out of what was typed, and a kept sheet put back into fields."""

import re
from collections.abc import Iterable
from dataclasses import fields
from typing import Any

from shopapp.office.pricing import ExtraTyped, MaterialTyped, OutsideTyped, PricingTyped, SettingTyped
from shopapp.web.forms import Form

MOST_ROWS = 40
KINDS = {
    "setting": ("settings", SettingTyped), "extra": ("extras", ExtraTyped), "material": ("material", MaterialTyped),
    "outside": ("outside", OutsideTyped),
}  # fmt: skip
LEAST = {"setting": 2, "extra": 1, "material": 1, "outside": 1}
PLAIN = ("pieces", "agreed_each", "agreed_words", "words", "discount", "discount_reason")


def read(form: Form) -> PricingTyped:
    """The sheet as it stands in the form, empty rows at its end left off."""
    for name in form.typed:
        form.words(name)
    told: dict[str, Any] = {
        name: tuple(
            made(*(form[f"{kind}_{i}_{part.name}"].strip() for part in fields(made))) for i in range(typed(form, kind))
        )
        for kind, (name, made) in KINDS.items()
    }
    told |= {name: form[name].strip() for name in PLAIN}
    return PricingTyped(rush=form.ticked("rush"), **told)


def typed(form: Form, kind: str) -> int:
    """How many rows of a kind are typed into, counted to the last that is not empty."""
    return _sent({name: text for name, text in form.typed.items() if text.strip()}, kind)


def rows(form: Form) -> dict[str, range]:
    """The rows to show of each kind: those typed into and an empty one, and one more where it was asked for."""
    shown = {}
    for kind in KINDS:
        more = _sent(form.typed, kind) + 1 if form["more"] == kind else 0
        shown[kind] = range(min(max(typed(form, kind) + 1, LEAST[kind], more), MOST_ROWS))
    return shown


def _sent(fields_sent: Iterable[str], kind: str) -> int:
    found = [int(hit[1]) for name in fields_sent if (hit := re.fullmatch(rf"{kind}_(\d{{1,2}})_\w+", name))]
    return min(max(found, default=-1) + 1, MOST_ROWS)


def opened(form: Form) -> set[str]:
    """The folds of the sheet that something is typed into, or that one more row was asked in."""
    said = {name.split("_")[0] for name, text in form.typed.items() if text.strip()} | {form["more"]}
    return said & {"material", "outside", "discount"}


def shown(sheet: PricingTyped) -> Form:
    """A sheet as a form shows it."""
    told = {name: getattr(sheet, name) for name in PLAIN}
    if sheet.rush:
        told["rush"] = "yes"
    for kind, (name, made) in KINDS.items():
        for i, row in enumerate(getattr(sheet, name)):
            told |= {f"{kind}_{i}_{part.name}": getattr(row, part.name) for part in fields(made)}
    return Form(typed=told)
