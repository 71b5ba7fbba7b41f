"""The price sheet of a job, its revisions, and the customer's yes or no to one of them."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.bench.rounding import half_up
from shopapp.office import (
    agreements,
    customers,
    estimating,
    history,
    jobs,
    knownprice,
    lasttime,
    payments,
    quotecheck,
    quotes,
    workings_money,
    workings_scale,
)
from shopapp.office.database import Session
from shopapp.office.errors import NotHere, OfficeError
from shopapp.office.jobs import JobFacts
from shopapp.office.pricing import PricingTyped
from shopapp.office.quotes import QuoteFacts
from shopapp.web import posting, pricesheet
from shopapp.web.desk import Asked, At, Desk, Sent
from shopapp.web.forms import Form

router = APIRouter()
COMPARED = (1, 2, 4)


@dataclass(frozen=True)
class Side:
    """The price of another number of pieces: in all, and of each [cents]."""

    pieces: int
    net_cents: int
    each_cents: int


@router.get("/jobs/{no}/price", name="quotes.page")
def page(desk: At, no: int, use: str = "") -> Response:
    """The price sheet: the open draft's, else that of the newest revision or of the one asked for by `use`."""
    job = jobs.by_no(desk.db, no)
    told = quotes.of_job(desk.db, job.id)
    wanted = [quote for quote in told if quote.revision == use] or [q for q in told if q.issued_on is None] or told[-1:]
    return _page(desk, job, sheet=_shown(desk.db, job, wanted[-1].pricing if wanted else None))


@router.get("/jobs/{no}/price/sums", name="quotes.sums")
def sums(desk: At, no: int, form: Asked) -> Response:
    """What the price sheet comes to while it is typed."""
    job = jobs.by_no(desk.db, no)
    return desk.fragment("quotes/page.html", "sums", job=job, **_sums(desk, job, form))


@router.get("/jobs/{no}/price/margin", name="quotes.margin")
def margin(desk: At, no: int, form: Asked) -> Response:
    """For the owner only: what the sheet leaves over last time's minutes."""
    job = jobs.by_no(desk.db, no)
    return desk.fragment("quotes/_margin.html", "margin", job=job, **_margin(desk, job, form))


@router.post("/jobs/{no}/price", name="quotes.keep")
def keep(desk: At, no: int, form: Sent) -> Response:
    """Keep the sheet as a draft; or show it with one more row, or at the agreed price, keeping nothing."""
    job = jobs.by_no(desk.db, no)
    if form["more"]:
        return _page(desk, job, sheet=form)
    if form["take"]:
        form.typed |= {"agreed_each": "", "agreed_words": ""}
        return _page(desk, job, sheet=form)

    def act(db: Session, by: int) -> str:
        typed = pricesheet.read(form)
        form.check()
        quotes.keep_draft(db, job_id=job.id, typed=typed, now=desk.now, by=by)
        return desk.url("quotes.page", no=no)

    return desk.submit(form, act, lambda: _page(desk, job, sheet=form), notice="The price sheet is kept as a draft.")


@router.post("/jobs/{no}/price/issue", name="quotes.issue")
def issue(desk: At, no: int, form: Sent) -> Response:
    """Keep the sheet and issue it, in one act."""
    job = jobs.by_no(desk.db, no)

    def act(db: Session, by: int) -> str:
        typed, until = pricesheet.read(form), form.day("good_until")
        if until and until < desk.today:
            form.problems["good_until"] = "That day has gone by. Write the last day on which the price holds."
        form.check()
        quotecheck.ask(db, job_id=job.id, typed=typed, sure=form.ticked("count_sure"))
        quote_id = quotes.keep_draft(db, job_id=job.id, typed=typed, now=desk.now, by=by)
        number = quotes.issue(db, quote_id=quote_id, good_until=until, now=desk.now, by=by)
        posting.with_it(db, desk, form, kind="quote", number=number, by=by)
        return desk.url("quotes.page", no=no)

    return desk.submit(form, act, lambda: _page(desk, job, sheet=form), notice="The quote is issued.")


@router.post("/jobs/{no}/price/known", name="quotes.known")
def known(desk: At, no: int, form: Sent) -> Response:
    """Draw the sheet up at the price that is known: as agreed, or the same as last."""
    job = jobs.by_no(desk.db, no)

    def act(db: Session, by: int) -> str:
        knownprice.take(db, job_id=job.id, now=desk.now, by=by)
        return desk.url("quotes.page", no=no)

    return desk.submit(form, act, lambda: _page(desk, job, no_form=form))


@router.post("/jobs/{no}/price/renew", name="quotes.renew")
def renew(desk: At, no: int, form: Sent) -> Response:
    """Issue a revision's sheet again, at today's rate and agreements, as the next revision."""
    job = jobs.by_no(desk.db, no)

    def act(db: Session, by: int) -> str:
        quotes.renew(db, quote_id=_revision(db, job, form).id, now=desk.now, by=by)
        return desk.url("quotes.page", no=no)

    return desk.submit(
        form, act, lambda: _page(desk, job, no_form=form), notice="It is issued anew, at today's rate."
    )  # fmt: skip


@router.post("/jobs/{no}/go-ahead", name="quotes.go_ahead")
def go_ahead(desk: At, no: int, form: Sent) -> Response:
    """Write down that the customer said yes."""
    job = jobs.by_no(desk.db, no)

    def act(db: Session, by: int) -> str:
        said_by, order_number = form.words("said_by"), form.words("order_number")
        form.check()
        quotes.go_ahead(
            db, job_id=job.id, said_by=said_by, how=form["how"], revision=form["revision"] or None,
            order_number=order_number, now=desk.now, by=by,
        )  # fmt: skip
        return desk.url("quotes.page", no=no)

    return desk.submit(form, act, lambda: _page(desk, job, yes=form), notice="The go-ahead is written down.")


@router.post("/jobs/{no}/turn-down", name="quotes.turn_down")
def turn_down(desk: At, no: int, form: Sent) -> Response:
    """Write down that the customer said no to a revision."""
    job = jobs.by_no(desk.db, no)

    def act(db: Session, by: int) -> str:
        quotes.turn_down(db, quote_id=_revision(db, job, form).id, now=desk.now, by=by)
        return desk.url("quotes.page", no=no)

    return desk.submit(form, act, lambda: _page(desk, job, no_form=form), notice="The no is written down.")


def _revision(db: Session, job: JobFacts, form: Form) -> QuoteFacts:
    quote = next((q for q in quotes.of_job(db, job.id) if q.revision == form["revision"]), None)
    if quote is None:
        raise NotHere("That revision is not in the book.")
    return quote


def _page(
    desk: Desk, job: JobFacts, *, sheet: Form | None = None, yes: Form | None = None, no_form: Form | None = None
) -> Response:
    told = quotes.of_job(desk.db, job.id)
    customer = customers.one(desk.db, job.customer_id)
    if sheet is None:
        sheet = _shown(desk.db, job, told[-1].pricing if told else None)
    wants_order = customer.order_number != "none" and not job.order_number
    return desk.page(
        "quotes/page.html", sheet="Price", job_no=job.no, here="job", job=job, customer=customer, revisions=told,
        form=sheet, rows=pricesheet.rows(sheet), opened=pricesheet.opened(sheet),
        known=knownprice.known(desk.db, job.id, day=desk.today),
        letter=quotes.next_revision(desk.db, job.id), agreement=quotes.yes_of_job(desk.db, job.id),
        yes=yes or Form(typed={"order_number": job.order_number}), wants_order=wants_order,
        problems={**sheet.problems, **(yes.problems if yes else {}), **(no_form.problems if no_form else {})},
        open_revisions=_open(told, desk), how_said=list(quotes.HOW_SAID.items()), last=_last(desk.db, job),
        held=payments.held(desk.db, job.id), fresh=Form().once, lines=history.of_job(desk.db, job.id),
        last_working=workings_scale.of_last(lasttime.offs(_last(desk.db, job))), **_sums(desk, job, sheet),
        **_margin(desk, job, sheet), **posting.offered(desk, job.customer_id),
    )  # fmt: skip


def _open(told: list[QuoteFacts], desk: Desk) -> list[QuoteFacts]:
    """The revisions that a customer can say yes to today."""
    return [quote for quote in told if quote.mark(desk.today) == "issued"]


def _last(db: Session, job: JobFacts) -> list[lasttime.LastTime]:
    """Earlier pieces of the kinds in this job, for a price that learns."""
    kinds = {piece.variant_id for piece in jobs.pieces(db, job.id) if piece.variant_id}
    told = [one for kind in sorted(kinds) for one in lasttime.of_variant(db, kind) if one.job_no != job.no]
    return sorted(told, key=lambda one: one.on, reverse=True)[:5]


def _sums(desk: Desk, job: JobFacts, form: Form) -> dict[str, Any]:
    """The price as typed so far; what wants mending is a hint here, for nothing was sent yet."""
    reading = Form(typed=form.typed)
    typed = pricesheet.read(reading)
    count = int(typed.pieces) if typed.pieces.isdecimal() and len(typed.pieces) < 4 else 0
    told: dict[str, Any] = {
        "priced": None, "sides": (), "deposit": "", "by_hand": bool(typed.agreed_each),
        "hints": list(reading.problems.values()),
        "found": agreements.for_job(desk.db, job.id, day=desk.today, count=count) if count else agreements.Found(),
    }  # fmt: skip
    try:
        priced = quotes.preview(desk.db, job_id=job.id, typed=typed, day=desk.today)
    except OfficeError as refusal:
        told["hints"] += list(getattr(refusal, "problems", {"": str(refusal)}).values())
        return told
    percent = customers.one(desk.db, job.customer_id).deposit_percent
    told["deposit"] = quotes.deposit_words(priced.totals.net_cents, percent, desk.shop.currency)
    told["exempt"] = customers.exempt_on(desk.db, job.customer_id, desk.today)
    agreed = any(line.kind == "agreed" for line in priced.price.lines)
    told["further"] = bool(quotecheck.further(typed)) and not agreed
    told["no_minutes"] = not priced.price.minutes and not agreed
    told["sheets"] = workings_money.of_price(priced, desk.shop.currency)
    return {**told, "priced": priced, "sides": list(_sides(desk, job, typed))}


def _margin(desk: Desk, job: JobFacts, form: Form) -> dict[str, Any]:
    """For the owner: the sheet against last time's minutes; none while it has no price or no last time."""
    try:
        typed = pricesheet.read(Form(typed=form.typed))
        found = quotes.margin(desk.db, job_id=job.id, typed=typed, day=desk.today)
        minutes = quotes.preview(desk.db, job_id=job.id, typed=typed, day=desk.today).price.minutes
    except OfficeError:
        return {"margin": None, "corrected": None}
    return {"margin": found, "corrected": estimating.corrected(desk.db, job_id=job.id, minutes=minutes)}


def _sides(desk: Desk, job: JobFacts, typed: PricingTyped) -> Iterator[Side]:
    """The price of other counts; a count that an agreement does not reach has none while no setting is typed."""
    for n in COMPARED:
        try:
            told = quotes.at_counts(desk.db, job_id=job.id, typed=typed, day=desk.today, counts=(n,))[n]
        except OfficeError:
            continue
        yield Side(n, told.totals.net_cents, half_up(Fraction(told.totals.net_cents, n)))


def _shown(db: Session, job: JobFacts, typed: PricingTyped | None) -> Form:
    """A sheet as a form shows it; a new one counts the job's pieces."""
    count = len(jobs.pieces(db, job.id)) or 1
    return pricesheet.shown(typed or PricingTyped(pieces=str(count), rush=job.rush))
