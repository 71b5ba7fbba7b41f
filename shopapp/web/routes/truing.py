"""The chuck sheet: readings round the piece, judged while they are typed, kept as found and as left."""

from fastapi import APIRouter
from starlette.responses import Response

from shopapp.office import chuck, jobs, truing, workings_floor
from shopapp.office.chuck import SettingFacts
from shopapp.office.database import Session
from shopapp.office.jobs import PieceFacts
from shopapp.office.truing import Tried, TruingTyped
from shopapp.web.desk import Asked, At, Desk, Sent
from shopapp.web.forms import Form

router = APIRouter()


@router.get("/jobs/{no}/{n:int}/true", name="truing.page")
def page(desk: At, no: int, n: int, form: Asked) -> Response:
    """The chuck sheet of one piece, in one setting or beside any."""
    return _sheet(desk, no, n, form)


@router.get("/jobs/{no}/{n:int}/true/judge", name="truing.judge")
def judge(desk: At, no: int, n: int, form: Asked) -> Response:
    """What the readings say as far as they are typed."""
    piece, setting = jobs.piece(desk.db, no, n), _setting(desk.db, no, form)
    stands = truing.standing(desk.db, piece.id, setting.id if setting else None)
    return desk.fragment("truing/page.html", "judge", tried=_tried(desk, piece, form), stands=stands)


@router.get("/jobs/{no}/{n:int}/true/worked", name="truing.worked")
def worked(desk: At, no: int, n: int, form: Asked) -> Response:
    """The working of what the readings say."""
    piece = jobs.piece(desk.db, no, n)
    tried = _tried(desk, piece, form)
    sheets = workings_floor.of_truing(form["surface"], _typed(desk, form), tried.judged)
    return desk.fragment("truing/page.html", "worked", piece=piece, sheets=sheets)


@router.post("/jobs/{no}/{n:int}/true", name="truing.keep")
def keep(desk: At, no: int, n: int, form: Sent) -> Response:
    """Keep the readings, as found or as left, and go on to what is read next."""

    def act(db: Session, by: int) -> str:
        surface = form.one_of("surface", truing.SURFACES, "Say what was read: the outside, a face, or inside a bore.")
        stage = form.one_of("stage", truing.STAGES, "Press one of the two buttons: as found, or as left.")
        form.check()
        piece, setting = jobs.piece(db, no, n), _setting(db, no, form)
        truing.keep(
            db, piece_id=piece.id, surface=surface, stage=stage, typed=_typed(desk, form), datum=form.ticked("datum"),
            setting_id=setting.id if setting else None, now=desk.now, by=by,
        )  # fmt: skip
        here = desk.url("truing.page", no=no, n=n)
        return f"{here}?setting={setting.n}" if setting else here

    return desk.submit(form, act, lambda: _sheet(desk, no, n, form))


def _setting(db: Session, no: int, form: Form) -> SettingFacts | None:
    number = form.key("setting")
    return chuck.setting(db, jobs.by_no(db, no).id, number).setting if number else None


def _places(form: Form) -> int:
    asked = form.key("places") or 0
    return asked if asked in truing.PLACES else truing.PLACES[0]


def _typed(desk: Desk, form: Form) -> TruingTyped:
    readings = tuple(form.words(f"r{i}") for i in range(_places(form)))
    reads = form["reads"] or ("mm" if desk.shop.unit == "mm" else "tenth")
    unit = "mm" if reads == "mm" else "in"
    return TruingTyped(reads, readings, form.words("diameter"), unit, form.words("limit"))


def _tried(desk: Desk, piece: PieceFacts, form: Form) -> Tried:
    setting = _setting(desk.db, piece.job_no, form)
    pitch = truing.pitch_of(desk.db, setting.id) if setting else None
    return truing.judge(form["surface"], _typed(desk, form), pitch=pitch, rim=truing.rim(desk.db, piece.id))


def _sheet(desk: Desk, no: int, n: int, form: Form) -> Response:
    piece = jobs.piece(desk.db, no, n)
    setting = _setting(desk.db, no, form)
    stands = truing.standing(desk.db, piece.id, setting.id if setting else None)
    following = stands.next_surface if stands.next_surface in truing.SURFACES else "outside"
    form.typed.setdefault("surface", following)
    form.typed.setdefault("reads", _typed(desk, form).reads)
    count, tried = _places(form), _tried(desk, piece, form)
    return desk.page(
        "truing/page.html", sheet="Chuck", here="job", job_no=no, piece=piece, setting=setting, stands=stands,
        form=form, tried=tried, surfaces=truing.SURFACES, reads=truing.READS, places=count,
        angles=[360 * i // count for i in range(count)], stages=truing.STAGES, problems=form.problems,
        other=next(places for places in truing.PLACES if places != count),
        sheets=workings_floor.of_truing(form["surface"], _typed(desk, form), tried.judged),
    )  # fmt: skip
