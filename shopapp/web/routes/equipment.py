"""The shop's machines and measuring instruments in its book."""

from fastapi import APIRouter
from starlette.responses import Response

from shopapp.office import equipment
from shopapp.office.database import Session
from shopapp.web.desk import At, Desk, Sent
from shopapp.web.forms import Form

router = APIRouter()
DIALS = [(code, words) for code, words in equipment.DIALS.items()]
SHOWS = [("in", "inches"), ("mm", "millimetres")]


@router.get("/book/machines", name="equipment.machines")
def machines(desk: At) -> Response:
    """The machines, and a form for one more."""
    return _machines(desk, Form())


@router.post("/book/machines", name="equipment.add_machine")
def add_machine(desk: At, form: Sent) -> Response:
    """Enter a machine."""

    def act(db: Session, by: int) -> str:
        told = {name: form.words(name) for name in ("chuck_limit", "speeds", "motor_kw", "screw")}
        equipment.add_machine(db, name=form.words("machine"), dial=form["dial"], now=desk.now, by=by, **told)
        return desk.url("equipment.machines")

    return desk.submit(form, act, lambda: _machines(desk, form), "The machine stands in the book.")


@router.get("/book/instruments", name="equipment.instruments")
def instruments(desk: At) -> Response:
    """The measuring instruments, and a form for one more."""
    return _instruments(desk, Form())


@router.post("/book/instruments", name="equipment.add_instrument")
def add_instrument(desk: At, form: Sent) -> Response:
    """Enter an instrument."""

    def act(db: Session, by: int) -> str:
        equipment.add_instrument(
            db, name=form.words("instrument"), unit=form["unit"], resolution=form.words("resolution"),
            good_to=form.words("good_to"), now=desk.now, by=by,
        )  # fmt: skip
        return desk.url("equipment.instruments")

    return desk.submit(form, act, lambda: _instruments(desk, form), "The instrument stands in the book.")


@router.post("/book/{what}/{row_id}/retire", name="equipment.retire")
def retire(desk: At, what: str, row_id: int, form: Sent) -> Response:
    """It goes out of use; what was done with it stays."""
    lists = {"machine": "equipment.machines", "instrument": "equipment.instruments", "scale": "shopbook.page"}

    def act(db: Session, by: int) -> str:
        equipment.retire(db, what=what, row_id=row_id, now=desk.now, by=by)
        return desk.url(lists[what])

    return desk.submit(form, act, lambda: _machines(desk, form), "It is out of use.")


def _machines(desk: Desk, form: Form) -> Response:
    return desk.page(
        "equipment/machines.html", sheet="Machines", here="book", form=form, machines=equipment.machines(desk.db),
        dials=DIALS, says=equipment.DIALS, fresh=lambda: Form().once,
    )  # fmt: skip


def _instruments(desk: Desk, form: Form) -> Response:
    return desk.page(
        "equipment/instruments.html", sheet="Instruments", here="book", form=form, shows=SHOWS,
        instruments=equipment.instruments(desk.db), fresh=lambda: Form().once,
    )  # fmt: skip
