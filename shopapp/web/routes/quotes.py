"""The price sheet of a job, its revisions, and the customer's yes or no to one of them."""

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.bench.rounding import half_up
from shopapp.office import customers, jobs, lasttime, payments, quotes
from shopapp.office.database import Session
from shopapp.office.errors import NotHere, OfficeError
from shopapp.office.jobs import JobFacts
from shopapp.office.pricing import ExtraTyped, Priced, PricingTyped, SettingTyped
from shopapp.office.quotes import QuoteFacts
from shopapp.web.desk import Asked, At, Desk, Sent
from shopapp.web.forms import Form

router = APIRouter()
COMPARED = (1, 2, 4)
MOST_ROWS = 40
SETTING, EXTRA = ("name", "first", "each", "cut"), ("words", "quantity", "price")


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
    return desk.fragment("quotes/page.html", "sums", **_sums(desk, job, form))


@router.post("/jobs/{no}/price", name="quotes.keep")
def keep(desk: At, no: int, form: Sent) -> Response:
    """Keep the sheet as a draft; or show it with one more row, keeping nothing."""
    job = jobs.by_no(desk.db, no)
    if form["more"]:
        return _page(desk, job, sheet=form)

    def act(db: Session, by: int) -> str:
        typed = _typed(form)
        form.check()
        quotes.keep_draft(db, job_id=job.id, typed=typed, now=desk.now, by=by)
        return desk.url("quotes.page", no=no)

    return desk.submit(form, act, lambda: _page(desk, job, sheet=form), notice="The price sheet is kept as a draft.")


@router.post("/jobs/{no}/price/issue", name="quotes.issue")
def issue(desk: At, no: int, form: Sent) -> Response:
    """Keep the sheet and issue it, in one act."""
    job = jobs.by_no(desk.db, no)

    def act(db: Session, by: int) -> str:
        typed, until = _typed(form), form.day("good_until")
        if until and until < desk.today:
            form.problems["good_until"] = "That day has gone by. Write the last day on which the price holds."
        form.check()
        quote_id = quotes.keep_draft(db, job_id=job.id, typed=typed, now=desk.now, by=by)
        quotes.issue(db, quote_id=quote_id, good_until=until, now=desk.now, by=by)
        return desk.url("quotes.page", no=no)

    return desk.submit(form, act, lambda: _page(desk, job, sheet=form), notice="The quote is issued.")


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
        quote = next((q for q in quotes.of_job(db, job.id) if q.revision == form["revision"]), None)
        if quote is None:
            raise NotHere("That revision is not in the book.")
        quotes.turn_down(db, quote_id=quote.id, now=desk.now, by=by)
        return desk.url("quotes.page", no=no)

    return desk.submit(form, act, lambda: _page(desk, job, no_form=form), notice="The no is written down.")


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
        form=sheet, settings=_shown_rows(sheet, "setting", 2), extras=_shown_rows(sheet, "extra", 1),
        letter=quotes.next_revision(desk.db, job.id), agreement=quotes.yes_of_job(desk.db, job.id),
        yes=yes or Form(typed={"order_number": job.order_number}), wants_order=wants_order,
        problems={**sheet.problems, **(yes.problems if yes else {}), **(no_form.problems if no_form else {})},
        open_revisions=_open(told, desk), how_said=list(quotes.HOW_SAID.items()), last=_last(desk.db, job),
        held=payments.held(desk.db, job.id), **_sums(desk, job, sheet),
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
    typed = _typed(reading)
    told: dict[str, Any] = {"priced": None, "sides": (), "hints": list(reading.problems.values())}
    try:
        priced = quotes.preview(desk.db, job_id=job.id, typed=typed, day=desk.today)
        sides = [_side(quotes.preview(desk.db, job_id=job.id, typed=typed, day=desk.today, pieces=n), n)
                 for n in COMPARED]  # fmt: skip
    except OfficeError as refusal:
        told["hints"] += list(getattr(refusal, "problems", {"": str(refusal)}).values())
        return told
    percent = customers.one(desk.db, job.customer_id).deposit_percent
    told["deposit"] = quotes.deposit_words(priced.totals.net_cents, percent, desk.shop.currency)
    told["exempt"] = customers.exempt_on(desk.db, job.customer_id, desk.today)
    told["no_minutes"] = not priced.price.minutes and not typed.agreed_each
    return {**told, "priced": priced, "sides": sides}


def _side(priced: Priced, pieces: int) -> Side:
    net = priced.totals.net_cents
    return Side(pieces, net, half_up(Fraction(net, pieces)))


def _typed(form: Form) -> PricingTyped:
    """The sheet as it stands in the form, empty rows at its end left off."""
    for name in form.typed:
        form.words(name)
    rows = [[form[f"setting_{i}_{part}"].strip() for part in SETTING] for i in range(_rows(form, "setting"))]
    extras = [[form[f"extra_{i}_{part}"].strip() for part in EXTRA] for i in range(_rows(form, "extra"))]
    return PricingTyped(
        pieces=form["pieces"].strip(), settings=tuple(SettingTyped(*row) for row in rows),
        extras=tuple(ExtraTyped(*row) for row in extras), rush=form.ticked("rush"),
        agreed_each=form["agreed_each"].strip(), agreed_words=form["agreed_words"].strip(),
        words=form["words"].strip(),
    )  # fmt: skip


def _rows(form: Form, kind: str) -> int:
    """How many rows of a kind are typed into, counted to the last that is not empty."""
    pattern = re.compile(rf"{kind}_(\d{{1,2}})_\w+")
    found = [int(hit[1]) for name in form.typed if (hit := pattern.fullmatch(name)) and form[name].strip()]
    return min(max(found, default=-1) + 1, MOST_ROWS)


def _shown_rows(form: Form, kind: str, least: int) -> range:
    """The rows to show: those typed into and an empty one, and one more where it was asked for."""
    sent = sum(name.startswith(f"{kind}_") and name.endswith(("_first", "_price")) for name in form.typed)
    more = sent + 1 if form["more"] == kind else 0
    return range(min(max(_rows(form, kind) + 1, least, more), MOST_ROWS))


def _shown(db: Session, job: JobFacts, typed: PricingTyped | None) -> Form:
    """A sheet as a form shows it; a new one counts the job's pieces."""
    if typed is None:
        count = len(jobs.pieces(db, job.id)) or 1
        return Form(typed={"pieces": str(count), **({"rush": "yes"} if job.rush else {})})
    told = {
        "pieces": typed.pieces, "agreed_each": typed.agreed_each, "agreed_words": typed.agreed_words,
        "words": typed.words, **({"rush": "yes"} if typed.rush else {}),
    }  # fmt: skip
    for i, setting in enumerate(typed.settings):
        told |= {f"setting_{i}_{part}": getattr(setting, part) for part in SETTING}
    for i, extra in enumerate(typed.extras):
        told |= {f"extra_{i}_{part}": getattr(extra, part) for part in EXTRA}
    return Form(typed=told)
