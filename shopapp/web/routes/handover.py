"""Ready, called, fetched: the shelf and its notice, the calls, the pieces that leave by the door."""

from typing import Any

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import customers, handover, invoices, jobs, papers, payments, quotes, standing
from shopapp.office.database import Session
from shopapp.office.jobs import JobFacts, PieceFacts
from shopapp.office.tracks import FINAL
from shopapp.web.desk import At, Desk, Sent
from shopapp.web.forms import Form

router = APIRouter()
LEAVING = ("shelf", "spoiled")


@router.get("/jobs/{no}/ready", name="handover.page")
def page(desk: At, no: int) -> Response:
    """What stands on the shelf, who was called, and what leaves."""
    return _page(desk, jobs.by_no(desk.db, no))


@router.post("/jobs/{no}/ready", name="handover.announce")
def announce(desk: At, no: int, form: Sent) -> Response:
    """Put the checked pieces on the shelf and freeze the ready notice."""
    job = jobs.by_no(desk.db, no)

    def act(db: Session, by: int) -> str:
        words = form.words("notice_words")
        form.check()
        handover.announce(db, job_id=job.id, words=words, now=desk.now, by=by)
        return desk.url("handover.page", no=no)

    return desk.submit(form, act, lambda: _page(desk, job, notice=form), notice="On the shelf. Now tell the customer.")


@router.post("/jobs/{no}/calls", name="handover.call")
def call(desk: At, no: int, form: Sent) -> Response:
    """Write down a call; the button pressed says what came of it."""
    job = jobs.by_no(desk.db, no)

    def act(db: Session, by: int) -> str:
        whom, words = form.words("whom"), form.words("call_words")
        form.check()
        handover.call(
            db, job_id=job.id, outcome=form["outcome"], whom=whom, words=words, now=desk.now, by=by
        )  # fmt: skip
        return desk.url("handover.page", no=no)

    return desk.submit(form, act, lambda: _page(desk, job, call=form), notice="The call is written down.")


@router.post("/jobs/{no}/hand-over", name="handover.give")
def give(desk: At, no: int, form: Sent) -> Response:
    """The ticked pieces leave."""
    job = jobs.by_no(desk.db, no)

    def act(db: Session, by: int) -> str:
        taken_by = form.words("taken_by")
        ids = [piece.id for piece in jobs.pieces(db, job.id) if form.ticked(f"piece_{piece.n}")]
        form.check()
        handover.hand_over(db, job_id=job.id, piece_ids=ids, taken_by=taken_by, now=desk.now, by=by)
        return desk.url("handover.page", no=no)

    return desk.submit(form, act, lambda: _page(desk, job, give=form), notice="The pieces have left.")


def _page(
    desk: Desk, job: JobFacts, *, notice: Form | None = None, call: Form | None = None, give: Form | None = None
) -> Response:
    pieces = jobs.pieces(desk.db, job.id)
    refused = [form for form in (notice, call, give) if form]
    calls = handover.calls(desk.db, job.id)
    return desk.page(
        "handover/page.html", sheet="Ready", job_no=job.no, here="job", job=job, pieces=pieces,
        customer=customers.one(desk.db, job.customer_id),
        unfinished=[piece for piece in pieces if piece.custody not in FINAL],
        checked=[piece for piece in pieces if piece.custody == "checked"],
        leaving=[piece for piece in pieces if piece.custody in LEAVING and _here(piece)],
        told=any(one.outcome in ("told", "someone_else") for one in calls),
        notices=[paper for paper in papers.of_job(desk.db, job.id) if paper.kind == "ready"],
        calls=calls, outcomes=list(handover.OUTCOMES.items()), notice_form=notice or Form(),
        call_form=call or Form(), give_form=give or Form(),
        problems={name: words for form in refused for name, words in form.problems.items()}, **_money(desk, job),
    )  # fmt: skip


def _here(piece: PieceFacts) -> bool:
    """A spoiled piece is the customer's until it has left; on the shelf or not, it is still in the shop."""
    return piece.custody != "gone"


def _money(desk: Desk, job: JobFacts) -> dict[str, Any]:
    held = sum(payment.left_cents for payment in payments.held(desk.db, job.id))
    tracks = standing.of_job(desk.db, job.id, now=desk.now)
    by_quote = None if standing.bills_of(desk.db, [job.id]) else quotes.agreed_quote(desk.db, job.id)
    return {"tracks": tracks, "by_quote": by_quote, "held_cents": held, "unbilled": invoices.to_bill(desk.db, job.id)}
