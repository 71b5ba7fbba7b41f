"""Jobs: the ask slip that opens one, its sheet, and the small forms on the sheet."""

from typing import Any

from fastapi import APIRouter
from starlette.responses import Response

from shopapp.office import asking, customers, jobs, lasttime, mishaps, workings_scale
from shopapp.office.database import Session
from shopapp.office.errors import TryAgain
from shopapp.office.tracks import ENDED
from shopapp.web.desk import Asked, At, Desk, Sent
from shopapp.web.forms import Form
from shopapp.web.jobsheet import GOES, job_page, piece_ask, variant_options

router = APIRouter()
MOST_PIECES = 200
FEW = 8
SHORT = 60
NOT_ASKED = "not asked yet what is to be done"


@router.get("/ask", name="jobs.new")
def new(desk: At, form: Asked) -> Response:
    """The ask slip; what was typed may come along in the address."""
    return _slip(desk, form)


@router.get("/ask/callers", name="jobs.callers")
def callers(desk: At, form: Asked) -> Response:
    """Customers whose name holds what is typed."""
    return desk.fragment("jobs/ask.html", "callers", form=form, found=_found(desk, form), live=True)


@router.get("/ask/pieces", name="jobs.pieces")
def pieces(desk: At, form: Asked) -> Response:
    """As many rows as pieces are asked for."""
    return desk.fragment("jobs/ask.html", "pieces", form=form, **_rows(desk, form))


@router.get("/ask/beside", name="jobs.beside")
def beside(desk: At, form: Asked) -> Response:
    """What the book knows while the caller speaks: their last jobs, and each variant's last time."""
    return desk.fragment("jobs/ask.html", "beside", **_known(desk, form))


@router.post("/ask", name="jobs.open")
def open_job(desk: At, form: Sent) -> Response:
    """Keep the slip: a new customer and the job in one go."""

    def act(db: Session, by: int) -> str:
        told = _told(form, _in_short(form["asked"]))
        count = form.whole("count", 0, MOST_PIECES, empty=1)
        asks = tuple(piece_ask(desk, form, f"_{i}") for i in range(min(count, MOST_PIECES)))
        customer_id = _customer(db, form, desk, by)
        form.check()
        no = jobs.open_job(db, customer_id=customer_id, pieces=asks, now=desk.now, by=by, **told)
        return desk.url("jobs.page", no=no)

    return desk.submit(form, act, lambda: _slip(desk, form))


def _in_short(asked: str) -> str:
    """A title for a slip without one: the first words of what they said."""
    said = asked.strip().split("\n")[0].strip() or NOT_ASKED
    return said if len(said) <= SHORT else f"{said[:SHORT].rsplit(' ', 1)[0]} …"


def _told(form: Form, else_called: str = "") -> dict[str, Any]:
    """The job's own facts, as both of its forms send them; a new one may be called by something else than a title."""
    ask = "" if else_called else "Write in a few words what is to be done, such as skim one disc."
    return {
        "title": form.words("title", ask) or else_called,
        "asked": form.words("asked"), "order_number": form.words("order_number"), "rush": form.ticked("rush"),
        "wanted_by": form.day("wanted_by"), "promised_on": form.day("promised_on"),
    }  # fmt: skip


def _customer(db: Session, form: Form, desk: Desk, by: int) -> int:
    chosen = form.key("customer")
    if chosen:
        return customers.one(db, chosen).id
    try:
        return customers.keep(db, name=form.words("name"), phone=form.words("phone"), now=desk.now, by=by)
    except TryAgain as refusal:
        form.take(refusal)
        return 0


def _slip(desk: Desk, form: Form) -> Response:
    refused = "name" in form.problems and form["name"].strip()
    known = customers.twin(desk.db, form["name"], form["phone"]) if refused else None
    return desk.page(
        "jobs/ask.html", sheet="Ask slip", here="ask", form=form, found=_found(desk, form), **_rows(desk, form),
        twin=customers.one(desk.db, known) if known else None, **_known(desk, form),
    )  # fmt: skip


def _found(desk: Desk, form: Form) -> list[customers.CustomerFacts]:
    """Who may be meant: the one chosen already, then those whose name holds what is typed."""
    typed, chosen = form["name"].strip(), form.key("customer")
    found = customers.listing(desk.db, like=typed, most=FEW) if typed else []
    if chosen and not typed:
        found = [customers.one(desk.db, chosen)]
    return found


def _rows(desk: Desk, form: Form) -> dict[str, Any]:
    count = Form(typed=form.typed).whole("count", 0, MOST_PIECES, empty=1)
    return {"count": max(0, min(count, MOST_PIECES)), "variants": variant_options(desk), "goes": GOES}


def _known(desk: Desk, form: Form) -> dict[str, Any]:
    chosen = form.key("customer")
    picked = {text for name, text in form.typed.items() if name.startswith("variant_")}
    kinds = [(kind, words) for kind, words in variant_options(desk) if str(kind) in picked]
    last = [(words, lasttime.of_variant(desk.db, kind, most=1)) for kind, words in kinds]
    return {
        "caller": customers.one(desk.db, chosen) if chosen else None,
        "earlier": asking.last_jobs(desk.db, chosen) if chosen else [],
        "last": last,
        "last_working": workings_scale.of_last(lasttime.offs([time for _, times in last for time in times])),
    }


@router.get("/jobs/{no}", name="jobs.page")
def page(desk: At, no: int) -> Response:
    """The job's sheet."""
    return job_page(desk, no)


@router.post("/jobs/{no}", name="jobs.change")
def change(desk: At, no: int, form: Sent) -> Response:
    """Write over the job's own facts."""

    def act(db: Session, by: int) -> str:
        told = _told(form)
        form.check()
        jobs.change(db, job_id=jobs.by_no(db, no).id, now=desk.now, by=by, **told)
        return desk.url("jobs.page", no=no)

    return desk.submit(form, act, lambda: job_page(desk, no, change=form))


@router.post("/jobs/{no}/pieces", name="jobs.add_piece")
def add_piece(desk: At, no: int, form: Sent) -> Response:
    """One more piece."""

    def act(db: Session, by: int) -> str:
        ask = piece_ask(desk, form)
        form.check()
        jobs.add_piece(db, job_id=jobs.by_no(db, no).id, ask=ask, now=desk.now, by=by)
        return desk.url("jobs.page", no=no)

    return desk.submit(form, act, lambda: job_page(desk, no, add_piece=form))


@router.post("/jobs/{no}/end", name="jobs.end")
def end(desk: At, no: int, form: Sent) -> Response:
    """The job ends before its work is done."""

    def act(db: Session, by: int) -> str:
        how, reason = form.one_of("how", ENDED, "Say how it ends: not taken up, or called off."), form.words("reason")
        form.check()
        mishaps.end(db, job_id=jobs.by_no(db, no).id, how=how, reason=reason, now=desk.now, by=by)
        return desk.url("jobs.page", no=no)

    return desk.submit(form, act, lambda: job_page(desk, no, end=form))


@router.post("/jobs/{no}/minutes", name="jobs.spend")
def spend(desk: At, no: int, form: Sent) -> Response:
    """Minutes spent on the job."""

    def act(db: Session, by: int) -> str:
        minutes, words = form.minutes("minutes"), form.words("minutes_words")
        form.check()
        jobs.spend(db, job_id=jobs.by_no(db, no).id, minutes=minutes, words=words, now=desk.now, by=by)
        return desk.url("jobs.page", no=no)

    return desk.submit(form, act, lambda: job_page(desk, no, spend=form))
