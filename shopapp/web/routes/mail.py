"""The outbox: letters that wait, that were sent, that are stuck with the reason; try again, call back, write one."""

from typing import Any
from urllib.parse import quote

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import mail as outbox
from shopapp.office import papers
from shopapp.office.database import Session
from shopapp.office.errors import NotHere
from shopapp.web import posting
from shopapp.web.desk import Asked, At, Desk, Sent
from shopapp.web.forms import Form

router = APIRouter()


@router.get("/mail", name="mail.page")
def page(desk: At) -> Response:
    """The outbox, what wants somebody first."""
    return _page(desk)


@router.post("/mail/{letter_id}/again", name="mail.again")
def again(desk: At, letter_id: int, form: Sent) -> Response:
    """A stuck letter is tried anew, to another address where one is typed."""

    def act(db: Session, by: int) -> str:
        to = form.words("to")
        form.check()
        outbox.again(db, letter_id=letter_id, to=to, now=desk.now, by=by)
        return desk.url("mail.page")

    return desk.submit(form, act, lambda: _page(desk, letter_id, form), notice="It is on its way again.")


@router.post("/mail/{letter_id}/call-back", name="mail.call_back")
def call_back(desk: At, letter_id: int, form: Sent) -> Response:
    """A letter that was not sent yet stays here."""

    def act(db: Session, by: int) -> str:
        outbox.call_back(db, letter_id=letter_id, now=desk.now, by=by)
        return desk.url("mail.page")

    return desk.submit(form, act, lambda: _page(desk, letter_id, form), notice="That letter stays here.")


@router.get("/mail/new", name="mail.write")
def write(desk: At, asked: Asked) -> Response:
    """The letter around an issued paper, ready to be looked at; `kind` and `number` in the address name the paper."""
    sheet, _ = _paper(desk.db, asked)
    kind, number = asked["kind"], asked["number"]
    typed = {"to": posting.addressee(desk, sheet), "subject": posting.subject(desk, kind, number)}
    return _write(desk, Form(typed={**typed, "body": posting.body(desk, sheet), "kind": kind, "number": number}))


@router.post("/mail/new", name="mail.post")
def post(desk: At, form: Sent) -> Response:
    """The letter goes into the outbox."""
    _paper(desk.db, form)

    def act(db: Session, by: int) -> str:
        to, about, words = form.words("to"), form.words("subject"), form.words("body")
        form.check()
        posting.put(db, desk, kind=form["kind"], number=form["number"], to=to, about=about, words=words, by=by)
        return desk.url("mail.page")

    return desk.submit(form, act, lambda: _write(desk, form), notice="The letter is in the outbox.")


def _paper(db: Session, form: Form) -> tuple[Any, str]:
    if form["kind"] not in posting.NAMES:
        raise NotHere("Papers of that kind are not sent by mail.")
    return papers.sheet(db, form["kind"], form["number"])


def _write(desk: Desk, form: Form) -> Response:
    pdf = desk.url("papers.pdf", kind=form["kind"], number=quote(form["number"]))
    return desk.page(
        "mail/write.html", sheet="Letter", here="sheet", form=form, problems=form.problems,
        mail_set=posting.is_set(desk), paper=f"{posting.NAMES[form['kind']]} {form['number']}", pdf=pdf,
    )  # fmt: skip


def _page(desk: Desk, letter_id: int = 0, form: Form | None = None) -> Response:
    letters = outbox.newest(desk.db)
    return desk.page(
        "mail/page.html", sheet="Mail", here="sheet", letters=letters, names=posting.NAMES,
        counts={state: sum(one.state == state for one in letters) for state in outbox.STATES},
        mail_set=posting.is_set(desk), refused=letter_id, refused_form=form or Form(), fresh=lambda: Form().once,
        problems=form.problems if form else {},
    )  # fmt: skip
