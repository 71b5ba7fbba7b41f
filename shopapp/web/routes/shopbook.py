"""The shop book: letterhead, dated rates and taxes, scales; a wrong row is put right by a newer one."""

from __future__ import annotations

import re
from dataclasses import asdict, replace
from pathlib import Path

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response

from shopapp.bench.money import show
from shopapp.office import history, once, people, series, shopbook
from shopapp.office.database import Session
from shopapp.office.errors import TryAgain
from shopapp.office.shopbook import ShopFacts
from shopapp.web.desk import WHO, At, Desk, Sent
from shopapp.web.forms import Form
from shopapp.web.render import page

UNITS, PAPERS, MASSES = ("in", "mm"), ("Letter", "A4"), ("lb", "oz", "g", "kg")
WORDS = ("name", "owner", "place", "phone", "email", "tax_id", "hours", "not_done", "address")
WAYS = (
    ("customers.page", "Customers"), ("parts.page", "Parts"), ("agreements.page", "Agreed prices"),
    ("phrases.page", "Words on papers"), ("equipment.machines", "Machines"),
    ("equipment.instruments", "Instruments"), ("scratch.page", "Scratch sheet"), ("intake.blank", "Blank tickets"),
)  # fmt: skip
"""The other sheets of the book."""
A_YEAR = 365 * 24 * 3600
router = APIRouter()


@router.get("/first", name="shopbook.first")
def first(desk: At) -> Response:
    """The first page of an empty book."""
    if desk.wall.facts():
        return RedirectResponse(desk.url("shopbook.page"), status_code=303)
    return _first(desk, Form(typed={"unit": "in", "currency": "$", "zone": here(), "tax": "0", "scale_unit": "lb"}))


@router.post("/first", name="shopbook.begin")
def begin(desk: At, form: Sent) -> Response:
    """Begin the book: the shop, the first person, the first rate, tax and scale, all or nothing."""
    try:
        with desk.database.writing() as db:
            leads_to = once.led_to(db, form.once)
            if leads_to is None and shopbook.shop(db):
                return RedirectResponse(desk.url("people.page"), status_code=303)
            if leads_to is None:
                _begin(db, form, desk)
                leads_to = desk.url("rail.page")
                once.keep(db, form.once, leads_to=leads_to, now=desk.now)
    except TryAgain as refusal:
        form.take(refusal)
        return _first(desk, form, 422)
    desk.wall.forget()
    answer = desk.lead_on(leads_to, form, "The book is begun. The first call goes on a new slip.")
    answer.set_cookie(WHO, form["initials"].strip().upper(), max_age=A_YEAR, samesite="lax", httponly=True)
    return answer


def _begin(db: Session, form: Form, desk: Desk) -> None:
    name = form.words("name", "Write the shop's name as it shall stand on papers.")
    initials = form.words("initials", "Initials are two to four letters, such as WK.")
    person = form.words("person", "Write the name that belongs to the initials.")
    told: dict[str, object] = {field: form.words(field) for field in ("phone", "place", "zone", "not_done")}
    told["unit"] = unit = form.one_of("unit", UNITS, "Inches or millimetres? Choose one.")
    told |= {"currency": _currency(form), "paper": "Letter" if unit == "in" else "A4"}
    form.words("rate", "Write the price of an hour at the bench, such as 86.00.")
    cents = form.cents("rate")
    form.check()
    by = people.add(db, initials=initials, name=person, now=desk.now)
    shopbook.change(db, name=name, **told, now=desk.now, by=by)
    today = shopbook.the_shop(db).today(desk.now)
    shopbook.add_rate(db, valid_from=today, cents_per_hour=cents, now=desk.now, by=by)
    shopbook.add_tax(db, valid_from=today, percent=form["tax"].strip() or "0", now=desk.now, by=by)
    if form["scale"].strip() or form["division"].strip() or form["capacity"].strip():
        _add_scale(db, form, desk, by)


def _first(desk: Desk, form: Form, status: int = 200) -> Response:
    frame = replace(desk.wall.framed(desk.request), sheet="A new shop")
    return page(
        desk.request, "shopbook/first.html", status, frame=frame, form=form, zones=shopbook.zones(), masses=MASSES
    )


def here() -> str:
    """The zone of this machine's clock, where it can be told."""
    clock = Path("/etc/localtime").resolve().parts
    name = "/".join(clock[clock.index("zoneinfo") + 1 :]) if "zoneinfo" in clock else "UTC"
    return name if name in shopbook.zones() else "UTC"


@router.get("/book", name="shopbook.page")
def book(desk: At) -> Response:
    """Everything that the shop has set down about itself."""
    return _page(desk, Form(typed={"rate_from": str(desk.today), "tax_from": str(desk.today), "scale_unit": ""}))


@router.post("/book/shop", name="shopbook.change")
def change(desk: At, form: Sent) -> Response:
    """Write the shop's facts."""

    def act(db: Session, by: int) -> str:
        told: dict[str, object] = {name: form.words(name) for name in WORDS}
        told |= {"zone": form.words("zone"), "currency": _currency(form), "minimum_cents": form.cents("minimum")}
        told["unit"] = form.one_of("unit", UNITS, "Inches or millimetres? Choose one.")
        told["paper"] = form.one_of("paper", PAPERS, "Letter or A4? Choose one.")
        told["tax_by"] = form["tax_by"] or desk.shop.tax_by
        told["country"] = _country(form, desk.shop.country)
        told["rush_percent"] = form["rush_percent"].strip() or "0"
        told["quote_days"] = form.whole("quote_days", 1, 365, 30)
        told["left_behind_days"] = form.whole("left_behind_days", 1, 3650, 30)
        form.check()
        shopbook.change(db, now=desk.now, by=by, **told)
        return desk.url("shopbook.page")

    return desk.submit(form, act, lambda: _page(desk, form), "The shop's facts are written.")


@router.post("/book/rates", name="shopbook.rate")
def rate(desk: At, form: Sent) -> Response:
    """One more dated rate."""

    def act(db: Session, by: int) -> str:
        begins = form.day("rate_from", "From which day on?")
        cents = form.cents("rate")
        form.check()
        assert begins
        sure = form.ticked("rate_sure")
        shopbook.add_rate(db, valid_from=begins, cents_per_hour=cents, sure=sure, now=desk.now, by=by)
        return desk.url("shopbook.page")

    return desk.submit(form, act, lambda: _page(desk, form), "The rate stands in the book.")


@router.post("/book/taxes", name="shopbook.tax")
def tax(desk: At, form: Sent) -> Response:
    """One more dated tax."""

    def act(db: Session, by: int) -> str:
        begins = form.day("tax_from", "From which day on?")
        percent = form.words("tax", "Write the tax in percent, such as 6.25; write 0 for none.")
        form.check()
        assert begins
        shopbook.add_tax(db, valid_from=begins, percent=percent, now=desk.now, by=by)
        return desk.url("shopbook.page")

    return desk.submit(form, act, lambda: _page(desk, form), "The tax stands in the book.")


@router.post("/book/scales", name="shopbook.scale")
def scale(desk: At, form: Sent) -> Response:
    """One more scale."""

    def act(db: Session, by: int) -> str:
        _add_scale(db, form, desk, by)
        return desk.url("shopbook.page")

    return desk.submit(form, act, lambda: _page(desk, form), "The scale stands in the book.")


@router.post("/book/numbers/{code}", name="shopbook.begin_numbers")
def begin_numbers(desk: At, code: str, form: Sent) -> Response:
    """A series of numbers begins where a paper book ended."""

    def act(db: Session, by: int) -> str:
        field = f"begin_{code}"
        number = form.whole(field, 1, series.HIGHEST)
        form.check()
        series.begin(db, code=code, number=number, now=desk.now, by=by)
        return desk.url("shopbook.page")

    return desk.submit(form, act, lambda: _page(desk, form), "The numbers begin there.")


def _add_scale(db: Session, form: Form, desk: Desk, by: int) -> None:
    unit = form.one_of("scale_unit", MASSES, "Which unit does the scale show? Choose one.")
    form.check()
    shopbook.add_scale(
        db, name=form["scale"], unit=unit, division=form["division"], capacity=form["capacity"], now=desk.now, by=by
    )


def _country(form: Form, was: str) -> str:
    code = (form["country"].strip() or was).upper()
    if not re.fullmatch(r"[A-Z]{2}", code):
        form.problems["country"] = "Write the country as two letters, such as US, CA or DE."
    return code


def _currency(form: Form) -> str:
    sign = form.words("currency", "Write the sign that stands before an amount, such as $.")
    if len(sign) > 4:
        form.problems["currency"] = "Four letters at most: $, €, CHF."
    return sign


def _page(desk: Desk, form: Form) -> Response:
    form.typed = {**_as_typed(desk.shop), **form.typed}
    if not form["scale_unit"]:
        form.typed["scale_unit"] = "lb" if desk.shop.unit == "in" else "kg"
    return desk.page(
        "shopbook/page.html", sheet="Shop book", here="book", form=form, rates=shopbook.rates(desk.db),
        taxes=shopbook.taxes(desk.db), scales=shopbook.scales(desk.db),
        people_rows=[[hand.initials, hand.name] for hand in people.everyone(desk.db)],
        zones=shopbook.zones(), ways=WAYS, series=series.every(desk.db), lines=history.of_the_shop(desk.db, 100),
    )  # fmt: skip


def _as_typed(shop: ShopFacts) -> dict[str, str]:
    """The shop's facts as the form shows them."""
    return {**{name: str(value) for name, value in asdict(shop).items()}, "minimum": show(shop.minimum_cents, "")}
