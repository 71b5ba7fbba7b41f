"""Customers: found by name, entered with a name and a phone, and all that hangs on one of them."""

from __future__ import annotations

import re
from typing import Any

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import (
    again,
    agreements,
    customers,
    history,
    jobs,
    ledger,
    payments,
    shelf,
    standing,
    workings_money,
)
from shopapp.office.database import Session
from shopapp.office.ledger import InvoiceFacts
from shopapp.office.sheets.working import WorkingSheet
from shopapp.web.desk import Asked, At, Desk, Sent
from shopapp.web.forms import Form

BILL_WHEN = {"ready": "when it is ready", "fetched": "when it is fetched"}
ORDER_NUMBER = {"none": "not needed", "wanted": "wanted on bills", "required": "no bill without one"}
WORDS = ("name", "contact", "phone", "email", "address", "note", "tax_id")
PAGE = 50
router = APIRouter()


@router.get("/customers", name="customers.page")
def page(desk: At, form: Asked) -> Response:
    """Customers by name."""
    rows = customers.listing(desk.db, like=form["like"], after=form.key("after") or 0, most=PAGE + 1)
    rest = len(rows) > PAGE
    last = rows[PAGE - 1] if rest else None
    return desk.page(
        "customers/page.html", sheet="Customers", here="book", form=form, rows=rows[:PAGE],
        after=last.id if last else "",
    )  # fmt: skip


@router.get("/customers/new", name="customers.new")
def new(desk: At, form: Asked) -> Response:
    """An empty form; `name` may be brought along."""
    typed = {"bill_when": "ready", "order_number": "none", "terms_days": "0", "deposit_percent": "0"}
    return _new(desk, Form(typed={**typed, "name": form["name"]}))


@router.post("/customers/new", name="customers.add")
def add(desk: At, form: Sent) -> Response:
    """Enter a customer."""

    def act(db: Session, by: int) -> str:
        customer_id = customers.keep(db, **_told(form), now=desk.now, by=by)
        return desk.url("customers.one", customer_id=customer_id)

    return desk.submit(form, act, lambda: _new(desk, form))


@router.get("/customers/{customer_id}", name="customers.one")
def one(desk: At, customer_id: int) -> Response:
    """A customer with jobs, what they owe and tax papers."""
    return _one(desk, customer_id, Form())


@router.post("/customers/{customer_id}", name="customers.change")
def change(desk: At, customer_id: int, form: Sent) -> Response:
    """Write over what the book has."""

    def act(db: Session, by: int) -> str:
        customers.keep(db, customer_id=customer_id, **_told(form), now=desk.now, by=by)
        return desk.url("customers.one", customer_id=customer_id)

    return desk.submit(form, act, lambda: _one(desk, customer_id, form), "Written.")


@router.post("/customers/{customer_id}/tax-papers", name="customers.tax_paper")
def tax_paper(desk: At, customer_id: int, form: Sent) -> Response:
    """Enter a certificate that frees from tax."""

    def act(db: Session, by: int) -> str:
        begins = form.day("valid_from", "From which day on is it good?")
        ends = form.day("valid_to", "Until which day is it good?")
        number = form.words("number", "Write the number that stands on the certificate.")
        form.check()
        assert begins
        assert ends
        customers.add_tax_paper(
            db, customer_id=customer_id, number=number, issuer=form.words("issuer"), valid_from=begins, valid_to=ends,
            now=desk.now, by=by,
        )  # fmt: skip
        return desk.url("customers.one", customer_id=customer_id)

    return desk.submit(form, act, lambda: _one(desk, customer_id, form), "The certificate stands in the book.")


@router.post("/customers/{customer_id}/shelf/{variant_id}/used", name="customers.used")
def used(desk: At, customer_id: int, variant_id: int, form: Sent) -> Response:
    """They have used one from their shelf: the tally is lowered, and a repeat is offered."""
    offer: list[str] = []

    def act(db: Session, by: int) -> str:
        told = shelf.use_one(db, customer_id=customer_id, variant_id=variant_id, now=desk.now, by=by)
        offer.append(told.offer)
        return f"{desk.url('customers.one', customer_id=customer_id)}#shelf"

    return desk.submit(form, act, lambda: _one(desk, customer_id, form), lambda: "".join(offer))


@router.post("/customers/{customer_id}/shelf/{variant_id}/count", name="customers.count")
def count(desk: At, customer_id: int, variant_id: int, form: Sent) -> Response:
    """They say how many lie on their shelf."""

    def act(db: Session, by: int) -> str:
        lie, words = form.whole("count", 0, 999, empty=-1), form.words("words")
        form.check()
        shelf.put_right(
            db, customer_id=customer_id, variant_id=variant_id, count=lie, words=words, now=desk.now, by=by
        )  # fmt: skip
        return f"{desk.url('customers.one', customer_id=customer_id)}#shelf"

    return desk.submit(form, act, lambda: _one(desk, customer_id, form), "The tally is put right.")


def _told(form: Form) -> dict[str, Any]:
    told: dict[str, Any] = {name: form.words(name) for name in WORDS}
    told["terms_days"] = form.whole("terms_days", 0, 365)
    told["bill_when"] = form.one_of("bill_when", BILL_WHEN, "Choose when the bill is written.")
    told["order_number"] = form.one_of("order_number", ORDER_NUMBER, "Choose whether bills need an order number.")
    told["country"] = form["country"].strip().upper()
    if told["country"] and not re.fullmatch(r"[A-Z]{2}", told["country"]):
        form.problems["country"] = "Write the country as two letters, such as US, CA or DE; or leave it empty."
    told["deposit_percent"] = form["deposit_percent"].strip() or "0"
    form.check()
    return told


def _new(desk: Desk, form: Form) -> Response:
    return desk.page(
        "customers/new.html", sheet="New customer", here="book", form=form, bill_when=list(BILL_WHEN.items()),
        order_number=list(ORDER_NUMBER.items()),
    )  # fmt: skip


def _one(desk: Desk, customer_id: int, form: Form) -> Response:
    facts = customers.one(desk.db, customer_id)
    changing = "phone" in form.typed
    form.typed = {**customers.as_typed(facts), **form.typed}
    theirs = jobs.of_customer(desk.db, customer_id)
    bills = ledger.of_customer(desk.db, customer_id)
    return desk.page(
        "customers/one.html", sheet=facts.name, here="book", form=form, customer=facts, changing=changing,
        theirs=theirs, tracks=standing.of_jobs(desk.db, [job.id for job in theirs], now=desk.now), bills=bills,
        owes=sum(bill.due_cents for bill in bills), sheets=_workings(desk, bills),
        papers=customers.tax_papers(desk.db, customer_id),
        bill_when=list(BILL_WHEN.items()), order_number=list(ORDER_NUMBER.items()), fresh=Form().once,
        agreed=agreements.of_customer(desk.db, customer_id), on_shelf=shelf.tally(desk.db, customer_id),
        credit=sum(one.left_cents for one in payments.credit_of(desk.db, customer_id)),
        lines=history.of_customer(desk.db, customer_id, 100),
        last_job=again.last_job(desk.db, customer_id), again_once=Form().once,
    )  # fmt: skip


def _workings(desk: Desk, bills: list[InvoiceFacts]) -> tuple[WorkingSheet, ...]:
    """How what they owe was added, by age; nothing where nothing is owed."""
    ages = [0] * len(ledger.AGES)
    for bill in bills:
        ages[ledger.age_of(bill.due_on, desk.today)] += bill.due_cents
    if not sum(ages):
        return ()
    owed = workings_money.of_owed(sum(ages), zip(ledger.AGES, ages, strict=True), desk.shop.currency)
    return (*owed, *workings_money.of_ages(ledger.AGES))
