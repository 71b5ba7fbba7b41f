"""The weigh strip for alike pieces at once: one number for all of them, and what it says of their average."""

from zoneinfo import ZoneInfo

from fastapi import APIRouter
from starlette.responses import Response

from shopapp.office import history, jobs, mishaps, shopbook, together
from shopapp.office.database import Session
from shopapp.office.jobs import PieceFacts
from shopapp.office.together import Jointly
from shopapp.office.tracks import HERE
from shopapp.office.weighing import Judged
from shopapp.web.atscale import offered, remember
from shopapp.web.desk import Asked, At, Desk, Sent
from shopapp.web.forms import Form
from shopapp.web.jobsheet import VERDICTS

router = APIRouter()
HEADS = {"before": "weigh in", "after": "weigh out"}


@router.get("/jobs/{no}/{n:int}/weigh-together", name="together.page")
def page(desk: At, no: int, n: int, form: Asked) -> Response:
    """The strip for a piece and those like it."""
    return _strip(desk, no, n, form)


@router.get("/jobs/{no}/{n:int}/weigh-together/judge", name="together.judge")
def judge(desk: At, no: int, n: int, form: Asked) -> Response:
    """What the typed weight says, if it were written down."""
    group, _ = _group(desk, jobs.piece(desk.db, no, n))
    return desk.fragment("together/page.html", "judge", verdicts=VERDICTS, judged=_judged(desk, group, form))


@router.post("/jobs/{no}/{n:int}/weigh-together", name="together.write")
def write(desk: At, no: int, n: int, form: Sent) -> Response:
    """Write the reading down for all of them."""

    def act(db: Session, by: int) -> str:
        scale_id = form.key("scale", "Choose the scale that the pieces lie on.")
        typed, note = form.words("reading", "Type what the scale shows."), form.words("note")
        read_at = form.moment("at", ZoneInfo(desk.shop.zone)) or desk.now
        form.check()
        note = mishaps.late_note(db, told=read_at, now=desk.now, note=note)
        piece = jobs.piece(db, no, n)
        for one in _seen(form, piece):
            desk.stale(db, form, one, by)
        together.weigh(
            db, piece_ids=_seen(form, piece), scale_id=scale_id or 0, phase=form["phase"], typed=typed,
            zero_seen=form.ticked("zero_seen"), note=note, now=read_at, by=by,
        )  # fmt: skip
        return desk.url("weighing.page", no=no, n=n)

    return remember(desk.submit(form, act, lambda: _strip(desk, no, n, form)), form["scale"])


@router.post("/jobs/{no}/{n:int}/weigh-together/strike", name="together.strike")
def strike(desk: At, no: int, n: int, form: Sent) -> Response:
    """Strike a wrong joint reading through."""

    def act(db: Session, by: int) -> str:
        piece = jobs.piece(db, no, n)
        own = {row.id for row in together.of_pieces(db, [piece])[piece.id].standing}
        joint_id, reason = form.key("struck"), form.words("reason")
        if joint_id not in own:
            form.problems["struck"] = "Choose the reading that is wrong."
        form.check()
        together.strike(db, joint_id=joint_id or 0, reason=reason, now=desk.now, by=by)
        return desk.url("together.page", no=no, n=n)

    return desk.submit(form, act, lambda: _strip(desk, no, n, Form(), strike=form))


def _seen(form: Form, piece: PieceFacts) -> list[int]:
    """The pieces that the page named, so that what came in meanwhile is not on the scale; this one among them."""
    told = [int(text) for text in form.all("pieces") if text.isdecimal() and len(text) < 12]
    return [piece.id, *(one for one in told if one != piece.id)]


def _group(desk: Desk, piece: PieceFacts) -> tuple[tuple[PieceFacts, ...], Jointly]:
    """The pieces on the scale: those that were weighed in at once, where they were, else those that are alike."""
    every = jobs.pieces(desk.db, piece.job_id)
    jointly = together.of_pieces(desk.db, [piece])[piece.id]
    group = together.alike(desk.db, piece, every)
    if jointly.before:
        lain = {member.id for member in jointly.before.members}
        group = tuple(one for one in every if one.id in lain)
    return group, jointly


def _judged(desk: Desk, group: tuple[PieceFacts, ...], form: Form) -> Judged:
    return together.judge(
        desk.db, pieces=group, scale_id=form.key("scale"), phase=form["phase"], typed=form["reading"]
    )  # fmt: skip


def _strip(desk: Desk, no: int, n: int, form: Form, strike: Form | None = None) -> Response:
    piece = jobs.piece(desk.db, no, n)
    group, jointly = _group(desk, piece)
    scales = shopbook.scales(desk.db)
    here = tuple(one for one in group if one.custody in HERE and one.worked)
    form.typed.setdefault("phase", together.wanted(jointly, here))
    form.typed.setdefault("scale", offered(desk, jointly.before, scales))
    strike = strike or Form()
    return desk.page(
        "together/page.html", sheet="Scale", here="job", job_no=no, piece=piece, form=form, strike=strike,
        scales=scales, jointly=jointly, group=group, count=len(group), all_of=together.all_of(len(group)),
        names=together.numbers(group) or piece.number,
        head=HEADS.get(form["phase"], "weighed"), verdicts=VERDICTS, problems=form.problems or strike.problems,
        newest=max((history.newest_of_piece(desk.db, one.id) for one in group), default=0),
        judged=_judged(desk, group, form),
    )  # fmt: skip
