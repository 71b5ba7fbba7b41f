"""The story told from its first day to its last: the shop is set up, then every act in the order of its moment."""

from datetime import datetime
from typing import Any

from shopapp.demo import autumn, winter
from shopapp.demo.book import Book
from shopapp.demo.days import Days
from shopapp.demo.drawings import BODIES
from shopapp.demo.kinds import KINDS
from shopapp.demo.pictures import of_sign
from shopapp.demo.shop import (
    AGREEMENTS,
    CUSTOMERS,
    FACTS,
    FIRST,
    HANDS,
    INSTRUMENTS,
    MACHINES,
    PHRASES,
    RATES,
    SCALES,
    TAX,
)
from shopapp.demo.ways import acts
from shopapp.office import (
    agreements,
    customers,
    cutting,
    equipment,
    numbering,
    parts,
    people,
    photos,
    phrases,
    shopbook,
)
from shopapp.office.database import Database

TO_TRY = (
    "/jobs/1187/1/weigh: a coupling waits in the rack. Weigh it in, 2255 on the counter; nothing is cut before that.",
    "/jobs/1177/1/weigh: strike 18.2, then type 17.4, once written against the wrong tag. See what would explain it.",
    "/jobs/1161/cuts/1: the reverse wheel in section. Change one size of a cut and watch what comes off.",
)
"""What somebody new may look at first."""

SET_UP_ON = "2025-09-01"
"""The day on which the book was begun."""


def fill(database: Database, *, now: datetime) -> None:
    """Tell the whole story to an empty book, moved so that its last day is the day of `now` by the shop's clock."""
    days = Days.told_at(now)
    story = [act for job in (*autumn.JOBS, *winter.JOBS) for act in acts(job)]
    story.sort(key=lambda act: (act.day, act.minute))
    with database.writing() as db:
        book = Book(db, days)
        _set_up(book, days.at(SET_UP_ON, 9))
        for act in story:
            act.do(book, days.at(act.day, *divmod(act.minute, 60)))


def _set_up(book: Book, now: datetime) -> None:
    for initials, name in HANDS:
        book.hands[initials] = people.add(book.db, initials=initials, name=name, now=now)
    signed = book.signed(now, "WK")
    shopbook.change(book.db, **signed, **FACTS)
    for day, cents in RATES:
        shopbook.add_rate(book.db, valid_from=book.days.day(day), cents_per_hour=cents, **signed)
    shopbook.add_tax(book.db, valid_from=book.days.day(TAX[0]), percent=TAX[1], **signed)
    for key, (name, unit, division, capacity) in SCALES.items():
        book.scales[key] = shopbook.add_scale(
            book.db, name=name, unit=unit, division=division, capacity=capacity, **signed
        )
    for series, number in FIRST.items():
        numbering.begin_at(book.db, series, number)
    _enter_tools(book, now)
    for subject, day, words in PHRASES:
        phrases.keep(book.db, subject=subject, words=words, valid_from=book.days.day(day), **signed)
    _enter_customers(book, now)
    _enter_parts(book, now)
    _enter_agreements(book, now)


def _enter_tools(book: Book, now: datetime) -> None:
    signed = book.signed(now, "WK")
    for name, dial, limit, speeds, motor, screw in MACHINES:
        book.machines[name] = equipment.add_machine(
            book.db, name=name, dial=dial, chuck_limit=limit, speeds=speeds, motor_kw=motor, screw=screw, **signed
        )
    for name, unit, resolution, good_to in INSTRUMENTS:
        equipment.add_instrument(book.db, name=name, unit=unit, resolution=resolution, good_to=good_to, **signed)


def _enter_agreements(book: Book, now: datetime) -> None:
    for customer, kind, count, each, first, last, words in AGREEMENTS:
        agreements.add(
            book.db, customer_id=book.customers[customer], part_id=book.parts[kind], from_count=count, each=each,
            valid_from=book.days.day(first), valid_to=book.days.day(last), words=words, **book.signed(now, "WK"),
        )  # fmt: skip


def _enter_customers(book: Book, now: datetime) -> None:
    signed = book.signed(now, "WK")
    for row in CUSTOMERS:
        facts: dict[str, Any] = dict(row.facts)
        facts["note"] = book.days.words(facts.get("note", ""))
        book.customers[row.key] = customers.keep(
            book.db, name=row.name, contact=row.contact, phone=row.phone, email=row.email, **facts, **signed
        )
        if paper := row.certificate:
            customers.add_tax_paper(
                book.db, customer_id=book.customers[row.key], number=paper.number, issuer=paper.issuer,
                valid_from=book.days.day(paper.valid_from), valid_to=book.days.day(paper.valid_to), **signed,
            )  # fmt: skip


def _enter_parts(book: Book, now: datetime) -> None:
    signed = book.signed(now, "WK")
    for kind in KINDS:
        part_id = parts.keep_part(book.db, name=kind.name, note=kind.note, not_done=kind.not_done, **signed)
        book.parts[kind.name] = part_id
        for one in kind.variants:
            book.variants[one.key] = parts.keep_variant(
                book.db, part_id=part_id, name=one.name, material=one.material, density=one.density, unit=one.unit,
                signs=list(one.signs), note=one.note, **signed,
            )  # fmt: skip
            cutting.keep_body(book.db, variant_id=book.variants[one.key], typed=BODIES[one.key], **signed)
            sign, shown = parts.variant(book.db, book.variants[one.key]).signs[0], of_sign(one.signs[0], len(one.key))
            photos.keep(book.db, what="sign", photo=shown, sign_id=sign.id, **signed)
