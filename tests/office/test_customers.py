"""Customers: a name and a phone are enough."""

from datetime import date, timedelta

import pytest
from sqlmodel import Session

from shopapp.office import customers, history
from shopapp.office.errors import NotHere, TryAgain
from tests.cast import WALK_IN
from tests.makers import Shop, make_customer

FROM, TO = date(2031, 1, 10), date(2031, 2, 10)


def certificate(db: Session, shop: Shop, customer_id: int, **told: object) -> None:
    facts = {"number": "X-77", "issuer": "Sluice County", "valid_from": FROM, "valid_to": TO, **told}
    customers.add_tax_paper(db, customer_id=customer_id, **facts, **shop.at())


def test_a_name_and_a_phone_are_enough(db: Session, shop: Shop) -> None:
    row = customers.keep(db, **WALK_IN, **shop.at())
    found = customers.one(db, row)
    assert (found.name, found.phone, found.terms()) == ("Ysolde", "555-0333", "pays at pick-up")


@pytest.mark.parametrize("missing", ["name", "phone"])
def test_without_a_name_or_a_phone_it_says_which(db: Session, shop: Shop, missing: str) -> None:
    with pytest.raises(TryAgain) as refusal:
        customers.keep(db, **{**WALK_IN, missing: " "}, **shop.at())
    assert set(refusal.value.problems) == {missing}


@pytest.mark.parametrize(("field", "text"), [("phone", "abc"), ("email", "not a mail"), ("email", "a@b@c.example")])
def test_what_reaches_nobody_is_asked_again(db: Session, shop: Shop, field: str, text: str) -> None:
    with pytest.raises(TryAgain) as refusal:
        customers.keep(db, **{**WALK_IN, field: text}, **shop.at())
    assert set(refusal.value.problems) == {field}


def test_the_same_name_and_phone_are_not_entered_twice(db: Session, shop: Shop) -> None:
    make_customer(db, shop)
    with pytest.raises(TryAgain, match="in the book already"):
        customers.keep(db, name="cobbet  CIDER mill", phone="(555) 0311", **shop.at())


def test_the_same_name_with_another_phone_is_another_customer(db: Session, shop: Shop) -> None:
    first = make_customer(db, shop)
    assert customers.keep(db, name="Cobbet Cider Mill", phone="555-0999", **shop.at()) != first


def test_only_what_is_told_is_written_over(db: Session, shop: Shop) -> None:
    row = make_customer(db, shop)
    customers.keep(db, customer_id=row, email="mill@cobbet.example", **shop.at())
    found = customers.one(db, row)
    assert (found.name, found.email, found.terms_days) == ("Cobbet Cider Mill", "mill@cobbet.example", 30)


def test_a_customer_is_found_by_contact_and_without_accents(db: Session, shop: Shop) -> None:
    make_customer(db, shop, contact="Márn Çobbet")
    make_customer(db, shop, **WALK_IN, contact="")
    assert [one.name for one in customers.listing(db, like="marn co")] == ["Cobbet Cider Mill"]
    assert customers.listing(db, like="%") == []


def test_the_list_turns_its_page_by_name(db: Session, shop: Shop) -> None:
    for name in ("Cob", "Ash", "Birch"):
        customers.keep(db, name=name, phone="1", **shop.at())
    first = customers.listing(db, most=2)
    rest = customers.listing(db, after=first[-1].id)
    assert ([one.name for one in first], [one.name for one in rest]) == (["Ash", "Birch"], ["Cob"])


@pytest.mark.parametrize(
    ("day", "free"),
    [(FROM - timedelta(1), False), (FROM, True), (TO, True), (TO + timedelta(1), False)],
)
def test_a_certificate_frees_from_its_first_day_to_its_last(db: Session, shop: Shop, day: date, free: bool) -> None:
    row = make_customer(db, shop)
    certificate(db, shop, row)
    assert (customers.exempt_on(db, row, day) is not None) == free


def test_a_certificate_of_one_customer_frees_no_other(db: Session, shop: Shop) -> None:
    certificate(db, shop, make_customer(db, shop))
    assert customers.exempt_on(db, make_customer(db, shop, **WALK_IN), FROM) is None


@pytest.mark.parametrize(
    ("told", "field"), [({"number": " "}, "number"), ({"valid_to": FROM - timedelta(1)}, "valid_to")]
)
def test_a_certificate_has_a_number_and_ends_after_it_begins(
    db: Session, shop: Shop, told: dict[str, object], field: str
) -> None:
    with pytest.raises(TryAgain) as refusal:
        certificate(db, shop, make_customer(db, shop), **told)
    assert set(refusal.value.problems) == {field}


def test_a_customer_who_was_never_entered_is_not_here(db: Session, shop: Shop) -> None:
    with pytest.raises(NotHere):
        customers.one(db, 99)
    with pytest.raises(NotHere):
        customers.keep(db, customer_id=99, note="x", **shop.at())


def test_a_form_shows_every_field_but_the_row(db: Session, shop: Shop) -> None:
    typed = customers.as_typed(customers.one(db, make_customer(db, shop)))
    assert typed["terms_days"] == "30"
    assert "id" not in typed


def test_of_equal_names_the_list_leaves_none_out(db: Session, shop: Shop) -> None:
    for phone in range(5):
        customers.keep(db, name="Cob", phone=str(phone), **shop.at())
    seen: list[int] = []
    while rows := customers.listing(db, after=seen[-1] if seen else 0, most=2):
        seen += [one.id for one in rows]
    assert len(seen) == len(set(seen)) == 5


def test_what_was_written_over_stands_in_the_day_book_with_what_stood_there(db: Session, shop: Shop) -> None:
    row = make_customer(db, shop)
    phone = customers.one(db, row).phone
    customers.keep(db, customer_id=row, terms_days=14, phone=" 555-0199 ", bill_when="fetched", **shop.at())
    (line, _) = history.of_customer(db, row)
    assert line.words == (
        f"Cobbet Cider Mill: terms 30 → 14 days; phone {phone} → 555-0199; billed when ready → fetched"
    )
    customers.keep(db, customer_id=row, terms_days=14, **shop.at())
    assert history.of_customer(db, row)[0].words == "Cobbet Cider Mill: nothing changed"


def test_a_deposit_is_not_more_than_the_whole(db: Session, shop: Shop) -> None:
    with pytest.raises(TryAgain) as refusal:
        make_customer(db, shop, deposit_percent="101")
    assert set(refusal.value.problems) == {"deposit_percent"}
