"""The final check: sizes as measured beside the plan, what is ticked, the prediction run again; and the shelf label."""

from fastapi import APIRouter
from starlette.responses import Response

from shopapp.office import finish, history, jobs, letters, photos, sizes
from shopapp.office.database import Session
from shopapp.office.errors import TryAgain
from shopapp.office.finish import CheckLine
from shopapp.web.desk import At, Desk, Sent
from shopapp.web.forms import Form
from shopapp.web.jobsheet import VERDICTS
from shopapp.web.piececard import UNITS, card

router = APIRouter()
WITH_WHAT = "Choose what it was measured with."


@router.get("/jobs/{no}/{n:int}/finish", name="finish.page")
def page(desk: At, no: int, n: int) -> Response:
    """The final check of a piece as it stands."""
    return _page(desk, no, n, Form())


@router.post("/jobs/{no}/{n:int}/finish", name="finish.write")
def write(desk: At, no: int, n: int, form: Sent) -> Response:
    """Write down what was measured and looked at now; empty lines stay open."""

    def act(db: Session, by: int) -> str:
        piece_id = jobs.piece(db, no, n).id
        desk.stale(db, form, piece_id, by)
        done = _measured(desk, db, piece_id, form, by) + _ticked(desk, db, piece_id, form, by)
        for photo in form.photos("photo"):
            photos.keep(db, what="finished", photo=photo, piece_id=piece_id, now=desk.now, by=by)
            done += 1
        if not done:
            raise TryAgain("Nothing was measured or ticked. Type a size as the instrument shows it, or tick a line.")
        return desk.url("finish.page", no=no, n=n)

    return desk.submit(form, act, lambda: _page(desk, no, n, form))


@router.post("/jobs/{no}/{n:int}/finish/predict", name="finish.predict")
def predict(desk: At, no: int, n: int, form: Sent) -> Response:
    """The prediction run again with the sizes as measured; the first one stays beside it."""

    def act(db: Session, by: int) -> str:
        finish.rerun(db, piece_id=jobs.piece(db, no, n).id, now=desk.now, by=by)
        return desk.url("finish.page", no=no, n=n) + "#by-measured"

    return desk.submit(form, act, lambda: _page(desk, no, n, form))


@router.post("/jobs/{no}/{n:int}/label", name="finish.label")
def label(desk: At, no: int, n: int, form: Sent) -> Response:
    """The shelf label of one finished piece."""

    def act(db: Session, by: int) -> str:
        piece = jobs.piece(db, no, n)
        number = letters.labels(
            db, job_id=piece.job_id, piece_id=piece.id, address=desk.origin, now=desk.now, by=by
        )  # fmt: skip
        return desk.url("papers.pdf", kind="label", number=number)

    return desk.submit(form, act, lambda: card(desk, no, n, label=form))


def _lines(db: Session, piece_id: int, kind: str) -> list[tuple[int, CheckLine]]:
    """The lines of one kind with their place in the list, by which the form's fields are named."""
    return [(i, line) for i, line in enumerate(finish.check(db, piece_id).lines) if line.kind == kind]


def _measured(desk: Desk, db: Session, piece_id: int, form: Form, by: int) -> int:
    unit = form.one_of("unit", UNITS, "The unit is in or mm.")
    typed = [(i, line) for i, line in _lines(db, piece_id, "size") if form[f"size_{i}"].strip()]
    for i, line in typed:
        if form[f"what_{i}"] != line.words:
            form.problems[f"size_{i}"] = "The cuts were changed meanwhile. Look at the list again."
        elif not form[f"with_{i}"]:
            form.problems[f"with_{i}"] = WITH_WHAT
        else:
            try:
                sizes.measure(
                    db, piece_id=piece_id, name=line.words, typed=form[f"size_{i}"], unit=unit,
                    instrument=form[f"with_{i}"], sure=form.ticked(f"sure_{i}"), now=desk.now, by=by,
                )  # fmt: skip
            except TryAgain as refusal:
                form.problems |= {f"{_NAMES.get(name, name)}_{i}": said for name, said in refusal.problems.items()}
    form.check()
    return len(typed)


_NAMES = {"size": "size", "instrument": "with", "size_sure": "sure"}


def _ticked(desk: Desk, db: Session, piece_id: int, form: Form, by: int) -> int:
    found = [line.words for i, line in _lines(db, piece_id, "tick") if form[f"tick_{i}"] == line.words]
    for words in found:
        finish.tick(db, piece_id=piece_id, what=words, now=desk.now, by=by)
    return len(found)


def _page(desk: Desk, no: int, n: int, form: Form) -> Response:
    piece = jobs.piece(desk.db, no, n)
    check = finish.check(desk.db, piece.id)
    planned = next((line.planned for line in check.lines if line.kind == "size"), "")
    return desk.page(
        "finish/page.html", sheet="Final check", here="job", job_no=no, piece=piece, form=form, check=check,
        instruments=[(name, name) for name in sizes.instruments(desk.db)], verdicts=VERDICTS,
        unit="mm" if planned.endswith("mm") else "in" if planned else desk.shop.unit, fresh=lambda: Form().once,
        photos=[photo for photo in photos.of_piece(desk.db, piece.id) if photo.what == "finished"],
        newest=history.newest_of_piece(desk.db, piece.id),
    )  # fmt: skip
