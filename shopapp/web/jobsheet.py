"""The job's sheet: gathered once, shown by every form that stands on it."""

from dataclasses import dataclass
from typing import Any
from zoneinfo import ZoneInfo

from starlette.responses import Response

from shopapp.office import (
    chuck,
    customers,
    cutting,
    findings,
    history,
    invoices,
    jobs,
    knownprice,
    ledger,
    mishaps,
    papers,
    parts,
    photos,
    questions,
    quotes,
    standing,
    twins,
    weighing,
    workings_cuts,
    workings_scale,
)
from shopapp.office.jobs import JobFacts, PieceFacts
from shopapp.office.ledger import InvoiceFacts
from shopapp.office.sheets.working import WorkingSheet
from shopapp.office.tracks import AWAY, ENDED, WAITS_FOR, PieceAt, state_of
from shopapp.papers.section import section_svg
from shopapp.web import nextstep
from shopapp.web.desk import Desk
from shopapp.web.forms import Form

PAPERS = {
    "quote": "Quote", "ready": "Ready notice", "invoice": "Invoice", "credit": "Credit note", "stub": "Stub",
    "tags": "Tags", "ticket": "Job ticket", "label": "Shelf label", "spoiled": "Spoiled piece",
    "question": "Question", "letter": "Letter", "deposit": "Deposit receipt", "receipt": "Receipt",
    "hand_over": "Hand-over", "reminder": "Reminder", "statement": "Statement",
}  # fmt: skip
GOES = (("machine", "to the machine"), ("shelf", "to their shelf"))
VERDICTS = {"agrees": "agree", "look again": "look", "does not add up": "no", "scale too coarse": "coarse"}
"""How each verdict of the scale is marked."""
SMALL = 300
FORMS = ("change", "add_piece", "end", "spend", "stop", "answer", "again")


@dataclass(frozen=True)
class CutsOf:
    """The cuts for one variant in a job, and how they look."""

    variant_id: int
    name: str
    pieces: tuple[str, ...]
    plan: cutting.PlanFacts | None
    drawing: str
    workings: tuple[WorkingSheet, ...] = ()


def job_page(desk: Desk, no: int, **sent: Form) -> Response:
    """The job as it stands; a form that wants mending comes back with what was typed."""
    job = jobs.by_no(desk.db, no)
    pieces = jobs.pieces(desk.db, job.id)
    weighed = weighing.of_pieces(desk.db, pieces)
    plans, pairs = cutting.newest_plans(desk.db, {job.id}), twins.pairs(pieces, weighed)
    bills = ledger.of_job(desk.db, job.id)
    forms = {name: sent.get(name) or Form(typed=_typed(name, job)) for name in FORMS}
    lathe = nextstep.at_lathe(desk.db, [] if job.ended else pieces)
    now = _now(desk, job, pieces, weighed, lathe, plans, bills)
    step = nextstep.of_job(now)
    return desk.page(
        "jobs/page.html", sheet="Job", here="job", job_no=no, job=job, pieces=pieces, weighed=weighed,
        customer=customers.one(desk.db, job.customer_id), tracks=standing.of_job(desk.db, job.id, now=desk.now),
        twins=pairs, twins_working=workings_scale.of_twins((pair.numbers, pair.words) for pair in pairs),
        findings=findings.of_pieces(desk.db, pieces, weighed), cuts=_cuts(pieces, plans, job.id), bills=bills,
        quotes=quotes.of_job(desk.db, job.id), yes=quotes.yes_of_job(desk.db, job.id),
        papers=papers.of_job(desk.db, job.id), paper_words=PAPERS, stops=questions.stops(desk.db, job.id),
        minutes=jobs.spent_minutes(desk.db, job.id), lines=history.of_job(desk.db, job.id), ended=ENDED,
        waits_for=WAITS_FOR, goes=GOES, variants=variant_options(desk), forms=forms,
        problems=next((form.problems for form in sent.values() if form.problems), {}),
        question_photos=[one for one in photos.of_job(desk.db, job.id) if one.what == "question"],
        rings=_rings(desk, pieces), fresh=lambda: Form().once, verdicts=VERDICTS,
        step=step, also=nextstep.also(now, step), closed=now.ended or (bool(pieces) and not _to_work_on(pieces)),
        piece_step={one.id: nextstep.of_piece(one, weighed[one.id], now.planned, lathe.get(one.id)) for one in pieces},
        put_right=_put_right(desk, pieces),
    )  # fmt: skip


def variant_options(desk: Desk) -> list[tuple[int, str]]:
    """Every variant, as a list offers them."""
    return [(one.id, f"{one.part}, {one.name}") for one in parts.all_variants(desk.db)]


def piece_ask(desk: Desk, form: Form, mark: str = "") -> jobs.PieceAsk:
    """The row of a form that asks for one piece; its fields end with `mark`."""
    goes_to, variant_id = form[f"goes_to{mark}"] or "machine", form.key(f"variant{mark}")
    if goes_to not in dict(GOES):
        form.problems[f"goes_to{mark}"] = "Say where it goes: to the machine, or to their shelf."
    if variant_id is not None and variant_id not in dict(variant_options(desk)):
        form.problems[f"variant{mark}"] = "Choose the variant from the list, or leave it not known yet."
    return jobs.PieceAsk(variant_id, goes_to, form.words(f"machine{mark}"))


def _rings(desk: Desk, pieces: list[PieceFacts]) -> dict[int, str]:
    """Where each piece is, by its row; what has lain on the shelf too long is left behind."""
    zone, days = ZoneInfo(desk.shop.zone), desk.shop.left_behind_days
    return {
        piece.id: state_of(PieceAt(piece.custody, piece.moved_at.astimezone(zone).date(), piece.fate), desk.today, days)
        for piece in pieces
    }


def _typed(name: str, job: JobFacts) -> dict[str, str]:
    """What the form for the job's own facts begins with."""
    if name != "change":
        return {}
    return {
        "title": job.title, "asked": job.asked, "order_number": job.order_number, "rush": "yes" if job.rush else "",
        "wanted_by": str(job.wanted_by or ""), "promised_on": str(job.promised_on or ""),
    }  # fmt: skip


def _cuts(pieces: list[PieceFacts], plans: dict[tuple[int, int], cutting.PlanFacts], job_id: int) -> list[CutsOf]:
    alike: dict[int, list[PieceFacts]] = {}
    for piece in pieces:
        if piece.variant_id:
            alike.setdefault(piece.variant_id, []).append(piece)
    found = []
    for variant_id, group in alike.items():
        plan = plans.get((job_id, variant_id))
        drawing = section_svg(plan.section, width=SMALL) if plan else ""
        numbers = tuple(piece.number for piece in group)
        sheets = workings_cuts.of_removal(plan.removal) if plan else ()
        found.append(CutsOf(variant_id, group[0].name, numbers, plan, drawing, sheets))
    return found


def _planned(plans: dict[tuple[int, int], Any], job_id: int) -> frozenset[int]:
    return frozenset(variant_id for of_job, variant_id in plans if of_job == job_id)


def _to_work_on(pieces: list[PieceFacts]) -> list[PieceFacts]:
    return [piece for piece in pieces if piece.worked and piece.custody not in AWAY]


def _put_right(desk: Desk, pieces: list[PieceFacts]) -> dict[int, list[tuple[str, PieceFacts]]]:
    """The pieces of other jobs that have to do with these: the one that is put right, those that put it right."""
    found: dict[int, list[tuple[str, PieceFacts]]] = {}
    for later in mishaps.reworks(desk.db, [piece.id for piece in pieces]):
        found.setdefault(later.rework_of or 0, []).append(("put right as", later))
    for piece in pieces:
        if old := mishaps.puts_right(desk.db, piece):
            found.setdefault(piece.id, []).append(("puts right", old))
    return found


def _now(
    desk: Desk, job: JobFacts, pieces: list[PieceFacts], weighed: dict[int, weighing.Weighed],
    lathe: dict[int, nextstep.AtLathe], plans: dict[tuple[int, int], Any], bills: list[InvoiceFacts],
) -> nextstep.Now:  # fmt: skip
    """What is known of the job when its next step is looked for."""
    customer = customers.one(desk.db, job.customer_id)
    price = None if job.ended else knownprice.known(desk.db, job.id, day=desk.today)
    marks = {quote.mark(desk.today) for quote in quotes.of_job(desk.db, job.id)}
    return nextstep.Now(
        no=job.no, pieces=pieces, weighed=weighed, lathe=lathe, planned=_planned(plans, job.id), ended=bool(job.ended),
        stopped=any(stop.answered_at is None for stop in questions.stops(desk.db, job.id)),
        known_price=f"{price.words}, {desk.wall.cents(price.net_cents)}" if price else "",
        quoted="issued" in marks, agreed=quotes.yes_of_job(desk.db, job.id) is not None,
        announced=any(paper.kind == "ready" for paper in papers.of_job(desk.db, job.id)),
        to_bill=bool(invoices.to_bill(desk.db, job.id)), bill_when=customer.bill_when,
        pays_at_once=customer.terms_days == 0, unpaid=any(bill.due_cents > 0 for bill in bills),
        run=chuck.of_job(desk.db, job.id).next,
    )  # fmt: skip
