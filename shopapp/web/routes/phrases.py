"""The owner's own words for papers, dated; until they are written, the place to write them."""

from fastapi import APIRouter
from fastapi.responses import Response

from shopapp.office import history, phrases
from shopapp.office.database import Session
from shopapp.web.desk import At, Desk, Sent
from shopapp.web.forms import Form

router = APIRouter()
SUBJECTS = {
    "quote": ("Under a quote", "on every quote"),
    "terms": ("How you are paid", "on quotes, bills and statements"),
    "workmanship": ("What you put right", "on quotes, bills and hand-over receipts"),
    "ready": ("On a ready card", "on the card that says it is finished"),
    "storage": ("Storage", "on the intake stub, ready cards and letters"),
    "hand_over": ("What is signed for", "on the receipt when pieces leave"),
    "invoice": ("Under a bill", "on every bill"),
    "reminder": ("Asking for what is past due", "on reminders"),
}
"""How each subject is called here, and where its words stand."""


@router.get("/book/phrases", name="phrases.page")
def page(desk: At) -> Response:
    """What papers say on each subject today, what they said before, and the form for other words."""
    return _page(desk, Form(typed={"valid_from": str(desk.today)}))


@router.post("/book/phrases", name="phrases.keep")
def keep(desk: At, form: Sent) -> Response:
    """Other words on a subject, from a day on."""

    def act(db: Session, by: int) -> str:
        subject = form.one_of("subject", SUBJECTS, "On which subject are these words? Choose it again.")
        begins = form.day("valid_from", "From which day on do papers say this?")
        words = form.words("words")
        form.check()
        assert begins
        phrases.keep(db, subject=subject, words=words, valid_from=begins, now=desk.now, by=by)
        return f"{desk.url('phrases.page')}#{subject}"

    return desk.submit(form, act, lambda: _page(desk, form), notice="The words are kept; older papers keep theirs.")


def _page(desk: Desk, form: Form) -> Response:
    rows = phrases.every(desk.db, desk.today)
    told = [
        (subject, *words, phrases.on(desk.db, subject, desk.today), [row for row in rows if row.subject == subject])
        for subject, words in SUBJECTS.items()
    ]
    return desk.page(
        "phrases/page.html", sheet="Words on papers", here="book", form=form, told=told, fresh=Form().once,
        is_placeholder=phrases.is_placeholder, lines=history.of_act(desk.db, "phrase"),
    )  # fmt: skip
