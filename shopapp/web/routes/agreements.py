"""Prices agreed with customers: dated, for a part or one variant of it, from a count on."""

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import agreements, customers, history, parts
from shopapp.office.database import Session
from shopapp.web.desk import Asked, At, Desk, Sent
from shopapp.web.forms import Form

router = APIRouter()
MOST_CUSTOMERS = 500


@router.get("/book/agreements", name="agreements.page")
def page(desk: At, asked: Asked) -> Response:
    """Every agreement, and the form for one more; `customer` in the address chooses whose."""
    return _page(desk, Form(typed={"customer": asked["customer"], "from_count": "1", "valid_from": str(desk.today)}))


@router.post("/book/agreements", name="agreements.add")
def add(desk: At, form: Sent) -> Response:
    """Enter a price agreed with a customer."""

    def act(db: Session, by: int) -> str:
        customer_id = form.key("customer", "With whom? Choose the customer.")
        part_id, variant_id = _kind(form)
        begins = form.day("valid_from", "From which day on?")
        ends = form.day("valid_to", "Until which day? Nothing is agreed for ever.")
        each, words = form.words("each", "Write the price of one piece, such as 62.00."), form.words("words")
        form.check()
        assert customer_id
        assert begins
        assert ends
        agreements.add(
            db, customer_id=customer_id, part_id=part_id, variant_id=variant_id, each=each, words=words,
            from_count=form["from_count"].strip() or "1", valid_from=begins, valid_to=ends, now=desk.now, by=by,
        )  # fmt: skip
        return desk.url("agreements.page")

    return desk.submit(form, act, lambda: _page(desk, form), notice="The agreement stands in the book.")


@router.post("/book/agreements/{agreement_id}/end", name="agreements.end")
def end(desk: At, agreement_id: int, form: Sent) -> Response:
    """An agreement ends sooner than was written."""

    def act(db: Session, by: int) -> str:
        last_day = form.day("last_day", "Which is its last day?")
        form.check()
        assert last_day
        agreements.end(db, agreement_id=agreement_id, last_day=last_day, now=desk.now, by=by)
        return desk.url("agreements.page")

    return desk.submit(form, act, lambda: _ended(desk, agreement_id, form), notice="Its last day is written down.")


@router.post("/book/agreements/{agreement_id}/wrong", name="agreements.never_held")
def never_held(desk: At, agreement_id: int, form: Sent) -> Response:
    """An agreement was written wrong and holds for nothing."""

    def act(db: Session, by: int) -> str:
        agreements.never_held(db, agreement_id=agreement_id, now=desk.now, by=by)
        return desk.url("agreements.page")

    return desk.submit(form, act, lambda: _ended(desk, agreement_id, form), notice="It does not hold any more.")


def _ended(desk: Desk, agreement_id: int, form: Form) -> Response:
    """The refusal stands at the agreement that it belongs to."""
    problem = form.problems.pop("valid_to", "") or form.problems.get("last_day", "")
    form.problems |= {"last_day": problem} if problem else {}
    form.typed["ending"] = str(agreement_id)
    return _page(desk, form)


def _kind(form: Form) -> tuple[int, int | None]:
    """The part, and the variant where only one is meant: 3 or 3-7."""
    part, _, variant = form["kind"].partition("-")
    if not part.isdecimal() or len(form["kind"]) > 20 or (variant and not variant.isdecimal()):
        form.problems["kind"] = "For which part? Choose it, or one variant of it."
        return 0, None
    return int(part), int(variant) if variant else None


def _page(desk: Desk, form: Form) -> Response:
    rows = agreements.every(desk.db)
    variants = parts.all_variants(desk.db)
    kinds = []
    for part, _ in parts.parts(desk.db):
        kinds.append((str(part.id), f"{part.name}, every variant"))
        kinds += [(f"{part.id}-{one.id}", f"{part.name}, {one.name}") for one in variants if one.part_id == part.id]
    whose = [(one.id, one.name) for one in customers.listing(desk.db, most=MOST_CUSTOMERS)]
    return desk.page(
        "agreements/page.html", sheet="Agreed prices", here="book", form=form, kinds=kinds, whose=whose,
        runs=[one for one in rows if one.valid_to >= desk.today and not one.wrong_at],
        over=[one for one in rows if one.valid_to < desk.today or one.wrong_at], fresh=Form().once,
        lines=history.of_act(desk.db, "agreement"),
    )  # fmt: skip
